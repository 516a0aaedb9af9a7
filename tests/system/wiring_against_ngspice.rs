//! The circuits of `tests/data/netlists`, solved by us and by ngspice.
//!
//! Every node voltage and source current must agree to 1e-6 of itself.  ngspice (any
//! recent version; Debian's 39.3 made the stored answers) is run when it is installed;
//! without it, and besides, ours is compared with its stored answers, `*.expected`.  Where
//! `SHORTCYCLE_REQUIRE_NGSPICE=1` is set its absence is a failure, so that a build that
//! means to run it cannot quietly stop doing so.
//!
//! Nearly all agree to 1e-12.  With the motor off (n4b) the source's current differs by
//! 2e-9: 24 µA in half an ohm is the difference of two voltages near 240 V, in which
//! either of us keeps nine digits only.
//!
//! To store new answers: `UPDATE_NGSPICE=1 cargo test -p system-tests ngspice`.

use std::fmt::Write as _;
use std::process::{Command, Stdio};

use sim_core::electric::{Complex, Solution};

use super::netlist::{Netlist, all, folder};

/// Allowed difference from ngspice, of the quantity's own magnitude.
const AGREEMENT: f64 = 1e-6;

/// One quantity: "v(node)" or "i(source)", and its phasor.
type Answers = Vec<(String, Complex)>;

fn is_installed() -> bool {
    let version = Command::new("ngspice")
        .arg("--version")
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status();
    version.is_ok_and(|status| status.success())
}

fn is_set(variable: &str) -> bool {
    std::env::var_os(variable).is_some_and(|value| value == "1")
}

fn ours(netlist: &Netlist, solution: &Solution) -> Answers {
    let network = &netlist.network;
    let voltage = |node| {
        let name = format!("v({})", network.node_name(node));
        (name, solution.voltage(node))
    };
    let current = |source: &String| {
        let element = network.element(source).expect("sources are in the network");
        let name = format!("i({})", source.to_lowercase());
        (name, solution.current(element))
    };
    network
        .nodes()
        .skip(1)
        .map(voltage)
        .chain(netlist.sources.iter().map(current))
        .collect()
}

/// The netlist's own text with another `.control` block: every quantity, all digits.
fn with_full_printing(netlist: &Netlist, quantities: &Answers) -> String {
    let (circuit, rest) = netlist
        .text
        .split_once(".control")
        .expect("netlists have a .control block");
    let (_, end) = rest.split_once(".endc").expect("which ends");
    let mut text = format!("{circuit}.control\nset numdgt=15\nrun\n");
    for (quantity, _) in quantities {
        writeln!(text, "print real({quantity}) imag({quantity})").expect("a String takes all");
    }
    format!("{text}.endc{end}")
}

fn by_ngspice(netlist: &Netlist, quantities: &Answers) -> Answers {
    let folder = tempfile::tempdir().expect("a folder for one file");
    let path = folder.path().join("circuit.cir");
    std::fs::write(&path, with_full_printing(netlist, quantities)).expect("it can be written");
    let output = Command::new("ngspice")
        .arg("-b")
        .arg(&path)
        .output()
        .expect("ngspice was there a moment ago");
    let printed = String::from_utf8_lossy(&output.stdout).into_owned();
    let value = |name: String| {
        let start = format!("{name} = ");
        let line = printed.lines().find_map(|line| line.strip_prefix(&start));
        let value = line.and_then(|value| value.trim().parse::<f64>().ok());
        value.unwrap_or_else(|| panic!("{}: no {name} in\n{printed}", netlist.name))
    };
    let answer = |(quantity, _): &(String, Complex)| {
        let re = value(format!("real({quantity})"));
        let im = value(format!("imag({quantity})"));
        (quantity.clone(), Complex::new(re, im))
    };
    quantities.iter().map(answer).collect()
}

fn stored_path(netlist: &Netlist) -> std::path::PathBuf {
    folder().join(format!("{}.expected", netlist.name))
}

fn stored(netlist: &Netlist) -> Answers {
    let path = stored_path(netlist);
    let text = std::fs::read_to_string(&path)
        .unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let lines = text.lines().filter(|line| !line.starts_with('*'));
    lines
        .map(|line| {
            let words: Vec<&str> = line.split_whitespace().collect();
            let [name, re, im] = words[..] else {
                panic!("{}: cannot read {line:?}", path.display());
            };
            let part = |text: &str| text.parse().expect("answers are numbers");
            (name.to_owned(), Complex::new(part(re), part(im)))
        })
        .collect()
}

fn store(netlist: &Netlist, answers: &Answers) {
    let mut text = format!(
        "* Phasors of {}.cir by ngspice; see wiring_against_ngspice.rs\n",
        netlist.name
    );
    for (name, value) in answers {
        writeln!(text, "{name} {:.15e} {:.15e}", value.re, value.im).expect("a String takes all");
    }
    std::fs::write(stored_path(netlist), text).expect("netlists can be written");
}

/// Largest difference of any quantity, of its own magnitude; what is 0 there must be 0.
fn worst(netlist: &Netlist, ours: &Answers, theirs: &Answers) -> f64 {
    assert_eq!(ours.len(), theirs.len(), "{}", netlist.name);
    let mut worst = 0.0_f64;
    for ((name, ours), (their_name, theirs)) in ours.iter().zip(theirs) {
        assert_eq!(name, their_name, "{}", netlist.name);
        let difference = (*ours - *theirs).magnitude();
        let relative = if theirs.is_zero() {
            assert!(ours.is_zero(), "{}: {name} is {ours:?}", netlist.name);
            0.0
        } else {
            difference / theirs.magnitude()
        };
        assert!(
            relative <= AGREEMENT,
            "{}: {name}: ours {ours:?}, ngspice {theirs:?}",
            netlist.name
        );
        worst = worst.max(relative);
    }
    worst
}

#[test]
#[expect(clippy::print_stdout, reason = "the agreement is worth reading")]
fn the_same_netlist_gives_the_same_phasors_as_ngspice() {
    let is_live = is_installed();
    assert!(
        is_live || !is_set("SHORTCYCLE_REQUIRE_NGSPICE"),
        "ngspice is not installed, and SHORTCYCLE_REQUIRE_NGSPICE=1 asks for it"
    );
    let netlists = all();
    assert!(netlists.len() >= 9, "netlists are missing");
    for netlist in &netlists {
        let solution = netlist
            .network
            .solve(netlist.frequency)
            .unwrap_or_else(|problems| panic!("{}: {problems:?}", netlist.name));
        let ours = ours(netlist, &solution);
        if is_live {
            let live = by_ngspice(netlist, &ours);
            if is_set("UPDATE_NGSPICE") {
                store(netlist, &live);
            }
            let worst = worst(netlist, &ours, &live);
            println!("{}: within {worst:.1e} of ngspice now", netlist.name);
        }
        let worst = worst(netlist, &ours, &stored(netlist));
        println!("{}: within {worst:.1e} of ngspice as stored", netlist.name);
    }
}

#[test]
fn a_meter_behind_a_bad_joint_draws_what_the_closed_form_says() {
    let netlist = super::netlist::load("n4b_hr_joint_unloaded");
    let solution = netlist.network.solve(netlist.frequency).unwrap();
    let hand_a = 240.0 / (2.0 * 0.4825 + 1.5 + 10e6);
    let current_of = |name| solution.current(netlist.network.element(name).unwrap()).re;
    let voltage_c = solution.voltage(netlist.network.node("c").unwrap()).re;
    assert!((voltage_c / (0.4825 * hand_a) - 1.0).abs() < 1e-14);
    assert!((current_of("RVM") / hand_a - 1.0).abs() < 1e-14);
    // The wire's current comes from a difference of 12 µV in 240 V.
    assert!((current_of("RW1") / hand_a - 1.0).abs() < 1e-8);
}
