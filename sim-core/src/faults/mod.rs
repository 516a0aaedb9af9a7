//! Faults: each changes a parameter of the plant, never what an instrument shows.
//!
//! A fault never edits the site's description; [`Defects::of`] and
//! [`effective_site`] derive what the plant is built from.

mod catalog;

pub use catalog::{Fault, FaultError, FaultKind, KINDS};

use crate::motor::{CapacitorState, MotorFaults, WindingState};
use crate::parts::{FlowRating, SourceSpec};
use crate::plant::Device;
use crate::site::SiteSpec;
use crate::units::{CubicMetersPerSecond, Meters, Pascals, Seconds, Volts};
use crate::wiring::WiringDefects;

/// State of a check valve's seat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Seat {
    /// Tight.
    Tight,
    /// Lets this much flow back at this much pressure when shut.
    Weeping(FlowRating),
    /// Held off its seat; the share of its area that stays open to water coming back,
    /// above 0.  Water going forward lifts it as ever.
    StuckOpen(f64),
    /// Will not lift.
    StuckShut,
}

/// A hole in a pipe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leak {
    /// Which pipe.
    pub place: LeakPlace,
    /// How much it lets through at how much pressure.
    pub rating: FlowRating,
    /// Height of the hole above ground [m].
    pub elevation: Meters,
}

/// Which pipe leaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeakPlace {
    /// The run between the pump's check valve and the tee.
    Run,
    /// Behind the house valve.
    House,
}

/// What faults put into the plant beside changed numbers of the site.
#[derive(Debug, Clone, PartialEq)]
pub struct Defects {
    /// Seat of the foot valve.
    pub foot_valve: Seat,
    /// Seat of the check valve at the pump.
    pub pump_check: Seat,
    /// Seat of the check valve at the wall.
    pub wall_check: Seat,
    /// Holes.
    pub leaks: Vec<Leak>,
    /// Air share of the pump's bowl at the start, with no way out but upwards.
    pub trapped_air_share: Option<f64>,
    /// Air left in the tank, as volume at precharge [m³].
    pub tank_air_left_m3: Option<f64>,
    /// What is wrong with the wiring.
    pub wiring: WiringDefects,
    /// What is wrong with the motor.
    pub motor: MotorFaults,
    /// The float switch stays as it is, whatever the water does.
    pub float_stuck: Option<Device>,
    /// The pressure switch's contacts are welded together.
    pub contacts_welded: bool,
    /// The shaft is held fast.
    pub jammed: bool,
}

impl Defects {
    /// Nothing wrong.
    #[must_use]
    pub fn none() -> Self {
        Self {
            foot_valve: Seat::Tight,
            pump_check: Seat::Tight,
            wall_check: Seat::Tight,
            leaks: Vec::new(),
            trapped_air_share: None,
            tank_air_left_m3: None,
            wiring: WiringDefects::none(),
            motor: MotorFaults::NONE,
            float_stuck: None,
            contacts_welded: false,
            jammed: false,
        }
    }

    /// What these faults put into a plant on that site.
    #[must_use]
    pub fn of(site: &SiteSpec, faults: &[Fault]) -> Self {
        let mut defects = Self::none();
        let weep_test = Pascals(50.0 * crate::units::convert::PSI);
        for fault in faults {
            let severity = fault.severity;
            let hole = FlowRating {
                flow: CubicMetersPerSecond(severity),
                drop: weep_test,
            };
            let seat = if site.pump_check.is_some() {
                &mut defects.pump_check
            } else {
                &mut defects.foot_valve
            };
            match fault.kind {
                FaultKind::HouseLeak => defects.leaks.push(Leak {
                    place: LeakPlace::House,
                    rating: hole,
                    elevation: site.wall.elevation,
                }),
                FaultKind::RunLeak => defects.leaks.push(Leak {
                    place: LeakPlace::Run,
                    rating: hole,
                    // Below the frost, as a buried run lies.
                    elevation: Meters(-0.9),
                }),
                FaultKind::CheckValveWeeping => *seat = Seat::Weeping(hole),
                FaultKind::CheckValveStuckOpen => *seat = Seat::StuckOpen(severity),
                FaultKind::CheckValveStuckShut => *seat = Seat::StuckShut,
                FaultKind::PumpAirLock => defects.trapped_air_share = Some(severity),
                FaultKind::TankWaterlogged => defects.tank_air_left_m3 = Some(severity),
                FaultKind::SpliceResistive => defects.wiring.splice_ohm[0] = Some(severity),
                FaultKind::SpliceOpen => defects.wiring.splice_ohm[0] = None,
                FaultKind::ContactsBurnt => defects.wiring.contact_ohm[0] = severity,
                FaultKind::ContactsWelded => defects.contacts_welded = true,
                FaultKind::SupplyLegOpen => defects.wiring.open_leg = Some(severity as u8),
                FaultKind::SupplyNeutralOpen => defects.wiring.open_neutral = true,
                FaultKind::EarthOpen => defects.wiring.open_earth = true,
                FaultKind::MotorInsulation => defects.wiring.insulation_ohm = severity,
                FaultKind::PumpJammed => defects.jammed = true,
                FaultKind::StartCapacitorOpen => {
                    defects.motor.start_capacitor = CapacitorState::Open;
                    defects.motor.run_capacitor = CapacitorState::Open;
                }
                FaultKind::MotorWindingOpen => defects.motor.main = WindingState::Open,
                FaultKind::FloatStuckOpen => defects.float_stuck = Some(Device::Open),
                FaultKind::FloatStuckClosed => defects.float_stuck = Some(Device::Closed),
                FaultKind::TankLowPrecharge
                | FaultKind::TankHighPrecharge
                | FaultKind::SwitchPortPlugged
                | FaultKind::ScreenClogged
                | FaultKind::SourceLow
                | FaultKind::SupplyVoltageWrong => {}
            }
        }
        defects
    }
}

/// The site as the faults have changed its numbers.
#[must_use]
pub fn effective_site(site: &SiteSpec, faults: &[Fault]) -> SiteSpec {
    let mut site = site.clone();
    for fault in faults {
        let severity = fault.severity;
        match fault.kind {
            FaultKind::TankLowPrecharge | FaultKind::TankHighPrecharge => {
                site.tank.precharge = Pascals(severity);
            }
            FaultKind::SwitchPortPlugged => {
                site.wall.pressure_switch.port_lag = Seconds(severity);
            }
            FaultKind::ScreenClogged => {
                // Loss of an opening goes with the inverse square of its free area.
                let free = 1.0 - severity;
                site.intake.screen.drop = Pascals(site.intake.screen.drop.si() / (free * free));
            }
            FaultKind::SourceLow => lower_source(&mut site.source, Meters(severity)),
            FaultKind::PumpAirLock => site.pump.vent_time = None,
            FaultKind::SupplyVoltageWrong => site.supply.voltage = Volts(severity),
            FaultKind::SpliceResistive
            | FaultKind::SpliceOpen
            | FaultKind::ContactsBurnt
            | FaultKind::ContactsWelded
            | FaultKind::SupplyLegOpen
            | FaultKind::SupplyNeutralOpen
            | FaultKind::EarthOpen
            | FaultKind::MotorInsulation
            | FaultKind::PumpJammed
            | FaultKind::StartCapacitorOpen
            | FaultKind::MotorWindingOpen
            | FaultKind::FloatStuckOpen
            | FaultKind::FloatStuckClosed => {}
            FaultKind::HouseLeak
            | FaultKind::RunLeak
            | FaultKind::CheckValveWeeping
            | FaultKind::CheckValveStuckOpen
            | FaultKind::CheckValveStuckShut
            | FaultKind::TankWaterlogged => {}
        }
    }
    site
}

/// Takes water away until no more than `depth` is left at rest.
fn lower_source(source: &mut SourceSpec, depth: Meters) {
    match source {
        SourceSpec::Cistern { initial_depth, .. } => {
            initial_depth.0 = initial_depth.0.min(depth.0);
        }
        SourceSpec::Well {
            static_level,
            bottom,
            ..
        } => {
            static_level.0 = static_level.0.min(bottom.0 + depth.0);
        }
    }
}
