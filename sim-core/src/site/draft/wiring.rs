//! The pump's circuit as read.

use super::{finish_optional, value};
use crate::file::fields::{Fields, Found, Variant};
use crate::file::problem::quoted;
use crate::file::quantity::Refusal;
use crate::parts::{
    CableSpec, ConductorSize, FloatSwitchSpec, SupplySystem, WindingKind, WiringSpec,
};
use crate::site::ranges;
use crate::units::{Amperes, Meters, Ohms, Pascals};

/// Fields of `wiring`.
pub(super) const WIRING_FIELDS: &[&str] = &[
    "system",
    "source_resistance",
    "source_reactance",
    "breaker",
    "ground_fault_trip",
    "panel_to_switch",
    "switch_to_splice",
    "splice_to_motor",
    "winding",
    "float_switch",
    "low_pressure_cut_off",
];
pub(super) const CABLE_FIELDS: &[&str] = &["length", "conductor"];
pub(super) const FLOAT_FIELDS: &[&str] = &["stops_at", "starts_at"];
pub(super) const SYSTEMS: &[Variant] = &[("SplitPhase", &[]), ("SinglePhase", &[])];
pub(super) const WINDINGS: &[Variant] = &[
    ("SplitPhase", &[]),
    ("CapacitorStart", &[]),
    ("PermanentCapacitor", &[]),
    ("ThreeWire", &[]),
];

/// Copper sizes by American wire gauge that a pump's circuit uses.
pub(super) const AWG_SIZES: &[u8] = &[14, 12, 10, 8, 6, 4];
/// Copper sizes in square millimetres (IEC 60228).
pub(super) const MM2_SIZES: &[f64] = &[1.5, 2.5, 4.0, 6.0, 10.0, 16.0];

/// The pump's circuit as read.
#[derive(Debug)]
pub(in crate::site) struct WiringDraft {
    system: Option<SupplySystem>,
    source_resistance: Found<Ohms>,
    source_reactance: Found<Ohms>,
    breaker: Found<Amperes>,
    ground_fault_trip: Option<Found<Amperes>>,
    panel_to_switch: CableDraft,
    switch_to_splice: CableDraft,
    splice_to_motor: CableDraft,
    winding: Option<WindingKind>,
    pub(in crate::site) float_switch: Option<FloatDraft>,
    pub(in crate::site) low_pressure_cut_off: Option<Found<Pascals>>,
}

#[derive(Debug)]
struct CableDraft {
    length: Found<Meters>,
    conductor: Option<ConductorSize>,
}

/// The float switch as read.
#[derive(Debug)]
pub(in crate::site) struct FloatDraft {
    pub(in crate::site) stops_at: Found<Meters>,
    pub(in crate::site) starts_at: Found<Meters>,
}

impl WiringDraft {
    pub(super) fn read(fields: &Fields<'_>) -> Self {
        Self {
            system: fields
                .variant("system", SYSTEMS)
                .map(|(name, _)| match name {
                    "SplitPhase" => SupplySystem::SplitPhase,
                    _ => SupplySystem::SinglePhase,
                }),
            source_resistance: fields.quantity_or(
                "source_resistance",
                ranges::SOURCE_OHMS,
                "0.05 ohm",
            ),
            source_reactance: fields.quantity_or(
                "source_reactance",
                ranges::SOURCE_OHMS,
                "0.03 ohm",
            ),
            breaker: fields.quantity("breaker", ranges::BREAKER),
            ground_fault_trip: fields.optional_quantity("ground_fault_trip", ranges::GROUND_FAULT),
            panel_to_switch: CableDraft::read(&fields.section("panel_to_switch", CABLE_FIELDS)),
            switch_to_splice: CableDraft::read(&fields.section("switch_to_splice", CABLE_FIELDS)),
            splice_to_motor: CableDraft::read(&fields.section("splice_to_motor", CABLE_FIELDS)),
            winding: fields
                .variant("winding", WINDINGS)
                .map(|(name, _)| match name {
                    "SplitPhase" => WindingKind::SplitPhase,
                    "CapacitorStart" => WindingKind::CapacitorStart,
                    "PermanentCapacitor" => WindingKind::PermanentCapacitor,
                    _ => WindingKind::ThreeWire,
                }),
            float_switch: fields
                .optional_section("float_switch", FLOAT_FIELDS)
                .map(|fields| FloatDraft {
                    stops_at: fields.quantity("stops_at", ranges::WATER_DEPTH),
                    starts_at: fields.quantity("starts_at", ranges::WATER_DEPTH),
                }),
            low_pressure_cut_off: fields
                .optional_quantity("low_pressure_cut_off", ranges::SWITCH_PRESSURE),
        }
    }

    pub(super) fn finish(self) -> Option<WiringSpec> {
        Some(WiringSpec {
            system: self.system?,
            source_resistance: value(self.source_resistance)?,
            source_reactance: value(self.source_reactance)?,
            breaker_rating: value(self.breaker)?,
            ground_fault_trip: finish_optional(self.ground_fault_trip, value)?,
            panel_to_switch: self.panel_to_switch.finish()?,
            switch_to_splice: self.switch_to_splice.finish()?,
            splice_to_motor: self.splice_to_motor.finish()?,
            winding: self.winding?,
            float_switch: finish_optional(self.float_switch, |float| {
                Some(FloatSwitchSpec {
                    stops_at: value(float.stops_at)?,
                    starts_at: value(float.starts_at)?,
                })
            })?,
            low_pressure_cut_off: finish_optional(self.low_pressure_cut_off, value)?,
        })
    }
}

impl CableDraft {
    fn read(fields: &Fields<'_>) -> Self {
        let text = fields.text("conductor", "size and metal such as \"12 awg copper\"");
        let conductor = text.and_then(|text| match parse_conductor(&text.value) {
            Ok(size) => Some(size),
            Err(refusal) => {
                fields.report_refusal(&text.spot, refusal);
                None
            }
        });
        Self {
            length: fields.quantity("length", ranges::CABLE_LENGTH),
            conductor,
        }
    }

    fn finish(self) -> Option<CableSpec> {
        Some(CableSpec {
            length: value(self.length)?,
            conductor: self.conductor?,
        })
    }
}

/// `"12 awg copper"` or `"2.5 mm2 copper"`.
fn parse_conductor(text: &str) -> Result<ConductorSize, Refusal> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let size = match words.as_slice() {
        [size, "awg" | "AWG", "copper"] => size
            .parse::<u8>()
            .ok()
            .filter(|size| AWG_SIZES.contains(size))
            .map(ConductorSize::AwgCopper),
        [size, "mm2" | "mm²", "copper"] => size
            .parse::<f64>()
            .ok()
            .filter(|size| MM2_SIZES.contains(size))
            .map(ConductorSize::SquareMillimetersCopper),
        _ => None,
    };
    size.ok_or_else(|| {
        let list = |sizes: Vec<String>| sizes.join(", ");
        Refusal {
            message: format!("{} is no conductor known here", quoted(text)),
            accepted: format!(
                "\"N awg copper\" with N one of {}, or \"A mm2 copper\" with A one of {}",
                list(AWG_SIZES.iter().map(ToString::to_string).collect()),
                list(MM2_SIZES.iter().map(ToString::to_string).collect()),
            ),
        }
    })
}
