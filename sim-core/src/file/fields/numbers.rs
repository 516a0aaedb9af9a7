//! Numbers, quantities and ratings of a group: bare numbers, texts with units,
//! heights given as depths, so much flow at so much pressure drop.

use super::{Fields, Found, Located};
use crate::file::problem::{Spot, quoted};
use crate::file::quantity::{Quantity, Refusal, four_digits, parse_quantity};
use crate::file::range::{RATING_DROP, RATING_FLOW, Range};
use crate::file::ron_text::{Value, ValueKind};
use crate::parts::FlowRating;
use crate::units::{CubicMetersPerSecond, Meters, Pascals};

impl Fields<'_> {
    /// A bare number in `range`, or `default` when the field is absent.
    pub(crate) fn number_or(&self, name: &str, range: Range, default: f64) -> Found<f64> {
        let accepted = || {
            format!(
                "a number from {} to {} without unit",
                four_digits(range.least),
                four_digits(range.most)
            )
        };
        let Some(value) = self.slot(name) else {
            return Some(Located {
                value: default,
                spot: self.spot(),
                written: four_digits(default),
                unit: None,
            });
        };
        let message = match &value.kind {
            ValueKind::Damaged => return None,
            ValueKind::Number { written, number } if range.holds(*number) => {
                return Some(self.located(name, value, *number, written.clone()));
            }
            ValueKind::Number { written, .. } => format!("{written} is out of range"),
            _ => format!("{} is not a bare number", value.describe()),
        };
        let accepted = accepted();
        self.refuse(name, value, Refusal { message, accepted });
        None
    }

    /// A bare number in `range` that must be there.
    pub(crate) fn number(&self, name: &str, range: Range) -> Found<f64> {
        let accepted = format!(
            "a number from {} to {} without unit",
            four_digits(range.least),
            four_digits(range.most)
        );
        let found = self.required_number(name, &accepted)?;
        if range.holds(found.value) {
            return Some(found);
        }
        let message = format!("{} is out of range", found.written);
        self.report_refusal(&found.spot, Refusal { message, accepted });
        None
    }

    /// A required number that must be one of a few.
    pub(crate) fn required_number(&self, name: &str, accepted: &str) -> Found<f64> {
        let value = self.required(name, || accepted.to_owned())?;
        match &value.kind {
            ValueKind::Damaged => None,
            ValueKind::Number { written, number } => {
                Some(self.located(name, value, *number, written.clone()))
            }
            _ => {
                let message = format!("{} is not a bare number", value.describe());
                let accepted = accepted.to_owned();
                self.refuse(name, value, Refusal { message, accepted });
                None
            }
        }
    }

    /// A quantity that must be there.
    pub(crate) fn quantity<Q: Quantity>(&self, name: &str, range: Range) -> Found<Q> {
        let example = || {
            format!(
                "{} such as \"{}\"",
                Q::DIMENSION.words(),
                Q::DIMENSION.example()
            )
        };
        let value = self.required(name, example)?;
        self.quantity_of(name, value, range)
    }

    /// A quantity that may be absent: `None` outside when absent, inside after a problem.
    pub(crate) fn optional_quantity<Q: Quantity>(
        &self,
        name: &str,
        range: Range,
    ) -> Option<Found<Q>> {
        let value = self.slot(name)?;
        Some(self.quantity_of(name, value, range))
    }

    /// A quantity with a default, given as it would stand in the file.
    pub(crate) fn quantity_or<Q: Quantity>(
        &self,
        name: &str,
        range: Range,
        default: &'static str,
    ) -> Found<Q> {
        if let Some(value) = self.slot(name) {
            return self.quantity_of(name, value, range);
        }
        let measured = parse_quantity(default, Q::DIMENSION).ok()?;
        Some(Located {
            value: Q::from_si(measured.si),
            spot: Spot {
                at: self.at,
                part: self.name_of(name),
            },
            written: format!("{} by default", quoted(default)),
            unit: Some(measured.unit),
        })
    }

    fn quantity_of<Q: Quantity>(&self, name: &str, value: &Value, range: Range) -> Found<Q> {
        let text = match &value.kind {
            ValueKind::Damaged => return None,
            ValueKind::Text(text) => text,
            other => {
                let reason = if matches!(other, ValueKind::Number { .. }) {
                    "has no unit"
                } else {
                    "is not a quantity in quotes"
                };
                let message = format!("{} {reason}", value.describe());
                let accepted = format!(
                    "{} such as \"{}\"",
                    Q::DIMENSION.words(),
                    Q::DIMENSION.example()
                );
                self.refuse(name, value, Refusal { message, accepted });
                return None;
            }
        };
        match parse_quantity(text, Q::DIMENSION) {
            Ok(measured) if range.holds(measured.si) => {
                let mut found = self.located(name, value, Q::from_si(measured.si), quoted(text));
                found.unit = Some(measured.unit);
                Some(found)
            }
            Ok(measured) => {
                let message = format!("{} is out of range", quoted(text));
                let accepted = range.show(measured.unit);
                self.refuse(name, value, Refusal { message, accepted });
                None
            }
            Err(refusal) => {
                self.refuse(name, value, refusal);
                None
            }
        }
    }

    /// A height above ground, which the file gives as a depth or as a height.
    pub(crate) fn elevation(
        &self,
        (depth, depth_range): (&str, Range),
        (height, height_range): (&str, Range),
    ) -> Found<Meters> {
        match (self.slot(depth), self.slot(height)) {
            (Some(value), None) => self
                .quantity_of::<Meters>(depth, value, depth_range)
                .map(|found| found.map(|depth| Meters(-depth.si()))),
            (None, Some(value)) => self.quantity_of(height, value, height_range),
            (Some(_), Some(_)) => {
                self.report_conflict(depth, height);
                None
            }
            (None, None) => {
                self.required(depth, || {
                    format!("{depth} below ground or {height} above ground, such as \"5 ft 6 in\"")
                });
                None
            }
        }
    }

    /// A rating that must be there: so much flow at so much pressure drop.
    pub(crate) fn rating(&self, name: &str) -> Found<FlowRating> {
        let value = self.required(name, || RATING_EXAMPLE.to_owned())?;
        self.rating_of(name, value)
    }

    /// A rating that may be absent, like [`Self::optional_quantity`].
    pub(crate) fn optional_rating(&self, name: &str) -> Option<Found<FlowRating>> {
        let value = self.slot(name)?;
        Some(self.rating_of(name, value))
    }

    fn rating_of(&self, name: &str, value: &Value) -> Found<FlowRating> {
        let refusal = match &value.kind {
            ValueKind::Damaged => return None,
            ValueKind::Text(text) => match parse_rating(text) {
                Ok(rating) => return Some(self.located(name, value, rating, quoted(text))),
                Err(refusal) => refusal,
            },
            _ => Refusal {
                message: format!("{} is not a rating in quotes", value.describe()),
                accepted: RATING_EXAMPLE.to_owned(),
            },
        };
        self.refuse(name, value, refusal);
        None
    }
}

const RATING_EXAMPLE: &str =
    "a flow at a pressure drop such as \"5 gpm at 30 psi\" or \"0.5 psi at 10 gpm\"";

/// Reads `"5 gpm at 30 psi"`, in either order.
fn parse_rating(text: &str) -> Result<FlowRating, Refusal> {
    let refuse = |message: String| Refusal {
        message,
        accepted: RATING_EXAMPLE.to_owned(),
    };
    let Some((first, second)) = text.split_once(" at ") else {
        return Err(refuse(format!("{} has no \" at \"", quoted(text))));
    };
    let flow_of = |text| parse_quantity(text, CubicMetersPerSecond::DIMENSION);
    let drop_of = |text| parse_quantity(text, Pascals::DIMENSION);
    let (flow, drop) = match (drop_of(first), flow_of(second)) {
        (Ok(drop), Ok(flow)) => (flow, drop),
        _ => match (flow_of(first), drop_of(second)) {
            (Ok(flow), Ok(drop)) => (flow, drop),
            (Err(refusal), _) | (_, Err(refusal)) => {
                return Err(refuse(format!("in {}, {}", quoted(text), refusal.message)));
            }
        },
    };
    for (measured, range) in [(flow, RATING_FLOW), (drop, RATING_DROP)] {
        if !range.holds(measured.si) {
            return Err(Refusal {
                message: format!(
                    "in {}, {} is out of range",
                    quoted(text),
                    measured.unit.show(measured.si)
                ),
                accepted: range.show(measured.unit),
            });
        }
    }
    Ok(FlowRating {
        flow: CubicMetersPerSecond(flow.si),
        drop: Pascals(drop.si),
    })
}
