//! What an owner would notice: the site beside its healthy twin.

use std::sync::Arc;

use super::vet::VetError;
use crate::plant::Start;
use crate::scenario::Scenario;
use crate::session::{Action, Books, Station, Visit};
use crate::trace::Totals;

/// Share by which a quantity differs that is noticed [-] (training value).
const NOTICED: f64 = 0.1;
/// How long a tap is left open [s], and how long nobody draws [s].
const DRAW_S: f64 = 300.0;
const QUIET_S: f64 = 1_800.0;
/// Water that is too little to be noticed [m³], time of running likewise [s].
const LITTLE_M3: f64 = 0.002;
const LITTLE_S: f64 = 10.0;

/// What differs between what a seed hides and nothing at all, one sentence each; empty when
/// an owner would notice nothing.
pub(super) fn signs(scenario: &Arc<Scenario>, seed: u64) -> Result<Vec<String>, VetError> {
    let mut quiet = (**scenario).clone();
    // Draws at chance times would differ for no other reason.
    quiet.use_during = None;
    let quiet = Arc::new(quiet);
    let books = Books::shipped();
    let lived = |faults| -> Result<Vec<Stretch>, VetError> {
        let mut visit = Visit::imagine(&quiet, faults, seed, &books)?;
        Ok(a_day(&mut visit))
    };
    let ill = lived(scenario.draw(seed))?;
    let well = lived(Vec::new())?;
    let mut signs: Vec<String> = Vec::new();
    for (ill, well) in ill.iter().zip(&well) {
        for sign in ill.beside(well) {
            if !signs.contains(&sign) {
                signs.push(sign);
            }
        }
    }
    Ok(signs)
}

/// A stretch of an owner's day.
struct Stretch {
    what: &'static str,
    totals: Totals,
    cues: Vec<(String, String)>,
}

impl Stretch {
    fn beside(&self, well: &Self) -> Vec<String> {
        let mut signs = Vec::new();
        let mut note = |is_noticed: bool, what: &str| {
            if is_noticed {
                signs.push(format!("{}: {what}", self.what));
            }
        };
        let (ill, sound) = (&self.totals, &well.totals);
        note(
            differs(ill.used_m3, sound.used_m3, LITTLE_M3),
            "another amount of water comes",
        );
        note(
            ill.pump_starts != sound.pump_starts,
            "the pump starts more or less often",
        );
        note(
            differs(ill.pump_run_s, sound.pump_run_s, LITTLE_S),
            "the pump runs for longer or shorter",
        );
        note(
            differs(ill.leaked_m3 + ill.relieved_m3, 0.0, LITTLE_M3),
            "water runs away",
        );
        for (name, caption) in &self.cues {
            if !well.cues.iter().any(|(other, _)| other == name) {
                note(true, caption);
            }
        }
        for (name, caption) in &well.cues {
            if !self.cues.iter().any(|(other, _)| other == name) {
                note(true, &format!("not as it should be: {caption}"));
            }
        }
        signs
    }
}

fn differs(one: f64, other: f64, little: f64) -> bool {
    let difference = (one - other).abs();
    difference > little && difference > NOTICED * one.abs().max(other.abs())
}

/// A tap open, then nothing drawn; what is seen and heard at house and wall, and on the way
/// past panel and source.
fn a_day(visit: &mut Visit) -> Vec<Stretch> {
    let outlet = visit.scenario().site.house.fixtures.first();
    let outlet = outlet.map(|fixture| fixture.name.clone());
    let tap = |opening: f64| {
        outlet.as_ref().map(|outlet| Action::SetOutlet {
            outlet: outlet.clone(),
            opening,
        })
    };
    let go = |to| Some(Action::Go { to });
    let wait = |seconds| Some(Action::Wait { seconds });
    let look = || Some(Action::Look { at: None });
    let mut stretches = Vec::new();
    if visit.scenario().start != Start::Charged {
        // A system that was never in service is switched on first.
        let on = [
            go(Station::Panel),
            Some(Action::SetBreaker { on: true }),
            go(Station::Wall),
            Some(Action::SetHouseValve { opening: 1.0 }),
            wait(DRAW_S),
        ];
        stretches.push(stretch(visit, "switched on", on));
    }
    stretches.push(stretch(
        visit,
        "with a tap open",
        [
            go(Station::House),
            tap(1.0),
            wait(DRAW_S),
            look(),
            Some(Action::Listen),
            Some(Action::Smell),
            tap(0.0),
        ],
    ));
    stretches.push(stretch(
        visit,
        "with nothing drawn",
        [
            go(Station::Wall),
            look(),
            Some(Action::Listen),
            Some(Action::Smell),
            wait(QUIET_S),
            look(),
            Some(Action::Listen),
        ],
    ));
    stretches.push(stretch(
        visit,
        "at panel and source",
        [
            go(Station::Panel),
            look(),
            Some(Action::Smell),
            go(Station::Source),
            look(),
            Some(Action::Listen),
        ],
    ));
    stretches
}

/// Does what can be done, and keeps what was perceived and what it came to.
fn stretch(
    visit: &mut Visit,
    what: &'static str,
    actions: impl IntoIterator<Item = Option<Action>>,
) -> Stretch {
    let before = visit.plant().totals();
    let mut cues: Vec<(String, String)> = Vec::new();
    for action in actions.into_iter().flatten() {
        // What an owner cannot do tells them nothing.
        let Ok(outcome) = visit.perform(&action) else {
            continue;
        };
        for cue in outcome.cues {
            if !cues.iter().any(|(name, _)| *name == cue.name) {
                cues.push((cue.name, cue.caption));
            }
        }
    }
    let after = visit.plant().totals();
    Stretch {
        what,
        totals: Totals {
            pump_starts: after.pump_starts - before.pump_starts,
            pump_run_s: after.pump_run_s - before.pump_run_s,
            used_m3: after.used_m3 - before.used_m3,
            leaked_m3: after.leaked_m3 - before.leaked_m3,
            relieved_m3: after.relieved_m3 - before.relieved_m3,
            ..after
        },
        cues,
    }
}
