//! Published rules of safe work: figures here, procedures by their words below.

use serde::Deserialize;
use sim_core::safety;
use sim_core::units::convert::{LITER, US_GALLON};

use super::check::Check;

pub(super) fn checks() -> Vec<Check> {
    vec![
        Check::new("SAF-02", || safety::TESTER_CHECK_MANDATORY_ABOVE_V),
        Check::new("SAF-11", || safety::FULL_TANK_RESIDUAL_MG_PER_L),
        Check::new("SAF-12", || safety::SPRAY_DISINFECTION_MG_PER_L),
        Check::new("SAF-13", || safety::TWO_STEP_DISINFECTION_MG_PER_L.to_vec()),
        Check::new("SAF-14", || safety::WELL_DOSES_MG_PER_L.to_vec()),
        Check::new("SAF-15", || {
            safety::hypochlorite_volume_m3(50.0, 1_000.0 * US_GALLON, 52_500.0) / LITER
        }),
        Check::new("SAF-16", || safety::BUILDING_STATIC_LIMIT_PSI),
        Check::new("SAF-18", || safety::RELIEF_LIMIT_PSI),
    ]
}

#[derive(Debug, Deserialize)]
struct Procedure {
    id: String,
    quantity: String,
    expected: String,
    source: String,
    confidence: String,
}

/// What the library says for a procedure, in the words of the row.
fn ours(id: &str) -> Option<String> {
    match id {
        "SAF-01" => Some(safety::procedure_in_words(&safety::ABSENCE_OF_VOLTAGE_TEST)),
        "SAF-04" => {
            let (covered, rule) = safety::electrical_lockout_rule();
            Some(format!(
                "{} - covered by {rule}",
                if covered { "yes" } else { "no" }
            ))
        }
        "SAF-07" => Some(safety::air_tests_in_words(&safety::AIR_TEST_ORDER)),
        _ => None,
    }
}

#[test]
fn every_published_procedure_has_its_order() {
    let file = include_str!("../../data/safety-procedures.csv");
    let mut n_rows = 0;
    for row in csv::Reader::from_reader(file.as_bytes()).deserialize() {
        let row: Procedure = row.unwrap();
        assert_eq!(
            ours(&row.id).as_deref(),
            Some(row.expected.as_str()),
            "{}: {}, {} ({})",
            row.id,
            row.quantity,
            row.source,
            row.confidence
        );
        n_rows += 1;
    }
    assert_eq!(n_rows, 3);
}
