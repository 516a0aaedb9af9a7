//! The notation, its recovery, and agreement with an independent RON reader.

use proptest::prelude::*;

use super::*;
use crate::file::problem::{Form, Problem, Problems};

const FORM: Form = Form {
    noun: "site",
    outline: "a site in parentheses: (version: 1, name: \"..\", ..)",
    fields: &[],
};

fn read_all(text: &str) -> (Value, Vec<Problem>) {
    let problems = Problems::new("t.ron", &FORM);
    let value = read(text, &problems);
    (value, problems.into_sorted())
}

fn messages(text: &str) -> Vec<String> {
    read_all(text)
        .1
        .iter()
        .map(|p| format!("{}:{} {}: {}", p.line, p.column, p.part, p.message))
        .collect()
}

fn field<'a>(value: &'a Value, name: &str) -> &'a Value {
    let ValueKind::Struct { fields, .. } = &value.kind else {
        panic!("not a struct: {value:?}");
    };
    &fields.iter().find(|f| f.name == name).unwrap().value
}

#[test]
fn every_kind_of_value_is_read_with_its_position() {
    let text = "// head\n(\n  a: \"x\\\"\\u{e9}\", /* in /* nested */ side */ b: -1.5e-3,\n  \
                c: [1, 2,], d: Cistern(e: true), f: None, g: Some(7), h: r#\"raw \" text\"#, \
                i: Submersible,\n)";
    let (value, problems) = read_all(text);
    assert_eq!(problems, []);
    assert_eq!(field(&value, "a").kind, ValueKind::Text("x\"é".to_owned()));
    assert_eq!(field(&value, "a").at.line, 3);
    assert_eq!(field(&value, "a").at.column, 6);
    assert!(
        matches!(field(&value, "b").kind, ValueKind::Number { number, .. } if number == -1.5e-3)
    );
    assert!(matches!(&field(&value, "c").kind, ValueKind::List { items, .. } if items.len() == 2));
    assert_eq!(field(field(&value, "d"), "e").kind, ValueKind::Truth(true));
    assert_eq!(field(&value, "f").kind, ValueKind::Nothing);
    assert!(matches!(field(&value, "g").kind, ValueKind::Number { .. }));
    assert_eq!(
        field(&value, "h").kind,
        ValueKind::Text("raw \" text".to_owned())
    );
    assert_eq!(
        field(&value, "i").kind,
        ValueKind::Name("Submersible".to_owned())
    );
}

#[test]
fn reading_goes_on_after_each_mistake() {
    assert_eq!(
        messages("(a = 1,\n b \"x\",\n c: 1\n d: 2,\n ,\n e: @@,\n f,\n g: 1.2.3,\n)"),
        [
            "1:4 a: `=` after a field's name",
            "2:4 b: no colon between the field's name and its value",
            "4:2 site: no comma before \"d\"",
            "5:2 site: a comma with nothing before it",
            "6:5 e: \"@@\" has no meaning here",
            "6:7 e: `,` where a value should stand",
            "7:2 site: \"f\" is not followed by a value",
            "8:5 g: \"1.2.3\" is not a number",
        ]
    );
}

#[test]
fn a_bracket_that_does_not_match_is_named_with_its_partner() {
    assert_eq!(
        messages("(a: [1, 2), b: 3)"),
        [
            "1:10 a: `)` closes the `[` of line 1, column 5",
            "1:11 site: `,` after the end of the site"
        ]
    );
    assert_eq!(messages("(a: (b: 1"), ["1:5 a: this `(` is never closed"]);
    assert_eq!(
        messages("(a: \"x\n)"),
        ["1:5 a: this text is not closed on its line"]
    );
    assert_eq!(
        messages("(a: 1) /* x"),
        ["1:8 site: this comment is never closed"]
    );
}

#[test]
fn endless_nesting_stops_at_the_bound() {
    for text in [
        "(a:".repeat(100_000),
        "[".repeat(300_000),
        "Some(".repeat(100_000),
    ] {
        let problems = read_all(&text).1;
        assert!(
            !problems.is_empty() && problems.len() < 8,
            "{}",
            problems.len()
        );
    }
    let deep = format!("{}{}", "[".repeat(64), "]".repeat(64));
    assert_eq!(read_all(&deep).1, []);
}

#[test]
fn too_many_values_are_refused() {
    let problems = read_all(&format!("[{}]", "1,".repeat(500_000))).1;
    assert_eq!(problems.len(), 1);
    assert!(problems[0].message.contains("too many values"));
}

/// Pieces from which texts are put together that are often right and often nearly so.
fn piece() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec![
        "(",
        ")",
        "[",
        "]",
        "a:",
        "b:",
        "c_1:",
        ",",
        ",",
        "1",
        "-2.5",
        "1e3",
        "01",
        "1.",
        "+4",
        "\"x\"",
        "\"\\n\\u{41}\"",
        "r\"y\"",
        "r#\"z\"#",
        "true",
        "None",
        "Some(",
        "Name",
        "Name(",
        " ",
        "\n",
        "// c\n",
        "/* d */",
        "/* /* e */ */",
        "0x10",
        "1_000",
        "--1",
        "r",
        "false(",
        "123456789012345678",
        "1.5e-3",
    ])
}

proptest! {
    /// Differential: `ron` is an independent reader of the same notation.
    #[test]
    fn whatever_is_read_without_problem_other_ron_readers_accept(
        pieces in prop::collection::vec(piece(), 1..24)
    ) {
        let text = pieces.concat();
        if read_all(&text).1.is_empty() {
            prop_assert!(
                ron::from_str::<ron::Value>(&text).is_ok(),
                "{text:?}: {:?}", ron::from_str::<ron::Value>(&text)
            );
        }
    }

    #[test]
    fn any_text_is_read_without_panic(text in "\\PC*") {
        read_all(&text);
    }
}
