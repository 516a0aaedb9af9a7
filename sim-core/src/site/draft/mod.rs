//! A site as read: every field that could be read, with its position, so that
//! checks across fields can speak of those that are there.
//!
//! Each draft reads itself from its group of fields and finishes into the
//! validated part, or into nothing when a field was refused.

mod house;
mod pipe;
mod pump;
mod source;
mod wall;
mod wiring;

pub(super) use house::HouseDraft;
pub(super) use pipe::{CheckValveDraft, PipeDraft};
pub(super) use pump::{MotorDraft, PumpDraft};
pub(super) use source::{IntakeDraft, MountDraft, ShapeDraft, SourceDraft};
pub(super) use wall::{TankDraft, WallDraft};
pub(super) use wiring::WiringDraft;

use super::ranges;
use super::spec::{SiteSpec, SupplySpec};
use crate::file::fields::{Fields, Found, Located};
use crate::file::problem::Spot;
use crate::units::{Hertz, Kelvins, Meters, Volts};

/// The version of the format that this program reads.
pub(super) const FORMAT_VERSION: f64 = 1.0;

/// Every section of a site file.
pub(super) const SITE_FIELDS: &[&str] = &[
    "version",
    "name",
    "title",
    "altitude",
    "water_temperature",
    "air_temperature",
    "source",
    "intake",
    "suction",
    "foot_valve",
    "pump",
    "motor",
    "pump_check",
    "run",
    "wall",
    "tank",
    "house",
    "supply",
    "wiring",
];

/// A whole site as read.
#[derive(Debug)]
pub(super) struct SiteDraft {
    pub(super) version: Found<f64>,
    pub(super) name: Found<String>,
    pub(super) title: Found<String>,
    pub(super) altitude: Found<Meters>,
    pub(super) water_temperature: Found<Kelvins>,
    pub(super) air_temperature: Found<Kelvins>,
    pub(super) source: Option<SourceDraft>,
    pub(super) intake: IntakeDraft,
    pub(super) suction: Option<PipeDraft>,
    /// Where the suction stands in the file.
    pub(super) suction_spot: Option<Spot>,
    pub(super) foot_valve: Option<CheckValveDraft>,
    pub(super) pump: PumpDraft,
    pub(super) motor: MotorDraft,
    pub(super) pump_check: Option<CheckValveDraft>,
    pub(super) run: Vec<PipeDraft>,
    pub(super) wall: WallDraft,
    pub(super) tank: TankDraft,
    pub(super) house: HouseDraft,
    pub(super) supply: SupplyDraft,
    pub(super) wiring: Option<WiringDraft>,
}

impl SiteDraft {
    /// Reads every section.
    pub(super) fn read(fields: &Fields<'_>) -> Self {
        Self {
            version: fields.required_number("version", "1"),
            name: fields.text("name", "a name such as \"orchard-cottage\""),
            title: fields.text("title", "one line for people, in quotes"),
            altitude: fields.quantity_or("altitude", ranges::ALTITUDE, "0 m"),
            water_temperature: fields.quantity_or(
                "water_temperature",
                ranges::WATER_TEMPERATURE,
                "10 degC",
            ),
            air_temperature: fields.quantity_or(
                "air_temperature",
                ranges::AIR_TEMPERATURE,
                "20 degC",
            ),
            source: SourceDraft::read(fields),
            intake: IntakeDraft::read(&fields.section("intake", source::INTAKE_FIELDS)),
            suction: fields
                .optional_section("suction", pipe::PIPE_FIELDS)
                .map(|fields| PipeDraft::read(&fields)),
            suction_spot: fields.spot_of("suction"),
            foot_valve: fields
                .optional_section("foot_valve", pipe::CHECK_VALVE_FIELDS)
                .map(|fields| CheckValveDraft::read(&fields)),
            pump: PumpDraft::read(&fields.section("pump", pump::PUMP_FIELDS)),
            motor: MotorDraft::read(&fields.section("motor", pump::MOTOR_FIELDS)),
            pump_check: fields
                .optional_section("pump_check", pipe::CHECK_VALVE_FIELDS)
                .map(|fields| CheckValveDraft::read(&fields)),
            run: fields
                .groups("run", (1, ranges::MAX_RUN), pipe::PIPE_FIELDS)
                .iter()
                .map(PipeDraft::read)
                .collect(),
            wall: WallDraft::read(&fields.section("wall", wall::WALL_FIELDS)),
            tank: TankDraft::read(&fields.section("tank", wall::TANK_FIELDS)),
            house: HouseDraft::read(&fields.section("house", house::HOUSE_FIELDS)),
            supply: SupplyDraft::read(&fields.section("supply", SUPPLY_FIELDS)),
            wiring: fields
                .optional_section("wiring", wiring::WIRING_FIELDS)
                .map(|fields| WiringDraft::read(&fields)),
        }
    }

    /// The validated site, when nothing was refused.
    pub(super) fn finish(self) -> Option<SiteSpec> {
        let supply = self.supply.finish()?;
        Some(SiteSpec {
            name: value(self.name)?,
            title: value(self.title)?,
            altitude: value(self.altitude)?,
            water_temperature: value(self.water_temperature)?,
            air_temperature: value(self.air_temperature)?,
            intake: self.intake.finish(self.source.as_ref()?)?,
            source: self.source?.finish()?,
            suction: finish_optional(self.suction, PipeDraft::finish)?,
            foot_valve: finish_optional(self.foot_valve, CheckValveDraft::finish)?,
            pump: self.pump.finish()?,
            motor: self.motor.finish(supply.frequency)?,
            pump_check: finish_optional(self.pump_check, CheckValveDraft::finish)?,
            run: self
                .run
                .into_iter()
                .map(PipeDraft::finish)
                .collect::<Option<Vec<_>>>()?,
            wall: self.wall.finish()?,
            tank: self.tank.finish()?,
            house: self.house.finish()?,
            wiring: finish_optional(self.wiring, WiringDraft::finish)?,
            supply,
        })
    }
}

const SUPPLY_FIELDS: &[&str] = &["voltage", "frequency"];

/// Electrical supply as read.
#[derive(Debug)]
pub(super) struct SupplyDraft {
    pub(super) voltage: Found<Volts>,
    pub(super) frequency: Found<Hertz>,
}

impl SupplyDraft {
    fn read(fields: &Fields<'_>) -> Self {
        Self {
            voltage: fields.quantity("voltage", ranges::VOLTAGE),
            frequency: fields.quantity("frequency", ranges::FREQUENCY),
        }
    }

    fn finish(self) -> Option<SupplySpec> {
        Some(SupplySpec {
            voltage: value(self.voltage)?,
            frequency: value(self.frequency)?,
        })
    }
}

/// The value without its place.
fn value<T>(found: Found<T>) -> Option<T> {
    found.map(|Located { value, .. }| value)
}

/// `None` outside after a problem, inside when the part is absent.
#[expect(
    clippy::option_option,
    reason = "absent and refused are different things here"
)]
fn finish_optional<D, S>(
    draft: Option<D>,
    finish: impl FnOnce(D) -> Option<S>,
) -> Option<Option<S>> {
    match draft {
        None => Some(None),
        Some(draft) => finish(draft).map(Some),
    }
}

/// Every field name and every choice that a site file knows.
#[cfg(test)]
pub(super) fn all_names() -> Vec<&'static str> {
    let plain = [
        SITE_FIELDS,
        SUPPLY_FIELDS,
        source::INTAKE_FIELDS,
        pipe::PIPE_FIELDS,
        pipe::CHECK_VALVE_FIELDS,
        pump::PUMP_FIELDS,
        pump::POINT_FIELDS,
        pump::MOTOR_FIELDS,
        wall::WALL_FIELDS,
        wall::SWITCH_FIELDS,
        wall::GAUGE_FIELDS,
        wall::RELIEF_FIELDS,
        wall::TANK_FIELDS,
        house::HOUSE_FIELDS,
        house::FIXTURE_FIELDS,
        wiring::WIRING_FIELDS,
        wiring::CABLE_FIELDS,
        wiring::FLOAT_FIELDS,
    ];
    let variants = [
        source::SOURCES,
        source::SHAPES,
        source::MOUNTS,
        pipe::CUSTOM_BORE,
        pump::PLACEMENTS,
        wiring::SYSTEMS,
        wiring::WINDINGS,
    ];
    let mut names: Vec<&'static str> = plain.concat();
    for (variant, fields) in variants.concat() {
        names.push(variant);
        names.extend(fields);
    }
    names
}
