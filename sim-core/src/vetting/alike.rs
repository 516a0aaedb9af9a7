//! What would part suspects that the kit could not.

use std::sync::Arc;

use super::vet::{Splitter, VetError};
use crate::scenario::Scenario;
use crate::session::{Action, Mode, Refusal, Tool, Visit};
use crate::troubleshoot::{CaseWork, PublicCase, Troubleshooter};

/// Readings that are looked at for one that needs another tool.
const MOST_READINGS: usize = 12;

/// The best reading with a tool that the kit does not hold, where the visit stood when it
/// was called: what was seen until then is told to a troubleshooter that carries everything.
pub(super) fn splitter(
    scenario: &Arc<Scenario>,
    seed: u64,
    work: &CaseWork,
) -> Result<Option<Splitter>, VetError> {
    let mut case = PublicCase::of(scenario);
    case.kit = Tool::ALL.to_vec();
    let mut mind = Troubleshooter::new(&case)?;
    let mut visit = Visit::begin(scenario, seed, Mode::Graded)?;
    let is_call = |action: &Action| matches!(action, Action::Call { .. });
    for (action, outcome) in work.done.iter().take_while(|done| !is_call(&done.0)) {
        mind.observe(action, outcome);
        if visit.perform(action).is_err() {
            return Ok(None);
        }
    }
    let found = mind
        .next_best(MOST_READINGS)
        .into_iter()
        .find_map(|advice| {
            let tool = missing(&visit, &advice.commands)?;
            Some(Splitter {
                tool,
                reading: advice.title,
                why: advice.why,
            })
        });
    Ok(found)
}

/// The tool that the kit lacks for these actions.
fn missing(visit: &Visit, commands: &[Action]) -> Option<String> {
    let mut there = visit.clone();
    for action in commands {
        match there.perform(action) {
            Err(Refusal::NotInKit { tool }) => return Some(tool.to_owned()),
            Err(_) => return None,
            Ok(_) => {}
        }
    }
    None
}
