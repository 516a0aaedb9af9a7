//! Laws that every circuit obeys, on random circuits.
//!
//! A circuit grows from the reference: each node is tied to an earlier one, so that none
//! floats, and more elements close loops.  Values spread over six to twelve decades, as
//! joints, windings and insulation do.
//!
//! Where everything cancels (no load, a dead-end wire) what is left is the rounding of
//! the terms: a wire of 1 mΩ between two nodes at 240 V turns one unit in the last place
//! into 30 pA.  That floor is worked out for each circuit and stands beside the tolerance.

use proptest::prelude::*;
use sim_core::electric::{
    Complex, Element, ElementId, Emf, Frequency, Network, NetworkBuilder, NodeId, Solution, Solver,
};

const MAINS: Frequency = Frequency::SIXTY_HERTZ;
/// Allowed error, of the largest of the terms that should cancel.
const LAW: f64 = 1e-9;

/// Between 10^low and 10^high, evenly by decade.
fn decades(low: f64, high: f64) -> impl Strategy<Value = f64> {
    (low..high).prop_map(|decade| sim_core::math::pow(10.0, decade))
}

fn passive() -> impl Strategy<Value = Element> {
    prop_oneof![
        decades(-3.0, 7.0).prop_map(|ohm| Element::Resistance { ohm }),
        (decades(-2.0, 2.0), decades(-5.0, 0.0))
            .prop_map(|(ohm, henry)| Element::SeriesRl { ohm, henry }),
        decades(-10.0, -4.0).prop_map(|farad| Element::Capacitance { farad }),
        (decades(-1.0, 3.0), -80.0..80.0).prop_map(|(ohm, degrees)| Element::Impedance {
            mains_ohm: Complex::phasor(ohm, degrees),
            direct_ohm: ohm,
        }),
    ]
}

fn phasor(decade: f64) -> impl Strategy<Value = Complex> {
    (decades(decade, decade + 3.0), -180.0..180.0).prop_map(|(size, at)| Complex::phasor(size, at))
}

fn voltage_source() -> impl Strategy<Value = Element> {
    (phasor(0.0), prop_oneof![Just(0.0), decades(-3.0, 1.0)]).prop_map(|(volt, ohm)| {
        Element::VoltageSource {
            volt: Emf::Alternating(volt),
            series_ohm: Complex::real(ohm),
        }
    })
}

/// May close a loop.
fn any_in_loop() -> impl Strategy<Value = Element> {
    prop_oneof![
        4 => passive(),
        1 => phasor(-3.0).prop_map(|ampere| Element::CurrentSource {
            ampere: Emf::Alternating(ampere),
        }),
    ]
}

/// May tie a node to an earlier one.
fn any_in_tree() -> impl Strategy<Value = Element> {
    prop_oneof![
        3 => passive(),
        1 => voltage_source(),
        1 => Just(Element::Resistance { ohm: 0.0 }),
    ]
}

/// Winding pair with mutual coupling below one: passive and reciprocal.
fn windings() -> impl Strategy<Value = [[Complex; 2]; 2]> {
    (decades(0.0, 3.0), decades(0.0, 3.0), -0.95..0.95).prop_map(|(x1, x2, k): (f64, f64, f64)| {
        let mutual = Complex::new(0.0, k * (x1 * x2).sqrt());
        let (own1, own2) = (Complex::new(0.1 * x1, x1), Complex::new(0.1 * x2, x2));
        [[own1, mutual], [mutual, own2]]
    })
}

#[derive(Debug, Clone)]
struct Plan {
    tree: Vec<(usize, Element)>,
    loops: Vec<(usize, usize, Element)>,
    pair: Option<([usize; 4], [[Complex; 2]; 2])>,
}

impl Plan {
    fn n_nodes(&self) -> usize {
        self.tree.len() + 1
    }

    fn network(&self) -> Network {
        let mut builder = NetworkBuilder::new("earth");
        let n = self.n_nodes();
        let mut nodes = vec![builder.reference()];
        nodes.extend((1..n).map(|i| builder.node(&format!("node {i}"))));
        for (i, &(to, element)) in self.tree.iter().enumerate() {
            let name = format!("tree {i}");
            builder.place(&name, nodes[i + 1], nodes[to % (i + 1)], element);
        }
        for (i, &(a, b, element)) in self.loops.iter().enumerate() {
            let (a, b) = apart(a, b, n);
            builder.place(&format!("loop {i}"), nodes[a], nodes[b], element);
        }
        if let Some((ends, ohm)) = self.pair {
            let first = apart(ends[0], ends[1], n);
            let second = apart(ends[2], ends[3], n);
            builder.winding_pair(
                ["main", "auxiliary"],
                (nodes[first.0], nodes[first.1]),
                (nodes[second.0], nodes[second.1]),
                ohm,
                [1.0, 1.0],
            );
        }
        builder.build().expect("plans are valid circuits")
    }
}

/// Admittance of an element at mains frequency [S]; 0 for what holds no admittance.
fn siemens(element: &Element) -> f64 {
    let omega = core::f64::consts::TAU * 60.0;
    let of = |ohm: Complex| {
        if ohm.is_zero() {
            0.0
        } else {
            1.0 / ohm.magnitude()
        }
    };
    match *element {
        Element::Resistance { ohm } => of(Complex::real(ohm)),
        Element::SeriesRl { ohm, henry } => of(Complex::new(ohm, omega * henry)),
        Element::Capacitance { farad } => omega * farad,
        Element::Impedance { mains_ohm, .. } => of(mains_ohm),
        Element::VoltageSource { series_ohm, .. } => of(series_ohm),
        Element::WindingOfPair { .. }
        | Element::OtherOfPair
        | Element::CurrentSource { .. }
        | Element::Open => 0.0,
    }
}

/// Highest voltage of any node or source [V].
fn highest_v(plan: &Plan, network: &Network, solution: &Solution) -> f64 {
    let nodes = network.nodes().map(|at| solution.voltage(at).magnitude());
    let sources = plan.tree.iter().map(|(_, element)| match element {
        Element::VoltageSource {
            volt: Emf::Alternating(volt),
            ..
        } => volt.magnitude(),
        _ => 0.0,
    });
    nodes.chain(sources).fold(0.0, f64::max)
}

/// What one unit in the last place of a voltage is as a current, summed over the circuit [A].
fn rounding_a(plan: &Plan, network: &Network, solution: &Solution) -> f64 {
    let tree = plan.tree.iter().map(|(_, element)| siemens(element));
    let loops = plan.loops.iter().map(|(.., element)| siemens(element));
    // A winding pair here has at least 1 Ω and at most 95 % coupling.
    let pair = if plan.pair.is_some() { 10.0 } else { 0.0 };
    let sum: f64 = tree.chain(loops).sum();
    4.0 * f64::EPSILON * (sum + pair) * highest_v(plan, network, solution)
}

/// Two different nodes of `n` from two numbers.
fn apart(a: usize, b: usize, n: usize) -> (usize, usize) {
    let a = a % n;
    (a, (a + 1 + b % (n - 1)) % n)
}

fn plan(
    tree: impl Strategy<Value = Element>,
    in_loop: impl Strategy<Value = Element>,
) -> impl Strategy<Value = Plan> {
    let at = || 0..1_000_usize;
    let pair = ([at(), at(), at(), at()], windings());
    (
        prop::collection::vec((at(), tree), 1..14),
        prop::collection::vec((at(), at(), in_loop), 0..12),
        prop::option::of(pair),
    )
        .prop_map(|(tree, loops, pair)| Plan { tree, loops, pair })
}

fn any_plan() -> impl Strategy<Value = Plan> {
    plan(any_in_tree(), any_in_loop())
}

fn passive_plan() -> impl Strategy<Value = Plan> {
    plan(passive(), passive())
}

fn node(network: &Network, at: usize) -> NodeId {
    network
        .nodes()
        .nth(at % network.n_nodes())
        .expect("below the number of nodes")
}

/// Sum of the currents that leave each node, and the largest current there is.
fn leaving(network: &Network, solution: &Solution) -> (Vec<Complex>, f64) {
    let mut sums = vec![Complex::ZERO; network.n_nodes()];
    let mut largest = 0.0_f64;
    for element in network.elements() {
        let (a, b) = network.ends(element);
        let current = solution.current(element);
        sums[a.index()] += current;
        sums[b.index()] -= current;
        largest = largest.max(current.magnitude());
    }
    (sums, largest)
}

fn with_current(network: &Network, from: NodeId, to: NodeId) -> Network {
    let ampere = Emf::Alternating(Complex::ONE);
    network
        .with_element("test current", to, from, Element::CurrentSource { ampere })
        .expect("a current source fits anywhere")
        .0
}

fn is_source(element: &Element) -> bool {
    matches!(
        element,
        Element::VoltageSource { .. } | Element::CurrentSource { .. }
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn as_much_current_enters_every_node_as_leaves_it(plan in any_plan()) {
        let network = plan.network();
        let solution = network.solve(MAINS).unwrap();
        let (sums, largest) = leaving(&network, &solution);
        for (at, sum) in sums.iter().enumerate() {
            let floor = rounding_a(&plan, &network, &solution);
            prop_assert!(
                sum.magnitude() <= LAW * largest + floor,
                "node {at}: {sum:?} of {largest}, rounding {floor}"
            );
        }
    }

    #[test]
    fn what_the_sources_give_the_rest_takes(plan in any_plan()) {
        let network = plan.network();
        let solution = network.solve(MAINS).unwrap();
        let (mut sum, mut total) = (Complex::ZERO, 0.0);
        for element in network.elements() {
            sum += solution.power(element);
            total += solution.power(element).magnitude();
        }
        let floor = rounding_a(&plan, &network, &solution) * highest_v(&plan, &network, &solution);
        prop_assert!(
            sum.magnitude() <= LAW * total + floor,
            "{sum:?} of {total}, rounding {floor}"
        );
    }

    #[test]
    fn resistances_take_power_and_never_give_it(plan in any_plan()) {
        let network = plan.network();
        let solution = network.solve(MAINS).unwrap();
        for (i, &(_, element)) in plan.tree.iter().enumerate() {
            let id = network.element(&format!("tree {i}")).unwrap();
            if let Element::Resistance { ohm } = element {
                let heat_w = ohm * solution.current(id).magnitude() * solution.current(id).magnitude();
                prop_assert!(solution.power(id).re >= -LAW * heat_w);
            }
        }
    }

    #[test]
    fn ideal_sources_hold_their_voltage(plan in any_plan()) {
        let network = plan.network();
        let solution = network.solve(MAINS).unwrap();
        let highest = network.nodes().map(|n| solution.voltage(n).magnitude()).fold(0.0, f64::max);
        for (i, &(_, element)) in plan.tree.iter().enumerate() {
            if let Element::VoltageSource { volt: Emf::Alternating(volt), series_ohm } = element
                && series_ohm.is_zero()
            {
                let id = network.element(&format!("tree {i}")).unwrap();
                let off = (solution.voltage_over(id) - volt).magnitude();
                prop_assert!(off <= 1e-13 * highest);
            }
        }
    }

    #[test]
    fn passive_circuits_carry_over_alike_either_way(
        plan in passive_plan(),
        ends in [0..1_000_usize, 0..1_000_usize, 0..1_000_usize, 0..1_000_usize],
    ) {
        let network = plan.network();
        let port = |a, b| {
            let (a, b) = apart(a, b, network.n_nodes());
            (node(&network, a), node(&network, b))
        };
        let (p, q) = (port(ends[0], ends[1]), port(ends[2], ends[3]));
        let at_p = with_current(&network, p.0, p.1).solve(MAINS).unwrap();
        let at_q = with_current(&network, q.0, q.1).solve(MAINS).unwrap();
        let (there, back) = (at_p.between(q.0, q.1), at_q.between(p.0, p.1));
        let own = at_p.between(p.0, p.1).magnitude() * at_q.between(q.0, q.1).magnitude();
        prop_assert!((there - back).magnitude() <= LAW * own.sqrt(), "{there:?} {back:?}");
        // And what a port answers to a current is the impedance that it is said to have.
        let ohm = network.thevenin(p.0, p.1, MAINS).unwrap().ohm;
        let seen = at_p.between(p.0, p.1);
        prop_assert!((ohm - seen).magnitude() <= LAW * seen.magnitude());
    }

    #[test]
    fn the_work_of_all_sources_is_the_sum_of_the_work_of_each(plan in any_plan()) {
        let network = plan.network();
        let all = network.solve(MAINS).unwrap();
        let mut sums = vec![Complex::ZERO; network.n_nodes()];
        let mut largest = 0.0_f64;
        let kinds: Vec<(ElementId, Element)> = sources(&plan, &network);
        for &(alone, _) in &kinds {
            let mut quiet = network.clone();
            for &(id, element) in &kinds {
                if id != alone {
                    quiet.set(id, silenced(element)).unwrap();
                }
            }
            let solution = quiet.solve(MAINS).unwrap();
            for at in network.nodes() {
                sums[at.index()] += solution.voltage(at);
                largest = largest.max(solution.voltage(at).magnitude());
            }
        }
        for at in network.nodes() {
            // Sources are currents to the solver; their rounding, through whatever ties a
            // floating part to the reference, is the limit that `eliminate` states.
            let tie_ohm = network.thevenin(at, network.reference(), MAINS).unwrap().ohm;
            let floor = rounding_a(&plan, &network, &all) * tie_ohm.magnitude();
            let off = (sums[at.index()] - all.voltage(at)).magnitude();
            prop_assert!(off <= LAW * largest + floor, "{off} of {largest}, rounding {floor}");
        }
    }

    #[test]
    fn a_port_behaves_as_its_equivalent_under_load(
        plan in any_plan(),
        ends in [0..1_000_usize, 0..1_000_usize],
        ohm in decades(0.0, 5.0),
    ) {
        let network = plan.network();
        let (a, b) = apart(ends[0], ends[1], network.n_nodes());
        let (a, b) = (node(&network, a), node(&network, b));
        let port = network.thevenin(a, b, MAINS).unwrap();
        let (loaded, load) = network
            .with_element("load", a, b, Element::Resistance { ohm })
            .unwrap();
        let current = loaded.solve(MAINS).unwrap().current(load);
        let expected = port.volt / (port.ohm + Complex::real(ohm));
        let open = network.solve(MAINS).unwrap();
        let highest = highest_v(&plan, &network, &open);
        let floor_v = rounding_a(&plan, &network, &open) * port.ohm.magnitude();
        prop_assert!(
            (current - expected).magnitude() <= (LAW * highest + floor_v) / ohm,
            "{current:?} {expected:?}"
        );
    }

    #[test]
    fn any_circuit_gives_an_answer_or_problems_and_never_panics(
        list in prop::collection::vec((0..8_u32, 0..8_u32, any_value()), 0..12),
        leak in prop::option::of(prop_oneof![Just(0.0), Just(f64::NAN), decades(0.0, 15.0)]),
        hertz in prop_oneof![Just(0.0), Just(-60.0), Just(f64::INFINITY), Just(60.0)],
    ) {
        let mut stranger = NetworkBuilder::new("elsewhere");
        let foreign: Vec<NodeId> = (0..8).map(|i| stranger.node(&format!("{i}"))).collect();
        let mut builder = NetworkBuilder::new("earth");
        for i in 0..5 {
            builder.node(&format!("{i}"));
        }
        if let Some(ohm) = leak {
            builder.leak_to_reference(ohm);
        }
        for (i, &(a, b, element)) in list.iter().enumerate() {
            // Ids of another network: some fit, some do not.
            builder.place(&format!("e{}", i % 9), foreign[a as usize], foreign[b as usize], element);
        }
        let Ok(network) = builder.build() else { return Ok(()) };
        for frequency in [MAINS, Frequency::Direct, Frequency::Alternating { hertz }] {
            match network.solve(frequency) {
                Ok(solution) => {
                    for at in network.nodes() {
                        prop_assert!(solution.voltage(at).is_finite());
                    }
                }
                Err(problems) => {
                    prop_assert!(!problems.is_empty());
                    prop_assert!(problems.iter().all(|p| !p.to_string().is_empty()));
                }
            }
            let _ = network.thevenin(network.reference(), node(&network, 1), frequency);
        }
    }

    #[test]
    fn a_solver_used_before_gives_the_same_bits_as_a_new_one(
        first in any_plan(),
        second in any_plan(),
    ) {
        let (first, second) = (first.network(), second.network());
        let mut solver = Solver::new();
        solver.solve(&first, MAINS).unwrap();
        let again = solver.solve(&second, MAINS).unwrap();
        prop_assert_eq!(again, &second.solve(MAINS).unwrap());
    }
}

fn sources(plan: &Plan, network: &Network) -> Vec<(ElementId, Element)> {
    let id = |name: String| network.element(&name).expect("plans name their elements");
    let tree = plan.tree.iter().enumerate();
    let loops = plan.loops.iter().enumerate();
    tree.map(|(i, &(_, element))| (id(format!("tree {i}")), element))
        .chain(loops.map(|(i, &(.., element))| (id(format!("loop {i}")), element)))
        .filter(|(_, element)| is_source(element))
        .collect()
}

/// The source with its voltage or current at 0.
fn silenced(element: Element) -> Element {
    let nothing = Emf::Alternating(Complex::ZERO);
    match element {
        Element::VoltageSource { series_ohm, .. } => Element::VoltageSource {
            volt: nothing,
            series_ohm,
        },
        Element::CurrentSource { .. } => Element::CurrentSource { ampere: nothing },
        other => other,
    }
}

/// Values of every kind, good and bad.
fn any_value() -> impl Strategy<Value = Element> {
    let number = || {
        prop_oneof![
            4 => decades(-6.0, 9.0),
            1 => Just(0.0),
            1 => Just(1e-300),
            1 => Just(1e300),
            1 => prop::num::f64::ANY,
        ]
    };
    prop_oneof![
        2 => number().prop_map(|ohm| Element::Resistance { ohm }),
        1 => (number(), number()).prop_map(|(ohm, henry)| Element::SeriesRl { ohm, henry }),
        2 => number().prop_map(|farad| Element::Capacitance { farad }),
        1 => (number(), number(), number()).prop_map(|(re, im, direct_ohm)| Element::Impedance {
            mains_ohm: Complex::new(re, -im),
            direct_ohm,
        }),
        2 => (number(), number()).prop_map(|(volt, ohm)| Element::VoltageSource {
            volt: Emf::Alternating(Complex::real(volt)),
            series_ohm: Complex::real(ohm),
        }),
        1 => number().prop_map(|ampere| Element::CurrentSource { ampere: Emf::Direct(ampere) }),
        1 => Just(Element::Open),
        1 => Just(Element::OtherOfPair),
        1 => [number(), number(), number(), number()].prop_map(|z| Element::WindingOfPair {
            mains_ohm: [
                [Complex::new(z[0], z[1]), Complex::real(z[2])],
                [Complex::real(z[2]), Complex::new(z[0], z[3])],
            ],
            direct_ohm: [z[0], z[3]],
        }),
    ]
}
