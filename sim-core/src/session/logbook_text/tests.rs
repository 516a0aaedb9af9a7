use proptest::prelude::*;

use super::*;
use crate::plant::Tick;
use crate::session::{Action, Mode, Moment, Probe, Station};

fn header() -> Header {
    Header {
        logbook: LOGBOOK_VERSION,
        program: "0.1.0".to_owned(),
        scenario: "orchard-morning".to_owned(),
        digest: "00000000000000ab".to_owned(),
        seed: u64::MAX,
        mode: Mode::Graded,
        person: "Reader \"One\"\n".to_owned(),
    }
}

fn record(n: u64, action: Action) -> Record {
    Record {
        n,
        action,
        tick: Tick(n * 50),
        state: format!("{n:016x}"),
    }
}

fn sample() -> Logbook {
    Logbook {
        header: header(),
        records: vec![
            record(1, Action::Go { to: Station::Panel }),
            record(
                2,
                Action::Measure {
                    meter: Probe::Volts,
                    from: "panel.line1".to_owned(),
                    to: Some("panel.line2".to_owned()),
                    moment: Moment::Now,
                },
            ),
            record(3, Action::Wait { seconds: 0.1 + 0.2 }),
            record(4, Action::Listen),
            record(5, Action::Look { at: None }),
        ],
        is_torn: false,
    }
}

fn written(logbook: &Logbook) -> String {
    let records: String = logbook.records.iter().map(Record::to_line).collect();
    logbook.header.to_line() + &records
}

fn told(text: &str) -> String {
    Logbook::parse("class/reader.jsonl", text.as_bytes())
        .unwrap_err()
        .to_string()
}

#[test]
fn what_is_written_comes_back_bit_by_bit() {
    let logbook = sample();
    let text = written(&logbook);
    assert_eq!(text.lines().count(), 6);
    assert_eq!(Logbook::parse("x", text.as_bytes()), Ok(logbook.clone()));
    let windows = format!("\u{feff}{}", text.replace('\n', "\r\n\r\n"));
    assert_eq!(Logbook::parse("x", windows.as_bytes()), Ok(logbook));
}

#[test]
fn a_torn_last_line_is_left_out_and_told() {
    let text = written(&sample());
    let whole = &text[..text.len() - 1];
    assert!(!Logbook::parse("x", whole.as_bytes()).unwrap().is_torn);
    for cut in 2..20 {
        let torn = Logbook::parse("x", &text.as_bytes()[..text.len() - cut]).unwrap();
        assert!(torn.is_torn);
        assert_eq!(torn.records, sample().records[..4]);
    }
    // A line cut off in the middle of the file is no accident of a crash.
    let (head, _) = text.split_at(text.len() - 10);
    assert!(told(&format!("{head}\n")).contains("class/reader.jsonl:6: column"));
}

#[test]
fn a_slip_is_told_with_its_line_and_what_is_accepted() {
    let text = written(&sample());
    let edit = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        format!("{to}\n  {}\n", told(&text.replacen(from, to, 1)))
    };
    let mut shown: String = [
        edit("\"logbook\":1", "\"logbook\":2"),
        edit("\"logbook\":1", "\"logbook\":\"one\""),
        edit("\"logbook\":1", "\"book\":1"),
        edit("\"seed\":", "\"sead\":"),
        edit("\"graded\"", "\"exam\""),
        edit("\"do\":\"go\"", "\"do\":\"fly\""),
        edit("\"to\":\"panel\"", "\"to\":\"attic\""),
        edit("\"to\":\"panel\"", "\"to\":\"panel\",\"by\":\"bus\""),
        edit("\"do\":\"listen\"", "\"do\":\"listen\",\"hard\":true"),
        edit("\"n\":3", "\"n\":-3"),
        edit("\"n\":3", "\"n\":3,\"mark\":100"),
        edit("0.30000000000000004", "1e999"),
    ]
    .concat();
    for text in ["", "\n\n", "[]", "7", "hello", "{}", "{\"logbook\":1}"] {
        shown += &format!("{text:?}\n  {}\n", told(text));
    }
    insta::assert_snapshot!(shown);
}

#[test]
fn size_is_bounded() {
    let text = written(&sample());
    let long = text.replacen("reader", "", 1) + &"x".repeat(MAX_LOGBOOK_BYTES);
    assert!(told(&long).contains("accepted are up to 8388608"));
    let line = format!("{text}{{\"n\":6,{}}}\n", " ".repeat(MAX_LINE_BYTES));
    assert!(told(&line).contains(":7: the line has"));
    let mut many = header().to_line();
    many.extend(std::iter::repeat_n(
        record(1, Action::Smell).to_line(),
        MAX_RECORDS + 1,
    ));
    assert!(told(&many).contains("more than 20000 actions"));
    let deep = format!("{text}{}\n", "[".repeat(30_000));
    assert!(told(&deep).contains(":7:"));
    let named = Header {
        person: "x".repeat(201),
        ..header()
    };
    assert!(told(&named.to_line()).contains("201 characters"));
}

#[test]
fn bytes_that_are_no_text_are_told() {
    let mut bytes = written(&sample()).into_bytes();
    let at = bytes.iter().position(|byte| *byte == b'\n').unwrap() + 3;
    bytes[at] = 0xFF;
    let problem = Logbook::parse("x", &bytes).unwrap_err();
    assert_eq!((problem.line, problem.why), (Some(2), LogbookFlaw::NotText));
}

proptest! {
    #[test]
    fn any_bytes_give_a_logbook_or_a_problem(bytes in prop::collection::vec(any::<u8>(), 0..600)) {
        if let Err(problem) = Logbook::parse("x", &bytes) {
            prop_assert!(!problem.to_string().is_empty());
        }
    }

    #[test]
    fn a_damaged_logbook_gives_a_logbook_or_a_problem(
        at in 0.0..1.0_f64, length in 0_usize..30, put in "[ -~\n]{0,8}"
    ) {
        let text = written(&sample());
        let start = (at * text.len() as f64) as usize;
        let end = (start + length).min(text.len());
        let damaged = [&text.as_bytes()[..start], put.as_bytes(), &text.as_bytes()[end..]].concat();
        match Logbook::parse("x", &damaged) {
            // What is read is written and read again as the same.
            Ok(logbook) => {
                let again = Logbook::parse("x", written(&logbook).as_bytes()).unwrap();
                prop_assert_eq!(again.records, logbook.records);
            }
            Err(problem) => prop_assert!(problem.line.is_none_or(|line| line <= 20)),
        }
    }
}
