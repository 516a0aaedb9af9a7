//! The command from arguments to files, in this process, on a made-up plant.

use std::fs;
use std::io;
use std::process::ExitCode;

use anyhow::Result;

use super::wiring::TraceRun;
use super::*;
use crate::demand::test_outlet;
use crate::parts::FixtureSpec;
use crate::trace::Recording;
use crate::trace::synthetic;
use crate::units::convert::PSI;

/// A plant whose sites have two outlets and whose runs are made up.
struct Fake;

impl Engine for Fake {
    type Site = Vec<FixtureSpec>;

    fn read_site(&self, _: &str, _: &[u8]) -> Result<Self::Site> {
        Ok(vec![test_outlet("basin", 2.0), test_outlet("shower", 2.0)])
    }

    fn outlets<'s>(&self, site: &'s Self::Site) -> &'s [FixtureSpec] {
        site
    }

    fn run_trace(
        &self,
        run: &TraceRun<'_, Self::Site>,
        progress: &mut dyn FnMut(f64),
    ) -> Result<Recording> {
        progress(1.0);
        Ok(synthetic::run(&synthetic::Script {
            duration_s: run.duration_s,
            interval_s: run.interval_s,
            draw_s: (120.0, 240.0),
            dry: run.start == args::StartArg::Dry,
        }))
    }
}

struct Outcome {
    code: ExitCode,
    out: String,
    err: String,
}

fn shortcycle(line: &str) -> Outcome {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = ["shortcycle"].into_iter().chain(line.split_whitespace());
    let code = run_with(&Fake, args, &mut out, &mut err);
    Outcome {
        code,
        out: String::from_utf8(out).unwrap(),
        err: String::from_utf8(err).unwrap(),
    }
}

fn done(line: &str) -> String {
    let outcome = shortcycle(line);
    assert_eq!(outcome.code, ExitCode::SUCCESS, "{line}: {}", outcome.err);
    outcome.out
}

fn refused(line: &str) -> String {
    let outcome = shortcycle(line);
    assert_eq!(outcome.code, ExitCode::from(COULD_NOT), "{line}");
    assert_eq!(outcome.out, "", "{line}");
    outcome.err
}

#[test]
fn a_short_run_lists_every_event() {
    insta::assert_snapshot!(done("trace orchard-cottage --for 8min --every 1s"));
}

#[test]
fn forty_events_are_listed_and_more_are_folded() {
    let events = |report: &str| report.matches(" pump st").count();
    let report = done("trace orchard-cottage --for 25min --every 1s");
    assert!(report.contains("What happened") && !report.contains('…'));
    assert!(events(&report) > 10, "{report}");
    let report = done("trace orchard-cottage --for 90min --every 1s");
    assert!(report.contains("Pump runs"));
    assert!(report.contains("…") && report.contains(" more"), "{report}");
}

#[test]
fn a_first_start_in_si_units() {
    insta::assert_snapshot!(done(
        "trace orchard-cottage --for 3min --start dry --units si --every 0.5s"
    ));
}

#[test]
fn a_month_is_folded_to_a_page() {
    let report = done("trace orchard-cottage --for 30d --every 5s --demand household:7");
    assert!(report.lines().count() < 60, "{report}");
    insta::assert_snapshot!(report);
}

#[test]
fn no_line_of_a_report_is_wider_than_80_columns() {
    for line in [
        "trace orchard-cottage --for 8min",
        "trace orchard-cottage --for 30d --every 5s --units si",
    ] {
        for line in done(line).lines().skip(2) {
            assert!(line.chars().count() <= 80, "{line}");
        }
    }
}

#[test]
fn json_is_si_with_units_in_its_names() {
    let json = done(
        "trace orchard-cottage --for 4s --every 2s --format json --units us \
         --fault check_valve.stuck_open=0.5 --channels motor_on,tee_pressure",
    );
    let value: serde_json::Value = serde_json::from_str(&json).unwrap();
    insta::assert_snapshot!(serde_json::to_string_pretty(&value).unwrap());
}

#[test]
fn csv_comes_back_as_it_was_written() {
    let csv = done(
        "trace orchard-cottage --for 3s --every 1s --csv - --channels contacts,tee_pressure,tank_air_temperature",
    );
    insta::assert_snapshot!(csv.replace("\r\n", "␍␊\n"));
    assert_eq!(csv.matches('\n').count(), csv.matches("\r\n").count());

    let mut reader = csv::ReaderBuilder::new().from_reader(csv.as_bytes());
    let names: Vec<String> = reader
        .headers()
        .unwrap()
        .iter()
        .map(str::to_owned)
        .collect();
    assert_eq!(
        names,
        ["time", "contacts", "tee_pressure", "tank_air_temperature"]
    );
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().unwrap();
    assert_eq!(rows[0], vec!["s", "1", "psi", "°F"]);
    let recording = synthetic::run(&synthetic::Script {
        duration_s: 3.0,
        interval_s: 1.0,
        draw_s: (120.0, 240.0),
        dry: false,
    });
    for (row, tee_pa) in rows[1..].iter().zip(recording.values("tee_pressure")) {
        let tee_psi: f64 = row[2].parse().unwrap();
        approx::assert_relative_eq!(tee_psi * PSI, tee_pa, max_relative = 1e-8);
    }
}

#[test]
fn every_channel_is_written_when_none_is_picked() {
    let csv = done("trace orchard-cottage --for 1s --every 1s --csv - --units si");
    let header = csv.lines().next().unwrap();
    assert_eq!(header.split(',').count(), 1 + crate::trace::CHANNELS.len());
}

#[test]
fn files_are_written_and_named_on_standard_error() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).display().to_string();
    let (csv, svg, png) = (path("run.csv"), path("run.svg"), path("run.png"));
    let outcome = shortcycle(&format!(
        "trace orchard-cottage --for 1min --every 1s --csv {csv} --plot {svg}"
    ));
    assert_eq!(
        outcome.err,
        format!("wrote {csv} (61 samples)\nwrote {svg}\n")
    );
    assert!(fs::read_to_string(&svg).unwrap().contains("cut-out 50"));
    assert_eq!(fs::read_to_string(&csv).unwrap().lines().count(), 63);
    done(&format!("trace orchard-cottage --for 1min --plot {png}"));
    assert!(fs::read(&png).unwrap().starts_with(b"\x89PNG"));
}

#[test]
fn draws_come_from_a_file_and_its_problems_are_all_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("taps.csv");
    fs::write(&path, "start,fixture,duration\n0,basin,10\n").unwrap();
    let path = path.display().to_string();
    done(&format!("trace orchard-cottage --for 1min --demand {path}"));

    fs::write(&path, "start,fixture,duration\n0,basn,10\nx,basin,1\n").unwrap();
    let message = refused(&format!("trace orchard-cottage --demand {path}"));
    insta::assert_snapshot!(message.replace(&path, "taps.csv"), @r"
    shortcycle: taps.csv:2:3: no outlet `basn` at this site (did you mean `basin`?); accepted: basin, shower
    taps.csv:3:1: start `x`: not a time: write seconds, a number with s, min, h or d, or h:mm:ss
    ");
}

#[test]
fn what_cannot_be_done_says_which_flag_or_file_and_what_is_accepted() {
    let mut messages = String::new();
    for line in [
        "trace orchard-cotage",
        "trace lighthouse",
        "trace orchard-cottage --for soon",
        "trace orchard-cottage --for 3y",
        "trace orchard-cottage --every 0.001s",
        "trace orchard-cottage --for 732d --every 1s",
        "trace orchard-cottage --demand household",
        "trace orchard-cottage --demand household:x",
        "trace orchard-cottage --demand household:1:99999",
        "trace orchard-cottage --fault stuck",
        "trace orchard-cottage --fault check_valve.stuck_open=2",
        "trace orchard-cottage --start wet",
        "trace orchard-cottage --plot run.pdf",
        "trace orchard-cottage --csv - --channels tee_presure",
        "trace orchard-cottage --channels tee_pressure",
        "trace orchard-cottage --csv - --format json",
        "trace orchard-cottage --units metric",
        "trace",
        "trce",
    ] {
        messages += &format!("$ shortcycle {line}\n{}\n", refused(line));
    }
    insta::assert_snapshot!(messages);
}

#[test]
fn a_file_that_cannot_be_used_is_named() {
    for (line, begin) in [
        (
            "trace no/such/site.ron",
            "shortcycle: cannot read site file no/such/site.ron: ",
        ),
        (
            "trace orchard-cottage --demand no-such-file.csv",
            "shortcycle: --demand: cannot read no-such-file.csv: ",
        ),
        (
            "trace orchard-cottage --csv no/such/folder/run.csv",
            "shortcycle: --csv: cannot write no/such/folder/run.csv: ",
        ),
        (
            "trace orchard-cottage --plot no/such/folder/run.png",
            "shortcycle: --plot: cannot write no/such/folder/run.png: ",
        ),
    ] {
        let message = refused(line);
        assert!(message.starts_with(begin), "{message}");
    }
}

#[test]
fn help_is_a_result_and_fits_80_columns() {
    let help = done("trace --help");
    insta::assert_snapshot!(help);
    for line in help.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
    assert!(refused("").contains("Usage"));
}

#[test]
fn a_reader_who_stops_reading_is_no_failure() {
    struct Closed;
    impl Write for Closed {
        fn write(&mut self, _: &[u8]) -> io::Result<usize> {
            Err(io::ErrorKind::BrokenPipe.into())
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }
    for line in [
        "trace orchard-cottage",
        "trace orchard-cottage --csv -",
        "trace orchard-cottage --format json",
        "--help",
    ] {
        let mut err = Vec::new();
        let args = ["shortcycle"].into_iter().chain(line.split_whitespace());
        let code = run_with(&Fake, args, &mut Closed, &mut err);
        assert_eq!(code, ExitCode::SUCCESS, "{line}");
        assert!(err.is_empty(), "{line}");
    }
}
