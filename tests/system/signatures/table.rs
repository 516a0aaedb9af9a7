//! Every fault beside every other, as instruments and senses show them, for people.
//!
//! When physics or cues change, look at what changed here, say in the commit which it was,
//! and take the new table with `INSTA_UPDATE=always`.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use super::exam::Exam;
use super::{cases, exam, grounds};

/// Head, observable, and the step to which it is rounded, so that a meter's noise does not
/// turn a digit.
const COLUMNS: &[(&str, &str, f64)] = &[
    ("found", "gauge_arrival", 1.0),
    ("st/h", "idle_starts_h", 1.0),
    ("c-in", "cut_in", 1.0),
    ("c-out", "cut_out", 1.0),
    ("run", "run_s", 1.0),
    ("drawn", "drawdown", 1.0),
    ("due", "drawdown_due", 1.0),
    ("build", "build_end", 1.0),
    ("f.all", "fall_open", 1.0),
    ("f.hse", "fall_house_shut", 1.0),
    ("f.src", "fall_source_shut", 1.0),
    ("air", "tyre_drained", 1.0),
    ("flow", "flow_widest", 1.0),
    ("gauge", "run_gauge", 1.0),
    ("amps", "run_amps", 1.0),
    ("watts", "run_watts", 50.0),
    ("V.st", "start_volts_pump", 5.0),
    ("ohm", "ohms_winding", 0.5),
    ("IR", "ohms_megger_motor", 0.0),
    ("earth", "ohms_earth", 1.0),
];

const LEGEND: &str = "\
Each fault at its usual severity on a site that shows it, the healthy twin first.
  found   gauge on arrival, psi             st/h    starts an hour with nobody drawing
  c-in, c-out, run, drawn, due              a proof: set points in psi, run in s, drawdown in L and
                                            what the tank's air law says it should be
  build   gauge when the pump stops by itself, or after five minutes of running, psi
  f.all, f.hse, f.src                       fall in 20 min with the breaker off, psi: all open; house
                                            valve shut; source valve shut as well
  air     charge of the drained tank, psi   flow    widest outlet, L/min
  gauge, amps, watts                        drain and outlet open so that a sound pump runs on
  V.st    lowest volts at the splice, pump side, in a start
  ohm     winding, leads apart              IR      winding to earth, Mohm
  earth   splice box to pump frame, ohm
  -       could not be had                  OL      above the meter's range
";

fn cell(exam: &Exam, name: &str, step: f64) -> String {
    match exam.get(name) {
        None if exam.text(name).starts_with("OL") => "OL".to_owned(),
        None => "-".to_owned(),
        Some(ohm) if name.contains("megger") => match ohm / 1e6 {
            m if m > 50.0 => ">50".to_owned(),
            m if m >= 1.0 => format!("{m:.0}"),
            m => format!("{m:.2}"),
        },
        Some(value) => {
            let value = (value / step).round() * step;
            let decimals = usize::from(step < 1.0);
            format!("{:.decimals$}", if value == 0.0 { 0.0 } else { value })
        }
    }
}

fn row(name: &str, exam: &Exam) -> String {
    let mut text = format!("{name:36}");
    for (_, observable, step) in COLUMNS {
        write!(text, "{:>6}", cell(exam, observable, *step)).unwrap();
    }
    text
}

/// What is perceived with the fault and not without it, and the other way round.
fn senses(name: &str, sick: &Exam, well: &Exam) -> String {
    let (sick, well) = (sick.all_cues(), well.all_cues());
    let more: Vec<&str> = sick.difference(&well).copied().collect();
    let less: BTreeSet<&str> = well.difference(&sick).copied().collect();
    let mut text = format!("{name:36} {}", more.join(" "));
    if !less.is_empty() {
        let less: Vec<&str> = less.into_iter().collect();
        write!(text, "  | never: {}", less.join(" ")).unwrap();
    }
    text.trim_end().to_owned()
}

#[test]
fn the_table_of_signatures() {
    let mut table = String::from(LEGEND);
    for site in grounds::NAMES {
        let well = exam(site, "");
        let here = || {
            cases()
                .filter(|case| case.site == *site)
                .map(|case| case.kind)
        };
        if here().next().is_none() {
            continue;
        }
        write!(table, "\n{site:36}").unwrap();
        for (head, _, _) in COLUMNS {
            write!(table, "{head:>6}").unwrap();
        }
        writeln!(table, "\n{}", row("healthy", &well)).unwrap();
        for fault in here() {
            writeln!(table, "{}", row(fault, &exam(site, fault))).unwrap();
        }
        writeln!(
            table,
            "\n{site}: heard, seen, felt and smelt that the healthy twin does not show"
        )
        .unwrap();
        for fault in here() {
            writeln!(table, "{}", senses(fault, &exam(site, fault), &well)).unwrap();
        }
    }
    insta::assert_snapshot!(table);
}
