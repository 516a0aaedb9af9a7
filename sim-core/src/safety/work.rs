//! Work on circuits and near confined spaces: orders of tests and the rules they come from.

/// A step of the test for absence of voltage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AbsenceStep {
    /// Prove the tester on a source known to be live.
    KnownLiveSource,
    /// Test the circuit: each conductor to each other and to ground.
    CircuitEachConductor,
}

/// The test for absence of voltage with a portable tester, in order (NFPA 70E 120.5, 2021
/// numbering).
pub const ABSENCE_OF_VOLTAGE_TEST: [AbsenceStep; 3] = [
    AbsenceStep::KnownLiveSource,
    AbsenceStep::CircuitEachConductor,
    AbsenceStep::KnownLiveSource,
];

/// Nominal voltage above which checking the tester before and after is mandatory, and at
/// or below which it is good practice [V] (29 CFR 1910.333(b)(2)(iv)(B)).
pub const TESTER_CHECK_MANDATORY_ABOVE_V: f64 = 600.0;

/// A test of the air before a confined space is entered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AirTest {
    /// Enough oxygen, and not too much.
    Oxygen,
    /// Flammable gases and vapours.
    Flammable,
    /// Toxic gases and vapours.
    Toxic,
}

/// Order of the air tests (29 CFR 1910.146(c)(5)(ii)(C)).
pub const AIR_TEST_ORDER: [AirTest; 3] = [AirTest::Oxygen, AirTest::Flammable, AirTest::Toxic];

/// Whether the general lockout rule covers electrical work on a utilization circuit, and
/// the rule that does (29 CFR 1910.147(a)(1)(ii)(C)).
#[must_use]
pub const fn electrical_lockout_rule() -> (bool, &'static str) {
    (false, "subpart S (1910.333)")
}

/// The test for absence of voltage in words.
#[must_use]
pub fn procedure_in_words(steps: &[AbsenceStep]) -> String {
    let mut proved = false;
    let words: Vec<&str> = steps
        .iter()
        .map(|step| match step {
            AbsenceStep::KnownLiveSource if proved => "known live source again",
            AbsenceStep::KnownLiveSource => {
                proved = true;
                "known live source"
            }
            AbsenceStep::CircuitEachConductor => {
                "the circuit (each conductor phase-phase and phase-ground)"
            }
        })
        .collect();
    words.join(", then ")
}

/// An order of air tests in words.
#[must_use]
pub fn air_tests_in_words(tests: &[AirTest]) -> String {
    let words: Vec<&str> = tests
        .iter()
        .map(|test| match test {
            AirTest::Oxygen => "oxygen",
            AirTest::Flammable => "flammable",
            AirTest::Toxic => "toxic",
        })
        .collect();
    words.join(", then ")
}
