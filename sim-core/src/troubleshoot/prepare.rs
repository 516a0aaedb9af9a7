//! What must come before something can be done: walking, covers, lock, helpers.
//!
//! No rule of the session is written down a second time here: what is wanted is tried on a
//! site thought of, and what the session refuses or stops is what must come first.  So a
//! plan that comes out of here is one that the session lets pass, and a safe one.

use super::twins::try_action;
use crate::session::{
    Action, Cover, HazardKind, Outcome, Port, Refusal, Repair, Station, Until, Visit,
};

/// Most steps that are put before what is wanted.
const MOST_STEPS: usize = 40;
/// How long a tank is given to drain [s].
const DRAIN_S: f64 = 1_800.0;

/// How long it drains at the least [s].
const LEAST_DRAIN_S: f64 = 240.0;

/// What is wanted, and how the site is to be for it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wanted {
    /// Where one stands, for what can be done anywhere.
    pub(super) at: Option<Station>,
    /// The power is to be locked off.
    pub(super) is_locked: bool,
    /// The pump is to have power.
    pub(super) is_powered: bool,
    /// What is done.
    pub(super) actions: Vec<Action>,
}

/// A plan: actions, and which of them were wanted (by their place there).
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Plan {
    pub(super) steps: Vec<(Action, Option<usize>)>,
    pub(super) seconds: f64,
    pub(super) money: f64,
}

/// A plan for what is wanted, as things stand at a site thought of; none where there is no
/// safe way.  Also gives the site as the plan leaves it.
pub(super) fn plan(from: &Visit, wanted: &Wanted) -> Option<(Plan, Visit)> {
    let mut visit = from.clone();
    let mut plan = Plan {
        steps: Vec::new(),
        seconds: 0.0,
        money: 0.0,
    };
    let mut budget = MOST_STEPS;
    if wanted.is_locked && !visit.is_locked_out() {
        step(
            &mut visit,
            &Action::LockOut,
            None,
            wanted,
            &mut plan,
            &mut budget,
        )?;
    }
    if wanted.is_powered && (visit.is_locked_out() || !visit.plant().controls().breaker_on) {
        step(
            &mut visit,
            &Action::SetBreaker { on: true },
            None,
            wanted,
            &mut plan,
            &mut budget,
        )?;
    }
    for (place, action) in wanted.actions.iter().enumerate() {
        if let (Some(at), 0) = (wanted.at, place)
            && visit.station() != at
        {
            step(
                &mut visit,
                &Action::Go { to: at },
                None,
                wanted,
                &mut plan,
                &mut budget,
            )?;
        }
        step(
            &mut visit,
            action,
            Some(place),
            wanted,
            &mut plan,
            &mut budget,
        )?;
    }
    Some((plan, visit))
}

/// Does an action with everything that must come before it.
fn step(
    visit: &mut Visit,
    action: &Action,
    place: Option<usize>,
    wanted: &Wanted,
    plan: &mut Plan,
    budget: &mut usize,
) -> Option<()> {
    // A twin may have lost its pressure where the real site has not: what opens the pipes is
    // never left to what is thought.
    if visit.opens_water(action)
        && !(visit.is_locked_out() && visit.plant().controls().drain_opening >= 1.0)
    {
        step(visit, &Action::LockOut, None, wanted, plan, budget)?;
        for first in drain() {
            step(visit, &first, None, wanted, plan, budget)?;
        }
    }
    let mut last = None;
    loop {
        *budget = budget.checked_sub(1)?;
        let (outcome, before) = try_action(visit, action);
        if let Some(before) = before {
            *visit = before;
        }
        match outcome {
            Ok(Outcome {
                hazard: None,
                seconds,
                money,
                ..
            }) => {
                plan.steps.push((action.clone(), place));
                plan.seconds += seconds;
                plan.money += money;
                return Some(());
            }
            // What is so already need not be done.
            Err(Refusal::First(text)) if text.contains("already") => return Some(()),
            outcome => {
                let needed = first_of(visit, action, &outcome, wanted)?;
                if last.as_ref() == Some(&needed) {
                    return None;
                }
                for first in &needed {
                    step(visit, first, None, wanted, plan, budget)?;
                }
                last = Some(needed);
            }
        }
    }
}

/// What must come before an action that was refused or stopped.
fn first_of(
    visit: &Visit,
    action: &Action,
    outcome: &Result<Outcome, Refusal>,
    wanted: &Wanted,
) -> Option<Vec<Action>> {
    match outcome {
        Err(Refusal::WrongStation { at, .. }) => Some(vec![Action::Go { to: *at }]),
        Err(Refusal::Covered { cover }) => {
            let cover = Cover::ALL.into_iter().find(|c| c.label() == *cover)?;
            Some(vec![Action::OpenCover { cover }])
        }
        Err(Refusal::First(text)) => first_by_text(visit, action, text),
        Err(_) => None,
        Ok(outcome) => {
            let hazard = outcome.hazard.as_ref()?;
            Some(match hazard.kind {
                HazardKind::LiveWorkUnprotected => match action {
                    Action::OpenCover {
                        cover: Cover::Switch | Cover::Splice,
                    } if wanted.is_locked => vec![Action::LockOut],
                    _ => protect(visit),
                },
                HazardKind::NotProvedDead => {
                    if visit.is_locked_out() {
                        vec![Action::ProveDead]
                    } else {
                        vec![Action::LockOut]
                    }
                }
                HazardKind::MeterOnLiveCircuit => vec![Action::LockOut],
                HazardKind::ChargedCapacitor => vec![Action::DischargeCapacitor],
                HazardKind::StoredPressure => {
                    if !visit.is_locked_out() {
                        vec![Action::LockOut]
                    } else {
                        drain()
                    }
                }
                HazardKind::LiftedAlone => vec![Action::CallHelper],
                _ => return None,
            })
        }
    }
}

fn first_by_text(visit: &Visit, action: &Action, text: &str) -> Option<Vec<Action>> {
    let has = |part: &str| text.contains(part);
    Some(if has("pull the pump first") {
        vec![Action::PullPump]
    } else if has("take the lock away") && visit.is_locked_out() {
        vec![Action::RemoveLock]
    } else if has("switch the breaker on") {
        vec![Action::SetBreaker { on: true }]
    } else if has("lock the breaker off first") {
        vec![Action::LockOut]
    } else if has("join them first") {
        vec![Action::JoinLeads]
    } else if has("lower it first") {
        vec![Action::LowerPump { vented: true }]
    } else if has("call one") {
        vec![Action::CallQualified]
    } else if has("stop the pump first") {
        vec![Action::LockOut]
    } else if has("fit the second gauge first") && *action == Action::ReadSecondGauge {
        vec![Action::FitGauge { port: Port::Tee }]
    } else {
        return None;
    })
}

/// What work on live parts asks for.
fn protect(visit: &Visit) -> Vec<Action> {
    use crate::scenario::Role;
    use crate::session::Tool;
    let can_dress =
        visit.scenario().role == Role::Qualified && visit.kit().contains(&Tool::LiveWorkSet);
    if can_dress && !visit.is_dressed() {
        vec![Action::DressForLiveWork]
    } else {
        vec![Action::CallQualified]
    }
}

/// Letting the water out, the power being locked off.
pub(super) fn drain() -> Vec<Action> {
    vec![
        Action::SetDrain { opening: 1.0 },
        Action::WaitUntil {
            until: Until::GaugeBelow(0.0),
            at_most: DRAIN_S,
        },
        // The needle may lie: the drain is given its time whatever it shows.
        Action::Wait {
            seconds: LEAST_DRAIN_S,
        },
    ]
}

/// What brings a site back to how it is left: covers, valves, lock, power, lids.
pub(super) fn tidy(visit: &Visit, is_to_stay_locked: bool) -> Vec<Action> {
    let mut actions = Vec::new();
    if visit.pump_is_out() {
        actions.push(Action::LowerPump { vented: true });
    }
    if visit.leads_are_apart() {
        actions.push(Action::JoinLeads);
    }
    let controls = visit.plant().controls();
    if visit.second_gauge().is_some() {
        actions.push(Action::RemoveGauge);
    }
    if controls.source_valve_opening < 1.0 {
        actions.push(Action::SetSourceValve { opening: 1.0 });
    }
    let open = visit.open_covers();
    for cover in [Cover::Source, Cover::Splice] {
        if open.contains(&cover) {
            if cover == Cover::Source
                && visit.kit().contains(&crate::session::Tool::DisinfectionSet)
            {
                actions.push(Action::Disinfect);
            }
            actions.push(Action::CloseCover { cover });
        }
    }
    if controls.drain_opening > 0.0 {
        actions.push(Action::SetDrain { opening: 0.0 });
    }
    if controls.tank_valve_opening < 1.0 {
        actions.push(Action::SetTankValve { opening: 1.0 });
    }
    if controls.house_valve_opening < 1.0 {
        actions.push(Action::SetHouseValve { opening: 1.0 });
    }
    if controls.lever_held {
        actions.push(Action::HoldLever { held: false });
    }
    if open.contains(&Cover::Switch) {
        actions.push(Action::CloseCover {
            cover: Cover::Switch,
        });
    }
    if open.contains(&Cover::Panel) {
        actions.push(Action::CloseCover {
            cover: Cover::Panel,
        });
    }
    if visit.is_locked_out() && !is_to_stay_locked {
        actions.push(Action::RemoveLock);
    }
    if !is_to_stay_locked && (visit.is_locked_out() || !controls.breaker_on) {
        actions.push(Action::SetBreaker { on: true });
    }
    actions
}

/// Puts the lever up and waits for pressure.
pub(super) fn hold_lever() -> Vec<Action> {
    vec![
        Action::HoldLever { held: true },
        Action::Wait { seconds: 60.0 },
        Action::HoldLever { held: false },
    ]
}

/// A repair in place.
pub(super) const fn repair(part: crate::catalog::PartId, how: Repair) -> Action {
    Action::Repair { part, how }
}
