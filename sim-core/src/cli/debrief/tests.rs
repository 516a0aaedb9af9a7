//! The debrief in its three forms, of a small visit written by hand.

use super::*;
use crate::catalog::PartId;
use crate::cues::{Cue, Sense};
use crate::faults::FaultKind;
use crate::marking::{
    Called, Counts, EndCondition, Finding, HiddenFault, PartMark, Row, ScenarioFacts, Unneeded,
    WhyUnneeded,
};
use crate::plant::Tick;
use crate::session::{
    Action, Entry, FaultName, HazardKind, Mode, Moment, Observation, Probe, Proof, Station,
};
use crate::units::convert::PSI;

fn row(n: u64, minute: u64, station: Station, action: Action, readings: Vec<Observation>) -> Row {
    let entry = |observation| Entry {
        tick: Tick(3_000 * minute),
        station,
        observation,
        state: "breaker on".to_owned(),
    };
    Row {
        n,
        begun: Tick(3_000 * minute),
        ended: Tick(3_000 * (minute + 1)),
        station,
        action,
        readings: readings.into_iter().map(entry).collect(),
        cues: Vec::new(),
        remarks: Vec::new(),
        money: 0.0,
        hazard: None,
        is_undone: false,
    }
}

fn gauge(psi: f64) -> Vec<Observation> {
    vec![Observation::Reading {
        instrument: "gauge".to_owned(),
        place: Vec::new(),
        value: psi * PSI,
        error: PSI,
        unit: "Pa".to_owned(),
        shown: String::new(),
    }]
}

fn timeline(with_hazard: bool) -> Vec<Row> {
    let wall = Station::Wall;
    let mut rows = vec![
        row(1, 0, wall, Action::ReadGauge, gauge(42.0)),
        row(
            2,
            2,
            wall,
            Action::LogGauge {
                seconds: 900.0,
                every: 60.0,
            },
            vec![Observation::Log {
                instrument: "gauge".to_owned(),
                points: vec![(0.0, 42.0 * PSI), (900.0, 33.0 * PSI)],
            }],
        ),
        row(3, 18, wall, Action::Listen, Vec::new()),
        row(
            4,
            19,
            wall,
            Action::Call {
                faults: vec![FaultName(FaultKind::CheckValveWeeping)],
            },
            Vec::new(),
        ),
        row(
            5,
            20,
            Station::Panel,
            Action::Measure {
                meter: Probe::Volts,
                from: "panel.line1".to_owned(),
                to: Some("panel.line2".to_owned()),
                moment: Moment::Now,
            },
            vec![Observation::Reading {
                instrument: "volts".to_owned(),
                place: vec!["panel.line1".to_owned(), "panel.line2".to_owned()],
                value: 239.4,
                error: 3.0,
                unit: "V".to_owned(),
                shown: "239 V".to_owned(),
            }],
        ),
        row(
            6,
            24,
            Station::Source,
            Action::Replace {
                part: PartId::CheckValve,
            },
            Vec::new(),
        ),
        row(
            7,
            70,
            wall,
            Action::Prove,
            vec![Observation::Proof(Proof {
                cut_in: Some(29.6 * PSI),
                cut_out: Some(50.2 * PSI),
                run_s: Some(64.0),
                hold: Some((49.1 * PSI, 48.8 * PSI)),
                drawdown: Some(0.0219),
                drawdown_expected: 0.0224,
                earth_ohm: Some(0.31),
            })],
        ),
        row(
            8,
            95,
            wall,
            Action::Note {
                text: "<script>alert(1)</script> \u{1b}[31m & \"quoted\" \u{202e}".to_owned(),
            },
            vec![Observation::Note(
                "<script>alert(1)</script> \u{1b}[31m & \"quoted\" \u{202e}".to_owned(),
            )],
        ),
    ];
    rows[2].cues = vec![Cue {
        name: "water_runs_back".to_owned(),
        sense: Sense::Hearing,
        part: PartId::CheckValve,
        level: 0.3,
        caption: "A faint trickle from the pipe, going away from the house.".to_owned(),
    }];
    rows[5].money = 90.0;
    if with_hazard {
        let mut last = row(9, 97, Station::Source, Action::EnterSource, Vec::new());
        last.hazard = Some(HazardKind::ConfinedSpace.told());
        rows.push(last);
    }
    rows
}

/// A check valve that weeps, found, replaced and proved.
pub(in crate::cli) fn example(with_hazard: bool) -> Report {
    let finding = |sentence: &str, action, share| Finding {
        sentence: sentence.to_owned(),
        action,
        share,
    };
    let part = |name, label, weight, earned, findings| PartMark {
        name,
        label,
        weight,
        earned,
        findings,
    };
    let safety = if with_hazard {
        vec![finding(
            "You would have lost consciousness. Instead: nobody enters.",
            Some(9),
            -1.0,
        )]
    } else {
        vec![
            finding("The switch cover was left open.", None, -0.2),
            finding("The earth conductor was checked.", Some(7), 0.0),
        ]
    };
    Report {
        scenario: ScenarioFacts {
            name: "restless-pump".to_owned(),
            title: "The pump starts at night".to_owned(),
            level: 2,
            site: "Orchard cottage on a buried cistern".to_owned(),
            complaint: "It starts and nobody draws water.\n\nMy husband says it is the tank & he is \"sure\"."
                .to_owned(),
            cut_in_pa: 30.0 * PSI,
            cut_out_pa: 50.0 * PSI,
            par_minutes: 80.0,
            par_money: 90.0,
            budget_minutes: 180.0,
            budget_money: 500.0,
            teaching: "A pressure that falls with the house valve shut is lost towards the source.\n\n\
                       Then only the check valve and the run are left."
                .to_owned(),
            references: vec![
                "Reads a leak-down. Evidence: a log of the gauge. (common practice, no source)"
                    .to_owned(),
            ],
        },
        person: "Reader <One>".to_owned(),
        mode: Mode::Graded,
        seed: 7,
        recorded_by: "0.1.0".to_owned(),
        marked_by: "0.1.0".to_owned(),
        is_torn: false,
        is_over: true,
        total: if with_hazard { 69.0 } else { 92.7 },
        pass_mark: 70.0,
        passes: !with_hazard,
        is_capped: with_hazard,
        parts: vec![
            part(
                "call",
                "The call",
                30.0,
                30.0,
                vec![finding(
                    "Rightly called: check valve weeping. Evidence from action 2: the gauge over a time.",
                    Some(4),
                    1.0,
                )],
            ),
            part(
                "repair",
                "The repair",
                20.0,
                20.0,
                vec![finding("Well at the end: check valve weeping.", Some(6), 1.0)],
            ),
            part(
                "proof",
                "The proof",
                20.0,
                20.0,
                vec![
                    finding("The pump built to cut-out and stopped itself.", Some(7), 0.4),
                    finding("The pressure held.", Some(7), 0.3),
                    finding("The drawdown was as expected: 98 % of what the tank should give.", Some(7), 0.3),
                ],
            ),
            part(
                "safety",
                "Safety",
                20.0,
                if with_hazard { 0.0 } else { 16.0 },
                safety,
            ),
            part(
                "economy",
                "Economy",
                10.0,
                6.7,
                vec![
                    finding("97 min; par 80, budget 180.", None, 0.42),
                    finding("90 USD; par 90, budget 500.", None, 0.5),
                    finding("A new gauge, though the old one was sound.", Some(6), -0.25),
                ],
            ),
        ],
        hidden: vec![HiddenFault {
            name: "check_valve.weeping",
            title: "check valve weeping".to_owned(),
            part: PartId::CheckValve,
            mechanism: "The seat of the shut check valve lets a little water back.".to_owned(),
            severity: 0.13,
            unit: "gpm",
            remedies: vec![
                "replace the check valve".to_owned(),
                "clean the check valve".to_owned(),
            ],
            proof: "With power locked off the gauge falls no more than 1 psi in two hours."
                .to_owned(),
            signs: vec![
                "gauge: falls slowly with the house valve shut".to_owned(),
                "timing: starts without use".to_owned(),
            ],
            look_alikes: vec![(
                "house leak".to_owned(),
                "With the house valve shut the gauge stands still.".to_owned(),
            )],
            is_cured: true,
        }],
        called: Some(vec![Called {
            name: "check_valve.weeping",
            title: "check valve weeping".to_owned(),
            is_right: true,
        }]),
        condition: EndCondition {
            spoilt: Vec::new(),
            untidy: vec!["The switch cover was left open.".to_owned()],
            owes_disinfection: false,
        },
        unneeded: vec![Unneeded {
            part: PartId::Gauge,
            action: 6,
            why: WhyUnneeded::Sound,
            money: 20.0,
        }],
        timeline: timeline(with_hazard),
        gauge: vec![
            (0.0, 42.0 * PSI),
            (1_080.0, 32.0 * PSI),
            (1_500.0, 30.0 * PSI),
            (1_560.0, 50.0 * PSI),
            (1_600.0, 0.0),
            (4_000.0, 0.0),
            (4_200.0, 50.0 * PSI),
            (5_000.0, 48.8 * PSI),
            (5_300.0, 29.6 * PSI),
            (5_364.0, 50.2 * PSI),
            (5_820.0, 49.0 * PSI),
        ],
        minutes: 97.0,
        money: 90.0,
        counts: Counts {
            actions: 8 + u64::from(with_hazard),
            readings: 5,
            cues: 1,
            repairs: 1,
            parts: 1,
            calls: 1,
            hints: 0,
            undone: 0,
            hazards: u64::from(with_hazard),
        },
    }
}

#[test]
fn a_debrief_for_people() {
    let text = text::text(&example(true), None);
    insta::assert_snapshot!(text);
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn a_debrief_for_programs() {
    let json = json::json(&example(false), None).unwrap();
    let value: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(value["format"], "shortcycle-debrief");
    insta::assert_snapshot!(json);
}

#[test]
fn nothing_of_a_persons_text_steers_a_terminal() {
    let report = Report {
        person: "\u{1b}[2J\u{7}Reader".to_owned(),
        ..example(true)
    };
    assert!(!text::text(&report, None).contains(['\u{1b}', '\u{7}']));
}

/// The page's tags in order; a self-closing one is told by its `/`.
fn tags(page: &str) -> Vec<(String, String)> {
    let mut tags = Vec::new();
    let (head, style) = page.split_once("<style>").unwrap();
    let (_, body) = style.split_once("</style>").unwrap();
    let mut rest = format!("{head}{body}");
    while let Some(start) = rest.find('<') {
        let end = start + rest[start..].find('>').expect("every tag ends");
        let tag = rest[start + 1..end].to_owned();
        assert!(!tag.contains('<'), "{tag}");
        let name: String = tag
            .trim_start_matches('/')
            .chars()
            .take_while(|c| c.is_alphanumeric() || *c == '!')
            .collect();
        tags.push((name, tag));
        rest = rest[end + 1..].to_owned();
    }
    tags
}

#[test]
fn the_page_is_well_formed_and_needs_nothing_else() {
    for with_hazard in [false, true] {
        let page = page(&example(with_hazard)).unwrap();
        let mut open: Vec<String> = Vec::new();
        for (name, tag) in tags(&page) {
            assert_eq!(tag.matches('"').count() % 2, 0, "{tag}");
            if name.starts_with('!') || tag.ends_with('/') {
                continue;
            }
            if tag.starts_with('/') {
                assert_eq!(open.pop(), Some(name), "{tag}");
            } else {
                open.push(name);
            }
        }
        assert!(open.is_empty(), "{open:?}");
        // No script, no other file, nothing from a network.
        for banned in [
            "<script", "<link", "<img", "<iframe", "src=", "href=", "url(", "@import", "http:",
            "https:", "onload", "onclick",
        ] {
            assert!(!page.contains(banned), "{banned}");
        }
        assert!(page.contains("Reader &lt;One&gt;") && !page.contains("Reader <One>"));
        assert!(page.contains("lang=\"en\"") && page.contains("prefers-color-scheme:dark"));
        assert!(page.contains("29.6 psi (204 kPa)"), "both unit systems");
        assert_eq!(page.contains("class=\"hazard\""), with_hazard);
    }
}

#[test]
fn the_plot_has_a_mark_for_every_act_and_stays_in_its_frame() {
    let mut report = example(true);
    // Sixty readings in a row share marks; none is lost.
    report.timeline = (1..=60)
        .map(|n| row(n, n, Station::Wall, Action::ReadGauge, gauge(40.0)))
        .collect();
    let mut svg = String::new();
    timeline::svg(&mut svg, &report).unwrap();
    for n in 1..=60 {
        assert!(svg.contains(&format!("{n} read the gauge")), "{n}");
    }
    let marks = svg.matches("<g>").count();
    assert!((2..=60).contains(&marks), "{marks}");
    for number in svg.split(" x=\"").skip(1) {
        let x: f64 = number.split('"').next().unwrap().parse().unwrap();
        assert!((0.0..=860.0).contains(&x), "{x}");
    }
}

#[test]
fn an_empty_visit_has_a_debrief() {
    let report = Report {
        timeline: Vec::new(),
        gauge: Vec::new(),
        hidden: Vec::new(),
        called: None,
        minutes: 0.0,
        ..example(false)
    };
    assert!(text::text(&report, None).contains("Nothing: the system was sound."));
    assert!(page(&report).unwrap().contains("Nothing."));
    json::json(&report, None).unwrap();
}

/// A visit that reads the gauge twice for nothing: the second is called a repetition, the
/// reading that would have told most is named, and every form of the debrief has it.
#[test]
fn what_a_repeated_reading_was_worth_is_told() {
    use std::sync::Arc;

    use crate::scenario::Scenario;
    use crate::session::{Header, Logbook, Record, Visit};

    let scenario = Arc::new(Scenario::shipped("first-steps").unwrap());
    let mut visit = Visit::begin(&scenario, 1, Mode::Practice).unwrap();
    let mut logbook = Logbook {
        header: Header::of(&visit, ""),
        records: Vec::new(),
        is_torn: false,
    };
    for action in [Action::ReadGauge, Action::ReadGauge, Action::ReadGauge] {
        visit.perform(&action).unwrap();
        logbook.records.push(Record::of(&visit, &action));
    }
    let report = crate::marking::mark(&scenario, &logbook).unwrap();
    let worths = worth::follow(&scenario, &report);
    assert_eq!(worths.not_followed, None);
    assert_eq!(worths.readings.len(), 3);
    let [first, _, third] = &worths.readings[..] else {
        panic!("three readings");
    };
    assert!(first.moved_bits > third.moved_bits, "{worths:?}");
    assert!(
        third.words.contains("the same was done in action 2"),
        "{worths:?}"
    );
    assert!(worths.better.iter().any(|better| better.after == 0));
    assert!(worths.better.iter().any(|better| better.after == 3));
    let text = text::text(&report, Some(&worths));
    assert!(text.contains("What each reading was worth"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 80));
    let page = html::html(&report, Some(&worths)).unwrap();
    assert!(page.contains("What each reading was worth"));
    let json = json::json(&report, Some(&worths)).unwrap();
    assert!(json.contains("\"worths\""));
}
