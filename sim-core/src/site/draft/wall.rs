//! The wall station and the tank as read.

use super::{CheckValveDraft, finish_optional, value};
use crate::file::fields::{Fields, Found};
use crate::parts::{BladderTankSpec, FlowRating, GaugeSpec, PressureSwitchSpec, ReliefValveSpec};
use crate::site::ranges;
use crate::site::spec::WallSpec;
use crate::units::{CubicMeters, Meters, Pascals, Seconds};

/// Fields of `wall`.
pub(super) const WALL_FIELDS: &[&str] = &[
    "height",
    "manifold_volume",
    "check",
    "pressure_switch",
    "gauge",
    "drain_cock",
    "relief_valve",
];
pub(super) const SWITCH_FIELDS: &[&str] = &["cut_in", "cut_out", "port_lag", "contact_delay"];
pub(super) const GAUGE_FIELDS: &[&str] = &["full_scale", "lag", "stiction", "offset"];
pub(super) const RELIEF_FIELDS: &[&str] = &["set_pressure", "rating"];
/// Fields of `tank`.
pub(super) const TANK_FIELDS: &[&str] = &[
    "shell_volume",
    "acceptance_volume",
    "precharge",
    "rated_pressure",
    "connection",
    "gas_time_constant",
];

/// The wall station as read.
#[derive(Debug)]
pub(in crate::site) struct WallDraft {
    pub(in crate::site) height: Found<Meters>,
    pub(in crate::site) manifold_volume: Found<CubicMeters>,
    pub(in crate::site) check: Option<CheckValveDraft>,
    pub(in crate::site) pressure_switch: SwitchDraft,
    pub(in crate::site) gauge: GaugeDraft,
    pub(in crate::site) drain_cock: Found<FlowRating>,
    pub(in crate::site) relief_valve: Option<ReliefDraft>,
}

/// The pressure switch as read.
#[derive(Debug)]
pub(in crate::site) struct SwitchDraft {
    pub(in crate::site) cut_in: Found<Pascals>,
    pub(in crate::site) cut_out: Found<Pascals>,
    pub(in crate::site) port_lag: Found<Seconds>,
    pub(in crate::site) contact_delay: Found<Seconds>,
}

/// The gauge as read.
#[derive(Debug)]
pub(in crate::site) struct GaugeDraft {
    pub(in crate::site) full_scale: Found<Pascals>,
    pub(in crate::site) lag: Found<Seconds>,
    pub(in crate::site) stiction: Found<Pascals>,
    pub(in crate::site) offset: Found<Pascals>,
}

/// The relief valve as read.
#[derive(Debug)]
pub(in crate::site) struct ReliefDraft {
    pub(in crate::site) set_pressure: Found<Pascals>,
    pub(in crate::site) rating: Found<FlowRating>,
}

/// The bladder tank as read.
#[derive(Debug)]
pub(in crate::site) struct TankDraft {
    pub(in crate::site) shell_volume: Found<CubicMeters>,
    pub(in crate::site) acceptance_volume: Found<CubicMeters>,
    pub(in crate::site) precharge: Found<Pascals>,
    pub(in crate::site) rated_pressure: Found<Pascals>,
    pub(in crate::site) connection: Found<FlowRating>,
    pub(in crate::site) gas_time_constant: Found<Seconds>,
}

impl WallDraft {
    pub(super) fn read(fields: &Fields<'_>) -> Self {
        Self {
            height: fields.quantity("height", ranges::WALL_HEIGHT),
            manifold_volume: fields.quantity_or("manifold_volume", ranges::MANIFOLD_VOLUME, "1 L"),
            check: fields
                .optional_section("check", super::pipe::CHECK_VALVE_FIELDS)
                .map(|fields| CheckValveDraft::read(&fields)),
            pressure_switch: SwitchDraft::read(&fields.section("pressure_switch", SWITCH_FIELDS)),
            gauge: GaugeDraft::read(&fields.section("gauge", GAUGE_FIELDS)),
            drain_cock: fields.rating("drain_cock"),
            relief_valve: fields
                .optional_section("relief_valve", RELIEF_FIELDS)
                .map(|fields| ReliefDraft::read(&fields)),
        }
    }

    pub(super) fn finish(self) -> Option<WallSpec> {
        Some(WallSpec {
            elevation: value(self.height)?,
            manifold_volume: value(self.manifold_volume)?,
            check: finish_optional(self.check, CheckValveDraft::finish)?,
            pressure_switch: self.pressure_switch.finish()?,
            gauge: self.gauge.finish()?,
            drain_cock: value(self.drain_cock)?,
            relief_valve: finish_optional(self.relief_valve, ReliefDraft::finish)?,
        })
    }
}

impl SwitchDraft {
    fn read(fields: &Fields<'_>) -> Self {
        Self {
            cut_in: fields.quantity("cut_in", ranges::SWITCH_PRESSURE),
            cut_out: fields.quantity("cut_out", ranges::SWITCH_PRESSURE),
            port_lag: fields.quantity_or("port_lag", ranges::PORT_LAG, "50 ms"),
            contact_delay: fields.quantity_or("contact_delay", ranges::CONTACT_DELAY, "20 ms"),
        }
    }

    fn finish(self) -> Option<PressureSwitchSpec> {
        Some(PressureSwitchSpec {
            cut_in: value(self.cut_in)?,
            cut_out: value(self.cut_out)?,
            port_lag: value(self.port_lag)?,
            contact_delay: value(self.contact_delay)?,
        })
    }
}

impl GaugeDraft {
    fn read(fields: &Fields<'_>) -> Self {
        Self {
            full_scale: fields.quantity("full_scale", ranges::GAUGE_FULL_SCALE),
            lag: fields.quantity_or("lag", ranges::GAUGE_LAG, "200 ms"),
            stiction: fields.quantity_or("stiction", ranges::GAUGE_STICTION, "0 psi"),
            offset: fields.quantity_or("offset", ranges::GAUGE_OFFSET, "0 psi"),
        }
    }

    fn finish(self) -> Option<GaugeSpec> {
        Some(GaugeSpec {
            full_scale: value(self.full_scale)?,
            lag: value(self.lag)?,
            stiction: value(self.stiction)?,
            offset: value(self.offset)?,
        })
    }
}

impl ReliefDraft {
    fn read(fields: &Fields<'_>) -> Self {
        Self {
            set_pressure: fields.quantity("set_pressure", ranges::RELIEF_SET),
            rating: fields.rating("rating"),
        }
    }

    fn finish(self) -> Option<ReliefValveSpec> {
        Some(ReliefValveSpec {
            set_pressure: value(self.set_pressure)?,
            rating: value(self.rating)?,
        })
    }
}

impl TankDraft {
    pub(super) fn read(fields: &Fields<'_>) -> Self {
        Self {
            shell_volume: fields.quantity("shell_volume", ranges::TANK_VOLUME),
            acceptance_volume: fields.quantity("acceptance_volume", ranges::TANK_VOLUME),
            precharge: fields.quantity("precharge", ranges::PRECHARGE),
            rated_pressure: fields.quantity("rated_pressure", ranges::TANK_RATED),
            connection: fields.rating("connection"),
            gas_time_constant: fields.quantity_or("gas_time_constant", ranges::GAS_TIME, "60 s"),
        }
    }

    pub(super) fn finish(self) -> Option<BladderTankSpec> {
        Some(BladderTankSpec {
            shell_volume: value(self.shell_volume)?,
            acceptance_volume: value(self.acceptance_volume)?,
            precharge: value(self.precharge)?,
            connection: value(self.connection)?,
            gas_time_constant: value(self.gas_time_constant)?,
            rated_pressure: value(self.rated_pressure)?,
        })
    }
}
