//! Rows of `tests/data/check-values.csv`.

use serde::Deserialize;

const FILE: &str = include_str!("../../data/check-values.csv");

/// How far the published value can be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub(super) enum Confidence {
    /// The cited source itself was read.
    #[serde(rename = "READ-PRIMARY")]
    ReadPrimary,
    /// A copy or quotation of the source was read.
    #[serde(rename = "READ-SECONDARY")]
    ReadSecondary,
    /// Recomputed by an independent program or a closed form.
    #[serde(rename = "COMPUTED")]
    Computed,
    /// Not confirmed in any text.
    #[serde(rename = "MEMORY")]
    Memory,
}

impl Confidence {
    /// As written in the file.
    pub(super) const fn label(self) -> &'static str {
        match self {
            Self::ReadPrimary => "READ-PRIMARY",
            Self::ReadSecondary => "READ-SECONDARY",
            Self::Computed => "COMPUTED",
            Self::Memory => "MEMORY",
        }
    }
}

/// How close ours must come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Tolerance {
    /// |ours − published| ≤ this × |published|.
    Relative(f64),
    /// |ours − published| ≤ this, in the unit of the row.
    Absolute(f64),
    /// The same number.
    Exact,
}

impl Tolerance {
    /// Reads "rel 1e-3", "abs 0.5" or "exact"; anything after that is a remark.
    pub(super) fn parse(text: &str) -> Option<Self> {
        let mut words = text.split_whitespace();
        let kind = words.next()?;
        if kind == "exact" {
            return Some(Self::Exact);
        }
        let amount: f64 = words.next()?.parse().ok()?;
        match kind {
            "rel" => Some(Self::Relative(amount)),
            "abs" => Some(Self::Absolute(amount)),
            _ => None,
        }
    }

    /// Error of `ours` in the measure of this tolerance.
    pub(super) fn error(self, ours: f64, published: f64) -> f64 {
        let difference = (ours - published).abs();
        match self {
            Self::Relative(_) => difference / published.abs(),
            Self::Absolute(_) | Self::Exact => difference,
        }
    }

    /// Largest error allowed.
    pub(super) const fn limit(self) -> f64 {
        match self {
            Self::Relative(limit) | Self::Absolute(limit) => limit,
            Self::Exact => 0.0,
        }
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct RawRow {
    id: String,
    section: String,
    quantity: String,
    inputs: String,
    expected_value: String,
    expected_units: String,
    tolerance: String,
    tolerance_reason: String,
    source: String,
    confidence_class: Confidence,
    confidence: String,
}

/// One published quantity; several values where the row lists several.
#[derive(Debug)]
pub(super) struct Row {
    pub(super) id: String,
    pub(super) section: String,
    pub(super) quantity: String,
    pub(super) inputs: String,
    pub(super) expected_text: String,
    pub(super) expected: Vec<f64>,
    pub(super) units: String,
    pub(super) tolerance: Tolerance,
    pub(super) tolerance_text: String,
    pub(super) tolerance_reason: String,
    pub(super) source: String,
    pub(super) confidence: Confidence,
    pub(super) confidence_text: String,
}

impl Row {
    /// Whether every one of our values is as close as the row asks.
    pub(super) fn is_met_by(&self, ours: &[f64]) -> bool {
        ours.len() == self.expected.len()
            && ours.iter().zip(&self.expected).all(|(ours, published)| {
                self.tolerance.error(*ours, *published) <= self.tolerance.limit()
            })
    }
}

/// All rows, in the order of the file.
pub(super) fn load() -> Vec<Row> {
    csv::Reader::from_reader(FILE.as_bytes())
        .deserialize()
        .map(|raw| validated(raw.expect("check-values.csv has the columns of RawRow")))
        .collect()
}

fn validated(raw: RawRow) -> Row {
    let tolerance = Tolerance::parse(&raw.tolerance);
    let expected = raw.expected_value.split(';').map(|v| v.trim().parse());
    Row {
        tolerance: tolerance
            .unwrap_or_else(|| panic!("{}: cannot read tolerance {:?}", raw.id, raw.tolerance)),
        expected: expected
            .collect::<Result<_, _>>()
            .unwrap_or_else(|_| panic!("{}: not numbers: {:?}", raw.id, raw.expected_value)),
        id: raw.id,
        section: raw.section,
        quantity: raw.quantity,
        inputs: raw.inputs,
        expected_text: raw.expected_value,
        units: raw.expected_units,
        tolerance_text: raw.tolerance,
        tolerance_reason: raw.tolerance_reason,
        source: raw.source,
        confidence: raw.confidence_class,
        confidence_text: raw.confidence,
    }
}

#[test]
fn tolerances_are_read_with_their_remarks_left_aside() {
    for (text, meaning) in [
        ("rel 1e-3", Some(Tolerance::Relative(1e-3))),
        ("rel 0.1 each", Some(Tolerance::Relative(0.1))),
        (
            "rel 1e-4 for the formula; Cd itself 3 %",
            Some(Tolerance::Relative(1e-4)),
        ),
        ("abs 0.5", Some(Tolerance::Absolute(0.5))),
        ("exact", Some(Tolerance::Exact)),
        ("about right", None),
        ("rel", None),
    ] {
        assert_eq!(Tolerance::parse(text), meaning, "{text}");
    }
}

#[test]
fn a_row_of_several_values_is_met_only_by_all_of_them() {
    let mut row = load().swap_remove(0);
    row.expected = vec![1.0, 2.0];
    row.tolerance = Tolerance::Relative(0.01);
    assert!(row.is_met_by(&[1.005, 2.01]));
    assert!(!row.is_met_by(&[1.005, 2.1]));
    assert!(!row.is_met_by(&[1.0]));
    assert!(!row.is_met_by(&[1.0, f64::NAN]));
}
