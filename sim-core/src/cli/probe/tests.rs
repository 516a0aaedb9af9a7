//! `probe` from arguments to answer, on the real plant.
//!
//! Readings with the motor running are held to ranges; the others are golden.  After a
//! change of meters, wiring or words: `INSTA_UPDATE=always cargo test -p sim-core probe`,
//! and read the difference.

use std::process::ExitCode;

struct Outcome {
    code: ExitCode,
    out: String,
    err: String,
}

fn probe(line: &str) -> Outcome {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = ["shortcycle", "probe"]
        .into_iter()
        .chain(line.split_whitespace());
    let code = crate::cli::run(args, &mut out, &mut err);
    Outcome {
        code,
        out: String::from_utf8(out).unwrap(),
        err: String::from_utf8(err).unwrap(),
    }
}

fn json(line: &str) -> serde_json::Value {
    let outcome = probe(&format!("{line} --format json"));
    assert!(outcome.err.is_empty(), "{line}: {}", outcome.err);
    serde_json::from_str(&outcome.out).unwrap()
}

fn value(line: &str) -> f64 {
    let answer = json(line);
    answer["reading"][0]["value"]
        .as_f64()
        .unwrap_or_else(|| panic!("{line}: {answer}"))
}

#[test]
fn readings_at_rest_as_people_read_them() {
    let mut text = String::new();
    for line in [
        "orchard-cottage --meter volts --from panel.line1 --to panel.neutral",
        "hill-farm --meter volts --from switch.line1 --to switch.line2",
        "orchard-cottage --meter low-impedance --from pump.lead1 --to pump.frame",
        "orchard-cottage --meter clamp --from switch.load1",
        "orchard-cottage --meter insulation --from pump.lead1 --to pump.frame --breaker off \
         --fault motor.insulation=20000",
        "orchard-cottage --meter capacitance --from splice.line1 --to splice.line2 \
         --breaker off --leads-off",
        "orchard-cottage --meter ohms --from switch.line1 --to switch.load1 --breaker off",
    ] {
        let outcome = probe(line);
        assert_eq!(outcome.code, ExitCode::SUCCESS, "{line}: {}", outcome.err);
        text += &format!("$ shortcycle probe {line}\n{}\n", outcome.out);
    }
    insta::assert_snapshot!(text);
}

#[test]
fn ohms_on_a_live_circuit_are_refused_with_the_harm_and_exit_code_1() {
    let line = "orchard-cottage --meter ohms --from panel.line1 --to panel.neutral";
    let outcome = probe(line);
    assert_eq!(outcome.code, ExitCode::from(1));
    insta::assert_snapshot!(outcome.out);
    let answer = json(line);
    assert_eq!(answer["no_reading"]["reason"], "unsafe_to_measure");
    assert!(answer["no_reading"]["harm_to_meter"].is_string());
    assert!(answer["reading"].is_null());
}

#[test]
fn json_has_si_values_and_the_display() {
    let line = "orchard-cottage --meter volts --from panel.line1 --to panel.neutral --seed 7";
    insta::assert_snapshot!(probe(&format!("{line} --format json")).out);
}

#[test]
fn a_running_pump_shows_amperes_in_one_conductor_and_none_around_both() {
    let run = "orchard-cottage --start dry --at 20s --meter";
    let answer = json(&format!("{run} clamp --from switch.load1"));
    assert_eq!(answer["conditions"]["motor_powered"], true);
    assert!(answer["reading"][0]["value"].as_f64().unwrap() > 1.0);
    let both = format!("{run} clamp --from switch.load1,switch.load2");
    assert_eq!(value(&both), 0.0);
    assert!(value(&format!("{run} watts --from switch.load1")) > 100.0);
}

#[test]
fn a_switched_off_breaker_leaves_the_switch_dead_and_the_panel_live() {
    let off = "orchard-cottage --breaker off --meter volts";
    assert!(value(&format!("{off} --from switch.line1 --to switch.frame")) < 1.0);
    let panel = json(&format!("{off} --from panel.line1 --to panel.earth"));
    assert_eq!(panel["may_be_live"], true);
    let wall = json(&format!("{off} --from switch.line1 --to switch.frame"));
    assert_eq!(wall["may_be_live"], false);
}

#[test]
fn the_last_digits_hang_on_the_seed_alone() {
    let line = "hill-farm --meter volts --from panel.line1 --to panel.neutral --seed";
    assert_eq!(value(&format!("{line} 3")), value(&format!("{line} 3")));
    let differ = (1..6).any(|seed| value(&format!("{line} {seed}")) != value(&format!("{line} 9")));
    assert!(differ);
}

#[test]
fn what_cannot_be_probed_says_which_flag_and_what_is_accepted() {
    let mut messages = String::new();
    for line in [
        "orchard-cottage --meter volts --from panel.lin1 --to panel.neutral",
        "hill-farm --meter volts --from panel.line1 --to panel.line2",
        "orchard-cottage --meter volts --from panel.line1",
        "orchard-cottage --meter clamp --from panel.line1 --to panel.neutral",
        "orchard-cottage --meter watts --from panel.line1",
        "orchard-cottage --meter ohms --from pump.lead1 --to pump.lead2 --leads-off",
        "orchard-cottage --meter volt --from panel.line1 --to panel.earth",
    ] {
        let outcome = probe(line);
        assert_eq!(outcome.code, ExitCode::from(2), "{line}");
        assert_eq!(outcome.out, "", "{line}");
        messages += &format!("$ shortcycle probe {line}\n{}\n", outcome.err);
    }
    insta::assert_snapshot!(messages);
}
