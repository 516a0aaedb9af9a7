use proptest::prelude::*;

use super::*;
use crate::demand::test_outlet as fixture;

fn fixtures() -> Vec<FixtureSpec> {
    // 2 gpm: 0.1262 L/s.
    vec![fixture("basin", 2.0), fixture("shower", 2.0)]
}

fn read(text: &str) -> Result<DemandSchedule, String> {
    from_csv("taps.csv", text.as_bytes(), &fixtures()).map_err(|problems| problems.to_string())
}

#[test]
fn every_way_to_state_an_amount_is_read() {
    let schedule = read(concat!(
        "# a morning\r\n",
        "fixture,start,duration,opening,volume\r\n",
        "basin,0,10s,,\r\n",
        "shower,0:01:00,8 min,0.5,\r\n",
        "\r\n",
        "\"basin\",10min,,50%,1 gal\r\n",
        "basin,20min,,,2 gal\r\n",
        "basin,30min,2 min,,2 gal\r\n",
    ))
    .unwrap();
    let rows: Vec<_> = schedule
        .draws()
        .iter()
        .map(|d| (d.start_ticks, d.duration_ticks, d.fixture, d.opening))
        .collect();
    assert_eq!(
        rows,
        [
            (0, 500, 0, 1.0),
            (3_000, 24_000, 1, 0.5),
            (30_000, 3_000, 0, 0.5),
            (60_000, 3_000, 0, 1.0),
            (90_000, 6_000, 0, 0.5),
        ]
    );
}

#[test]
fn every_problem_of_a_file_is_reported_with_its_place() {
    let problems = read(concat!(
        "start,fixture,duration,opening,volume\n",
        "soon,basn,10,,\n",
        "0,basin,-3,,\n",
        "0,basin,0,150%,\n",
        "0,basin,,,6\n",
        "0,basin,,,\n",
        "0,basin,10,1,1 L\n",
        "0,basin,10,,500 L\n",
        "0,basin\n",
        "0,\"basin,10,,\n",
        "0,\"basin\"x,10,,\n",
    ))
    .unwrap_err();
    insta::assert_snapshot!(problems, @r"
    taps.csv:2:1: start `soon`: not a time: write seconds, a number with s, min, h or d, or h:mm:ss
    taps.csv:2:6: no outlet `basn` at this site (did you mean `basin`?); accepted: basin, shower
    taps.csv:3:9: duration `-3`: a time must not be negative
    taps.csv:4:9: duration `0`: accepted is a time above zero
    taps.csv:4:11: opening `150%`: accepted is a number above 0 and up to 1, or a percentage such as 50%
    taps.csv:5:11: volume `6`: accepted is a volume such as 6 L or 1.6 gal, above zero and up to 1000000 L
    taps.csv:6:1: no amount; give duration or volume
    taps.csv:7:1: duration, opening and volume together say too much; leave one empty
    taps.csv:8:1: `basin` gives at most 1.3 L in that time at its rated flow
    taps.csv:9:1: 2 fields where the header has 5
    taps.csv:10:3: a quoted field must end with a quote on the same line
    taps.csv:11:10: after a quoted field comes a comma or the end of the line
    ");
}

#[test]
fn a_header_that_does_not_fit_is_reported_before_any_draw_is_read() {
    let problems = read("begin,fixture,fixture,durations\nx,y,z\n").unwrap_err();
    insta::assert_snapshot!(problems, @r"
    taps.csv:1:1: unknown column `begin`; accepted: start, fixture, duration, opening, volume
    taps.csv:1:15: column `fixture` is given twice
    taps.csv:1:23: unknown column `durations` (did you mean `duration`?); accepted: start, fixture, duration, opening, volume
    taps.csv:1:1: no column `start`; needed are start, fixture, and duration or volume
    taps.csv:1:1: neither column `duration` nor column `volume`; at least one is needed
    ");
    insta::assert_snapshot!(
        read("# nothing\n\n").unwrap_err(),
        @"taps.csv:1:1: no header line; the first line names the columns: start, fixture, duration, opening, volume"
    );
}

#[test]
fn bytes_that_are_no_text_are_placed() {
    let problems = from_csv("taps.csv", b"start,fixture\n0,b\xff", &fixtures()).unwrap_err();
    assert_eq!(
        problems.to_string(),
        "taps.csv:2:4: not UTF-8 text; save the file as UTF-8"
    );
}

#[test]
fn size_is_bounded_and_so_is_the_list_of_problems() {
    let problems = from_csv("taps.csv", &vec![b' '; MAX_BYTES + 1], &fixtures()).unwrap_err();
    assert!(matches!(
        problems.problems()[0].kind,
        DemandProblemKind::TooLarge { .. }
    ));

    let many = format!("start,fixture,duration\n{}", "x,basin,1\n".repeat(1_000));
    let problems = from_csv("taps.csv", many.as_bytes(), &fixtures()).unwrap_err();
    assert_eq!(problems.problems().len(), MAX_PROBLEMS);
    assert!(problems.to_string().ends_with("and 950 more problems"));
}

proptest! {
    #[test]
    fn any_bytes_give_a_schedule_or_problems(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        let _ = from_csv("x", &bytes, &fixtures());
    }

    #[test]
    fn any_cells_give_a_schedule_or_problems(cells in "(start|fixture|volume|duration|opening|basin|[0-9]{1,20}|[-+.:%eE\",\n #L]|gal|h|nan|inf){0,60}") {
        let text = format!("start,fixture,duration,opening,volume\n{cells}");
        if let Ok(schedule) = from_csv("x", text.as_bytes(), &fixtures()) {
            for draw in schedule.draws() {
                prop_assert!(draw.opening > 0.0 && draw.opening <= 1.0);
                prop_assert!(draw.duration_ticks > 0);
            }
        }
    }
}
