//! Circuits that can be done by hand.

use super::*;
use crate::electric::Complex;

const MAINS: Frequency = Frequency::SIXTY_HERTZ;

fn volts(v: f64) -> Element {
    Element::ideal_alternating(Complex::real(v))
}

fn ohms(ohm: f64) -> Element {
    Element::Resistance { ohm }
}

fn direct(v: f64) -> Element {
    Element::VoltageSource {
        volt: Emf::Direct(v),
        series_ohm: Complex::ZERO,
    }
}

/// Elements given as (name, a, b, element), nodes by name, "0" the reference.
fn circuit(list: &[(&str, &str, &str, Element)]) -> Result<Network, Vec<NetworkProblem>> {
    let mut builder = NetworkBuilder::new("0");
    for &(name, a, b, element) in list {
        let (a, b) = (builder.node(a), builder.node(b));
        builder.place(name, a, b, element);
    }
    builder.build()
}

fn assert_close(ours: Complex, hand: Complex, relative: f64) {
    assert!(
        (ours - hand).magnitude() <= relative * hand.magnitude(),
        "{ours:?} against {hand:?}"
    );
}

#[test]
fn a_divider_divides_and_its_source_feeds_it() {
    let net = circuit(&[
        ("V", "s", "0", volts(120.0)),
        ("R1", "s", "a", ohms(3.0)),
        ("R2", "a", "0", ohms(7.0)),
    ])
    .unwrap();
    let s = net.solve(MAINS).unwrap();
    assert_close(
        s.voltage(net.node("a").unwrap()),
        Complex::real(84.0),
        1e-15,
    );
    let source = net.element("V").unwrap();
    assert_close(s.current(source), Complex::real(-12.0), 1e-15);
    assert_close(s.power(source), Complex::real(-1_440.0), 1e-15);
}

#[test]
fn a_millohm_on_a_teraohm_keeps_its_digits() {
    // An insulation tester on a cable that floats: 500 V over 100 kΩ inside, a joint of 1 mΩ, 1 TΩ.
    let net = circuit(&[
        ("V", "s", "0", direct(500.0)),
        ("R", "s", "a", ohms(1e5)),
        ("joint", "a", "b", ohms(1e-3)),
        ("wire", "b", "c", ohms(2e-3)),
        ("insulation", "c", "0", ohms(1e12)),
    ])
    .unwrap();
    let s = net.solve(Frequency::Direct).unwrap();
    let leak = s.current(net.element("insulation").unwrap());
    assert_close(leak, Complex::real(500.0 / (1e12 + 1e5 + 3e-3)), 1e-14);
}

#[test]
fn a_floating_wire_takes_half_the_voltage_of_its_neighbor() {
    let net = circuit(&[
        ("V", "h", "0", volts(120.0)),
        ("C1", "h", "f", Element::Capacitance { farad: 3e-9 }),
        ("C2", "f", "0", Element::Capacitance { farad: 3e-9 }),
    ])
    .unwrap();
    let port = net
        .thevenin(net.node("f").unwrap(), net.reference(), MAINS)
        .unwrap();
    assert_close(port.volt, Complex::real(60.0), 1e-14);
    let hand = Complex::new(0.0, -1.0 / (core::f64::consts::TAU * 60.0 * 6e-9));
    assert_close(port.ohm, hand, 1e-14);
}

#[test]
fn a_coil_is_a_link_and_a_capacitor_open_at_direct_current() {
    let net = circuit(&[
        ("V", "s", "0", direct(12.0)),
        (
            "L",
            "s",
            "a",
            Element::SeriesRl {
                ohm: 0.0,
                henry: 0.1,
            },
        ),
        ("R", "a", "0", ohms(6.0)),
        ("C", "a", "0", Element::Capacitance { farad: 1e-5 }),
    ])
    .unwrap();
    let s = net.solve(Frequency::Direct).unwrap();
    for (name, amps) in [("V", -2.0), ("L", 2.0), ("R", 2.0), ("C", 0.0)] {
        let current = s.current(net.element(name).unwrap());
        assert!((current - Complex::real(amps)).size() < 1e-15, "{name}");
    }
}

#[test]
fn undamped_resonance_is_solved_where_it_has_an_answer_and_named_where_not() {
    let omega = core::f64::consts::TAU * 60.0;
    let farad = 1.0 / (omega * 50.0);
    let coil = Element::SeriesRl {
        ohm: 0.0,
        henry: 50.0 / omega,
    };
    let capacitor = Element::Capacitance { farad };
    // Coil and capacitor in series over a load: the node between has Σy = 0.
    let solvable = circuit(&[
        ("V", "s", "0", volts(100.0)),
        ("L", "s", "m", coil),
        ("C", "m", "a", capacitor),
        ("R", "a", "0", ohms(10.0)),
    ])
    .unwrap();
    let s = solvable.solve(MAINS).unwrap();
    assert_close(
        s.voltage(solvable.node("a").unwrap()),
        Complex::real(100.0),
        1e-12,
    );
    let endless = circuit(&[
        (
            "J",
            "0",
            "a",
            Element::CurrentSource {
                ampere: Emf::Alternating(Complex::ONE),
            },
        ),
        ("L", "a", "0", coil),
        ("C", "a", "0", capacitor),
    ])
    .unwrap();
    assert_eq!(
        endless.solve(MAINS).unwrap_err(),
        [NetworkProblem::Singular {
            node: "a".to_owned()
        }]
    );
}

#[test]
fn a_transformer_of_two_windings_carries_its_load_over() {
    // Ideal but for its magnetizing: X₁ = 400, X₂ = 100, coupling 0.999, load 10 Ω.
    let (x1, x2) = (400.0, 100.0);
    let m = 0.999 * f64::sqrt(x1 * x2);
    let j = |x: f64| Complex::new(0.0, x);
    let mut builder = NetworkBuilder::new("0");
    let (s, t) = (builder.node("s"), builder.node("t"));
    let earth = builder.reference();
    builder.place("V", s, earth, volts(240.0));
    let [first, second] = builder.winding_pair(
        ["primary", "secondary"],
        (s, earth),
        (t, earth),
        [[j(x1), j(m)], [j(m), j(x2)]],
        [1.0, 0.5],
    );
    builder.place("load", t, earth, ohms(10.0));
    let net = builder.build().unwrap();
    let solution = net.solve(MAINS).unwrap();
    // By hand: I₂ = −V₂/10; V₂ = jm·I₁ + jx₂·I₂; V₁ = jx₁·I₁ + jm·I₂.
    let z1 = j(x1) + Complex::real(m * m) / (Complex::real(10.0) + j(x2));
    let i1 = Complex::real(240.0) / z1;
    let i2 = -(j(m) * i1) / (Complex::real(10.0) + j(x2));
    assert_close(solution.current(first), i1, 1e-12);
    assert_close(solution.current(second), i2, 1e-12);
    let dc = net.solve(Frequency::Direct).unwrap();
    assert!(dc.voltage(t).is_zero());
}

#[test]
fn loops_of_ideal_sources_are_named_around_the_loop() {
    let net = circuit(&[
        ("V1", "a", "0", volts(120.0)),
        ("spare", "d", "a", ohms(0.0)),
        ("link", "a", "b", ohms(0.0)),
        ("V2", "b", "0", volts(120.0)),
        ("R", "d", "0", ohms(1.0)),
    ])
    .unwrap();
    let problems = net.solve(MAINS).unwrap_err();
    let named = ["V1", "link", "V2"].map(str::to_owned).to_vec();
    assert_eq!(problems, [NetworkProblem::IdealLoop { elements: named }]);
}

#[test]
fn floating_islands_are_named_and_leakage_ties_them() {
    let list = [
        ("V", "s", "0", volts(120.0)),
        ("R", "s", "0", ohms(1.0)),
        ("R1", "a", "b", ohms(5.0)),
        ("R2", "c", "d", ohms(0.0)),
    ];
    let net = circuit(&list).unwrap();
    let island = |nodes: [&str; 2]| NetworkProblem::Floating {
        reference: "0".to_owned(),
        nodes: nodes.map(str::to_owned).to_vec(),
    };
    assert_eq!(
        net.solve(MAINS).unwrap_err(),
        [island(["a", "b"]), island(["c", "d"])]
    );
    let mut builder = net.to_builder();
    builder.leak_to_reference(1e12);
    let tied = builder.build().unwrap().solve(MAINS).unwrap();
    assert!(tied.voltage(net.node("a").unwrap()).is_zero());
}

#[test]
fn an_ohmmeter_reads_a_circuit_that_floats_on_its_leakage_alone() {
    let test_current = Element::CurrentSource {
        ampere: Emf::Direct(1e-3),
    };
    let mut builder = circuit(&[
        ("winding", "m1", "m2", ohms(4.2)),
        ("meter", "m2", "m1", test_current),
    ])
    .unwrap()
    .to_builder();
    builder.leak_to_reference(1e12);
    let net = builder.build().unwrap();
    let s = net.solve(Frequency::Direct).unwrap();
    let read = s.between(net.node("m1").unwrap(), net.node("m2").unwrap());
    assert_close(read * 1e3, Complex::real(4.2), 1e-11);
}

#[test]
fn everything_wrong_with_a_circuit_is_listed_at_once() {
    let problems = circuit(&[
        ("R1", "a", "0", ohms(-1.0)),
        ("R1", "a", "b", ohms(f64::NAN)),
        ("C", "b", "b", Element::Capacitance { farad: 0.0 }),
    ])
    .unwrap_err();
    let text: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        text,
        [
            "element \"R1\": a resistance is 0 ohms or more",
            "two elements are named \"R1\"",
            "element \"R1\": a resistance is 0 ohms or more",
            "both ends of element \"C\" are on node \"b\"",
            "element \"C\": a capacitance is above 0",
        ]
    );
}

#[test]
fn unknown_names_come_back_with_the_nearest_one() {
    let net = circuit(&[("breaker", "line", "0", ohms(1.0))]).unwrap();
    assert_eq!(
        net.node("lime").unwrap_err().to_string(),
        "there is no node \"lime\"; did you mean \"line\"?"
    );
    assert!(net.element("braker").is_err());
}

#[test]
fn an_open_switch_keeps_its_place_and_a_solver_counts() {
    let mut net = circuit(&[
        ("V", "s", "0", volts(230.0)),
        ("switch", "s", "a", ohms(0.01)),
        ("R", "a", "0", ohms(23.0)),
    ])
    .unwrap();
    let (switch, load) = (net.element("switch").unwrap(), net.element("R").unwrap());
    let mut solver = Solver::new();
    let closed = solver.solve(&net, MAINS).unwrap().current(load);
    net.set(switch, Element::Open).unwrap();
    let open = solver.solve(&net, MAINS).unwrap().current(load);
    assert!(closed.magnitude() > 9.9 && open.is_zero());
    assert_eq!(solver.n_solves(), 2);
    assert!(net.set(switch, ohms(-1.0)).is_err());
    assert!(net.set(switch, Element::OtherOfPair).is_err());
}
