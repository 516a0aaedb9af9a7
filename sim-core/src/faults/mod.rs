//! Faults: each changes a parameter of the plant, never what an instrument shows.
//!
//! A fault never edits the site's description; [`Defects::of`] and
//! [`effective_site`] derive what the plant is built from.

mod control;
mod electrical;
mod gauge;
mod house;
mod kind;
mod machine;
mod tank;
mod water;

pub use kind::{Effect, Fault, FaultError, FaultKind, KindInfo, Need};

use crate::motor::MotorFaults;
use crate::parts::FlowRating;
use crate::plant::{Controls, Device};
use crate::site::SiteSpec;
use crate::units::convert::PSI;
use crate::units::{CubicMetersPerSecond, Meters, Pascals};
use crate::wiring::WiringDefects;

/// Every kind of fault, family by family.
pub fn kinds() -> impl Iterator<Item = &'static KindInfo> {
    [
        water::KINDS,
        tank::KINDS,
        machine::KINDS,
        electrical::KINDS,
        control::KINDS,
        gauge::KINDS,
        house::KINDS,
    ]
    .into_iter()
    .flatten()
}

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
    /// At the tee.
    Tee,
    /// Behind the house valve.
    House,
    /// Behind the house valve, through a fill valve into the bowl.
    Toilet,
}

/// Something that draws water behind the house valve without anybody's hand on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draw {
    /// How much it lets through at how much pressure.
    pub rating: FlowRating,
    /// Height of its outlet above ground [m].
    pub elevation: Meters,
}

/// Short draws by the clock.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SmallDraws {
    /// What it draws while it is open.
    pub draw: Draw,
    /// From opening to opening [s].
    pub every_s: f64,
    /// How long it stays open, shorter than that [s].
    pub open_s: f64,
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
    /// Air left in a tank whose bladder is torn, as volume at precharge [m³].
    pub tank_air_left_m3: Option<f64>,
    /// Free air drawn in at the suction side per pascal of vacuum there [m³/(s·Pa)].
    pub suction_leak_m3_per_s_pa: f64,
    /// Speed of water coming back at which the pump's check valve shuts at last [m/s].
    pub slam_m_per_s: f64,
    /// Pressure that the tank's air loses by its valve at precharge [Pa/s].
    pub tank_air_leak_pa_per_s: f64,
    /// Pressure above the tank's that frees a bladder which sticks [Pa].
    pub bladder_sticks_pa: f64,
    /// Submergence that keeps air out at the pump's greatest flow [m].
    pub vortex_full_flow_m: Option<f64>,
    /// A hole in the riser inside the source.
    pub riser_split: Option<FlowRating>,
    /// Ice blocks the run.
    pub run_frozen: bool,
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
    /// The motor turns without the pump.
    pub coupling_sheared: bool,
    /// Torque that bad bearings ask beyond the usual [N·m].
    pub bearing_drag_nm: f64,
    /// The pressure switch feels for ever what it felt at the start.
    pub port_frozen: bool,
    /// The low-pressure lever has dropped before the start.
    pub cut_off_tripped: bool,
    /// What draws water in the house all the time.
    pub draws: Vec<Draw>,
    /// What draws a glassful in the house again and again.
    pub small_draws: Option<SmallDraws>,
    /// How fast hot water expands behind the house valve [m³/s].
    pub expansion_m3_per_s: f64,
    /// The breaker has tripped before anybody came.
    pub breaker_tripped: bool,
    /// The start switch does not open.
    pub start_switch_welded: bool,
    /// How much lower than it should the thermal protector opens [K].
    pub protector_early_k: f64,
    /// Share of starts at which the chafed drop cable is open; none when it is sound.
    pub chafed_open_share: Option<f64>,
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
            suction_leak_m3_per_s_pa: 0.0,
            slam_m_per_s: 0.0,
            tank_air_leak_pa_per_s: 0.0,
            bladder_sticks_pa: 0.0,
            vortex_full_flow_m: None,
            riser_split: None,
            run_frozen: false,
            wiring: WiringDefects::none(),
            motor: MotorFaults::NONE,
            float_stuck: None,
            contacts_welded: false,
            jammed: false,
            coupling_sheared: false,
            bearing_drag_nm: 0.0,
            port_frozen: false,
            cut_off_tripped: false,
            draws: Vec::new(),
            small_draws: None,
            expansion_m3_per_s: 0.0,
            breaker_tripped: false,
            start_switch_welded: false,
            protector_early_k: 0.0,
            chafed_open_share: None,
        }
    }

    /// What these faults put into a plant on that site.
    #[must_use]
    pub fn of(site: &SiteSpec, faults: &[Fault]) -> Self {
        let mut defects = Self::none();
        for fault in faults {
            match fault.info().effect {
                Effect::Defect(change) | Effect::Both(_, change) => {
                    change(&mut defects, site, fault.severity);
                }
                Effect::Number(_) | Effect::Setting(_) => {}
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
        match fault.info().effect {
            Effect::Number(change) | Effect::Both(change, _) => change(&mut site, fault.severity),
            Effect::Defect(_) | Effect::Setting(_) => {}
        }
    }
    site
}

/// How everything stands that can be set by hand, as the faults have left it.
pub(crate) fn leave_settings(controls: &mut Controls, site: &SiteSpec, faults: &[Fault]) {
    for fault in faults {
        if let Effect::Setting(change) = fault.info().effect {
            change(controls, site, fault.severity);
        }
    }
}

/// A hole that lets a flow [m³/s] through at 50 psi.
fn hole(flow_m3_per_s: f64) -> FlowRating {
    FlowRating {
        flow: CubicMetersPerSecond(flow_m3_per_s),
        drop: Pascals(50.0 * PSI),
    }
}

/// Drop through an opening with a share of its area blocked: it goes with the inverse
/// square of the free area.
fn through_less_area(drop: Pascals, blocked: f64) -> Pascals {
    let free = 1.0 - blocked;
    Pascals(drop.si() / (free * free))
}

/// The seat of the check valve at the pump, or where there is none, of the foot valve.
fn pump_seat<'a>(defects: &'a mut Defects, site: &SiteSpec) -> &'a mut Seat {
    if site.pump_check.is_some() {
        &mut defects.pump_check
    } else {
        &mut defects.foot_valve
    }
}
