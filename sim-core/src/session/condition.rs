//! What is right and wrong at the site: read off the plant's parameters, for marks.

use super::action::FaultName;
use super::proof::PRECHARGE_BELOW_CUT_IN_PA;
use super::visit::Visit;
use crate::catalog::Remedy;
use crate::faults::{Effect, Fault, FaultKind, leave_settings};
use crate::plant::Device;
use crate::units::convert::PSI;

/// How far a precharge may lie off what belongs to its cut-in [Pa] (training value).
const PRECHARGE_TOLERANCE_PA: f64 = 3.0 * PSI;
/// How far a set point may lie off its design [Pa] (training value).
const SET_POINT_TOLERANCE_PA: f64 = 5.0 * PSI;
/// Least differential [Pa] (training value, common practice).
const LEAST_DIFFERENTIAL_PA: f64 = 14.0 * PSI;

/// How a hidden fault stands now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Remaining {
    /// The fault as it was hidden.
    pub fault: Fault,
    /// The plant's parameters are well again in this respect.
    pub is_cured: bool,
}

/// What is right and wrong at the site at this moment: for marks and the debrief.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Condition {
    /// Every hidden fault.
    pub hidden: Vec<Remaining>,
    /// What the visit itself has spoilt, in words.
    pub spoilt: Vec<String>,
    /// What is not left as it should be: covers, valves, lock, power, lids, in words.
    pub untidy: Vec<String>,
    /// The source was opened and not disinfected, or nobody was told.
    pub owes_disinfection: bool,
    /// What can put voltage on metal that people touch, and was left switched on.
    pub left_live: Vec<FaultKind>,
}

impl Condition {
    /// How a visit's site stands.
    pub(super) fn of(visit: &Visit) -> Self {
        Self {
            hidden: visit
                .fixed
                .hidden
                .iter()
                .map(|fault| Remaining {
                    fault: *fault,
                    is_cured: is_cured(visit, fault),
                })
                .collect(),
            spoilt: spoilt(visit),
            untidy: untidy(visit),
            owes_disinfection: visit.hands.source_was_opened,
            left_live: left_live(visit),
        }
    }
}

fn is_cured(visit: &Visit, fault: &Fault) -> bool {
    let circuit = &visit.plant.modes().circuit;
    let entry = visit.fixed.catalog.entry(fault.kind);
    if entry.is_some_and(|entry| entry.remedies.contains(&Remedy::Explain))
        && visit.explained.contains(&FaultName(fault.kind))
    {
        return true;
    }
    match fault.kind {
        FaultKind::TankLowPrecharge | FaultKind::TankHighPrecharge => precharge_is_sound(visit),
        FaultKind::BreakerTripped => {
            circuit.breaker == Device::Closed && circuit.ground_fault == Device::Closed
        }
        FaultKind::CutOffTripped => circuit.low_pressure == Device::Closed,
        FaultKind::CutOutHigh | FaultKind::DifferentialSmall | FaultKind::SwitchRaised => {
            settings_are_sound(visit)
        }
        _ if matches!(fault.info().effect, Effect::Setting(_)) => {
            let mut left = visit.plant.controls().clone();
            leave_settings(&mut left, &visit.site, &[*fault]);
            left != *visit.plant.controls()
        }
        _ => !visit.faults.contains(fault),
    }
}

/// Cut-in and cut-out apart by enough, near their design, and the air suits them.
fn settings_are_sound(visit: &Visit) -> bool {
    let controls = visit.plant.controls();
    let (cut_in, cut_out) = (controls.cut_in.si(), controls.cut_out.si());
    let design = &visit.site.wall.pressure_switch;
    let designed = design.cut_out.si() - design.cut_in.si();
    cut_out - cut_in >= LEAST_DIFFERENTIAL_PA.min(0.8 * designed)
        && (cut_out - design.cut_out.si()) <= SET_POINT_TOLERANCE_PA
        && precharge_is_sound(visit)
}

/// The tank's air, taken back to an empty bladder, lies where it belongs.
fn precharge_is_sound(visit: &Visit) -> bool {
    let wanted = visit.plant.controls().cut_in.si() - PRECHARGE_BELOW_CUT_IN_PA;
    (visit.plant.precharge_pa() - wanted).abs() <= PRECHARGE_TOLERANCE_PA
}

fn spoilt(visit: &Visit) -> Vec<String> {
    let (then, now) = (visit.fixed.damage_on_arrival, visit.plant.modes().damage);
    let mut words = Vec::new();
    if now.seal && !then.seal {
        words.push("The pump's seal and bearings ran dry and are spoilt.".to_owned());
    }
    if now.winding && !then.winding {
        words.push("The motor's winding was overheated and is spoilt.".to_owned());
    }
    if now.impellers && !then.impellers {
        words.push("The pump's impellers were warped by hot water.".to_owned());
    }
    words
}

/// Whether a fault can put voltage on metal that people touch, or takes away what protects
/// them from it.
const fn is_deadly(kind: FaultKind) -> bool {
    matches!(
        kind,
        FaultKind::EarthOpen
            | FaultKind::MotorInsulation
            | FaultKind::CableGroundFault
            | FaultKind::SpliceWet
    )
}

fn deadly(visit: &Visit) -> impl Iterator<Item = FaultKind> {
    let kinds = visit.faults.iter().map(|fault| fault.kind);
    kinds.filter(|kind| is_deadly(*kind))
}

fn left_live(visit: &Visit) -> Vec<FaultKind> {
    if visit.hands.is_locked_out {
        Vec::new()
    } else {
        deadly(visit).collect()
    }
}

fn untidy(visit: &Visit) -> Vec<String> {
    let mut words = Vec::new();
    let hands = &visit.hands;
    let controls = visit.plant.controls();
    for cover in &hands.open_covers {
        words.push(format!("{} was left open.", capital(cover.label())));
    }
    let flags = [
        // What can kill stays locked off until it is repaired.
        (
            hands.is_locked_out && deadly(visit).next().is_none(),
            "The breaker was left locked off.",
        ),
        (
            !hands.is_locked_out && !controls.breaker_on,
            "The breaker was left off.",
        ),
        (
            hands.leads_are_apart,
            "The conductors were left apart in the splice box.",
        ),
        (hands.pump_is_out, "The pump was left out of the source."),
        (
            hands.second_gauge.is_some(),
            "The second gauge was left on the system.",
        ),
        (controls.lever_held, "The switch's lever was left held up."),
        (controls.drain_opening > 0.0, "The drain was left open."),
        (
            controls.house_valve_opening < 1.0,
            "The house valve was not left open.",
        ),
        (
            controls.tank_valve_opening < 1.0,
            "The tank valve was not left open.",
        ),
        (
            controls.source_valve_opening < 1.0,
            "The source valve was not left open.",
        ),
    ];
    words.extend(
        flags
            .into_iter()
            .filter(|(is_so, _)| *is_so)
            .map(|(_, text)| text.to_owned()),
    );
    for fixture in visit.household.left_open() {
        let name = &visit.site.house.fixtures[fixture].name;
        words.push(format!("The outlet {name} was left open."));
    }
    words
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars
        .next()
        .map(|first| first.to_uppercase().chain(chars).collect())
        .unwrap_or_default()
}
