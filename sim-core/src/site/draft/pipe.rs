//! Pipes and check valves as read.

use super::value;
use crate::file::fields::{Fields, Found, TextsOrNumber, Variant};
use crate::parts::{CheckValveSpec, FlowRating, PipeSpec};
use crate::site::fittings::parse_fitting;
use crate::site::pipe_kinds::{Bore, parse_bore};
use crate::site::ranges;
use crate::units::{Meters, Pascals};

/// Fields of a length of pipe.
pub(super) const PIPE_FIELDS: &[&str] = &["length", "rise", "diameter", "fittings"];
/// Fields of a check valve or foot valve.
pub(super) const CHECK_VALVE_FIELDS: &[&str] = &["cracking_pressure", "rating"];

pub(super) const CUSTOM_BORE: &[Variant] =
    &[("Custom", &["inside", "wall", "roughness", "modulus"])];

/// A length of pipe as read.
#[derive(Debug)]
pub(in crate::site) struct PipeDraft {
    pub(in crate::site) length: Found<Meters>,
    pub(in crate::site) rise: Found<Meters>,
    pub(in crate::site) bore: Option<Bore>,
    pub(in crate::site) fittings_k: Option<f64>,
}

impl PipeDraft {
    pub(super) fn read(fields: &Fields<'_>) -> Self {
        Self {
            length: fields.quantity("length", ranges::PIPE_LENGTH),
            rise: fields.quantity_or("rise", ranges::PIPE_RISE, "0 m"),
            bore: read_bore(fields),
            fittings_k: read_fittings(fields),
        }
    }

    pub(super) fn finish(self) -> Option<PipeSpec> {
        let bore = self.bore?;
        Some(PipeSpec {
            length: value(self.length)?,
            rise: value(self.rise)?,
            inside_diameter: bore.inside_diameter,
            wall_thickness: bore.wall_thickness,
            roughness: bore.roughness,
            wall_modulus: bore.wall_modulus,
            fittings_k: self.fittings_k?,
        })
    }
}

/// A pipe by its trade name, or by its measures.
fn read_bore(fields: &Fields<'_>) -> Option<Bore> {
    if let Some(text) = fields.text_if_text("diameter") {
        return match parse_bore(&text.value) {
            Ok(bore) => Some(bore),
            Err(refusal) => {
                fields.report_refusal(&text.spot, refusal);
                None
            }
        };
    }
    if !fields.is_given("diameter") {
        fields.text("diameter", "size and kind such as \"1 in sch40 pvc\"");
        return None;
    }
    let (_, custom) = fields.variant("diameter", CUSTOM_BORE)?;
    let inside_diameter: Found<Meters> = custom.quantity("inside", ranges::PIPE_INSIDE);
    let wall_thickness: Found<Meters> = custom.quantity("wall", ranges::PIPE_WALL);
    let roughness: Found<Meters> = custom.quantity("roughness", ranges::PIPE_ROUGHNESS);
    let wall_modulus: Found<Pascals> = custom.quantity("modulus", ranges::PIPE_MODULUS);
    Some(Bore {
        inside_diameter: value(inside_diameter)?,
        wall_thickness: value(wall_thickness)?,
        roughness: value(roughness)?,
        wall_modulus: value(wall_modulus)?,
    })
}

/// Sum of K: a bare number, or fittings counted by name.
fn read_fittings(fields: &Fields<'_>) -> Option<f64> {
    match fields.texts_or_number("fittings", ranges::MAX_FITTINGS) {
        TextsOrNumber::Absent => Some(0.0),
        TextsOrNumber::Broken => None,
        TextsOrNumber::Number => value(fields.number_or("fittings", ranges::FITTINGS_K, 0.0)),
        TextsOrNumber::Texts(texts) => {
            let mut sum = Some(0.0);
            for text in texts {
                match parse_fitting(&text.value) {
                    Ok(k) => sum = sum.map(|sum: f64| sum + k),
                    Err(refusal) => {
                        fields.report_refusal(&text.spot, refusal);
                        sum = None;
                    }
                }
            }
            sum
        }
    }
}

/// A check valve or foot valve as read.
#[derive(Debug)]
pub(in crate::site) struct CheckValveDraft {
    pub(in crate::site) cracking_pressure: Found<Pascals>,
    pub(in crate::site) forward: Found<FlowRating>,
}

impl CheckValveDraft {
    pub(super) fn read(fields: &Fields<'_>) -> Self {
        Self {
            cracking_pressure: fields.quantity_or(
                "cracking_pressure",
                ranges::CRACKING_PRESSURE,
                "0.5 psi",
            ),
            forward: fields.rating("rating"),
        }
    }

    pub(super) fn finish(self) -> Option<CheckValveSpec> {
        Some(CheckValveSpec {
            cracking_pressure: value(self.cracking_pressure)?,
            forward: value(self.forward)?,
        })
    }
}
