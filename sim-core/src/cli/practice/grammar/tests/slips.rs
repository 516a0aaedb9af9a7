//! What is said to lines that are not understood.

use std::fmt::Write;

use proptest::prelude::*;

use super::*;

#[test]
fn slips_are_answered_with_one_suggestion_or_with_what_is_accepted() {
    let mut told = String::new();
    for (station, line) in [
        (Station::Wall, "raed the gauge"),
        (Station::Wall, "go to the pannel"),
        (Station::Wall, "open the kichen tap"),
        (Station::Wall, "open the valve"),
        (Station::Wall, "open the switch"),
        (Station::Wall, "wait 5"),
        (Station::Wall, "wait until tuesday"),
        (Station::Wall, "wait"),
        (Station::Wall, "volts"),
        (Station::Wall, "volts load1 to laod2"),
        (Station::House, "volts load1 to load2"),
        (Station::Panel, "inrush"),
        (Station::Wall, "set air to lots"),
        (Station::Wall, "add air"),
        (Station::Wall, "set switch 40"),
        (Station::Wall, "set switch 40 psi 3 bar"),
        (Station::Wall, "go into the cistern"),
        (Station::Wall, "replace the flux capacitor"),
        (Station::Wall, "call the splice"),
        (Station::Wall, "call check valve weping"),
        (Station::Wall, "call gremlins"),
        (Station::Wall, "fix the pump"),
        (Station::House, "open the garden tap"),
        (Station::House, "bucket"),
        (Station::House, "dance a jig"),
        (Station::Wall, "help juggling"),
        (Station::Wall, "open the drain a lot"),
        (Station::Wall, "note"),
        (Station::Wall, "the"),
    ] {
        let problem = at(station, Units::Us, |context| {
            read(line, context).unwrap_err()
        });
        let _ = writeln!(told, "> {line}\n  {}", problem.message);
        if let Some(suggestion) = &problem.suggestion {
            let _ = writeln!(told, "  did you mean: {suggestion}");
        }
        if !problem.accepted.is_empty() {
            let _ = writeln!(told, "  accepted: {}", problem.accepted.join(" | "));
        }
    }
    insta::assert_snapshot!(told);
}

#[test]
fn a_very_long_line_is_refused_soon() {
    let long = "volts ".repeat(60);
    at(Station::Wall, Units::Us, |context| {
        assert!(read(&long, context).is_err());
        assert!(read(&"a".repeat(10_000), context).is_err());
    });
}

proptest! {
    #[test]
    fn no_line_of_any_bytes_panics(bytes in prop::collection::vec(any::<u8>(), 0..120)) {
        let line = String::from_utf8_lossy(&bytes);
        at(Station::Wall, Units::Us, |context| drop(read(&line, context)));
    }

    #[test]
    fn no_row_of_known_words_panics(
        picks in prop::collection::vec(any::<prop::sample::Index>(), 0..12)
    ) {
        let words: Vec<&str> = pattern::literals()
            .chain(names::words())
            .chain(faults::words())
            .chain(["1/0", "-3", "9e99", "40/", "/60", "::", "0:0:0", "%", "100000", "é", "至"])
            .collect();
        let line: Vec<&str> = picks.iter().map(|pick| *pick.get(&words)).collect();
        at(Station::Splice, Units::Si, |context| drop(read(&line.join(" "), context)));
    }
}
