//! Hints when the trainer's are used up: the tool's own troubleshooter, told what was done
//! and seen in this visit and nothing else, says a little more each time it is asked.

use std::io::Write;

use anyhow::Result;

use super::page::Page;
use crate::session::{Action, Outcome, Station, Visit};
use crate::troubleshoot::{Advice, Decision, PublicCase, Troubleshooter, TwinError};

/// What is told while it thinks, the first time and later.
const AT_FIRST: &str = "Thinking of everything that may be wrong at this site; this takes a while.";
const LATER: &str = "Thinking; this may take a second or more.";

/// What was done and seen, and who makes sense of it.
#[derive(Debug, Default)]
pub(super) struct Counsel {
    mind: Option<Troubleshooter>,
    seen: Vec<(Action, Outcome)>,
    /// How much of it was told to the mind.
    told: usize,
    /// What was found best, and how often it was asked for since.
    best: Option<(Decision, usize)>,
}

impl Counsel {
    /// Counsel on a visit of which this was done.
    pub(super) fn new(seen: Vec<(Action, Outcome)>) -> Self {
        Self {
            seen,
            ..Self::default()
        }
    }

    /// Takes down what was done.
    pub(super) fn note(&mut self, action: &Action, outcome: &Outcome) {
        self.seen.push((action.clone(), outcome.clone()));
        let is_only_thought = matches!(
            action,
            Action::Hint | Action::Note { .. } | Action::Suspect { .. }
        );
        if !is_only_thought {
            self.best = None;
        }
    }

    /// Says what would be best next, plainer each time.
    ///
    /// # Errors
    /// When it cannot be written.
    pub(super) fn say(&mut self, visit: &Visit, page: Page, out: &mut dyn Write) -> Result<()> {
        if self.best.is_none() {
            let thinking = if self.mind.is_none() { AT_FIRST } else { LATER };
            write!(out, "{}", page.paragraph("", thinking))?;
            out.flush()?;
            match self.think(visit) {
                Ok(decision) => self.best = Some((decision, 0)),
                Err(error) => {
                    let why = format!("There is no hint: {error}.");
                    write!(out, "{}", page.paragraph("", &why))?;
                    return Ok(());
                }
            }
        }
        if let (Some((decision, strength)), Some(mind)) = (&mut self.best, &self.mind) {
            *strength += 1;
            let words = match decision {
                Decision::Read(advice) => reading(advice, *strength, visit.station()),
                Decision::Call {
                    faults,
                    probability,
                } => {
                    let parts: Vec<&str> = faults
                        .iter()
                        .filter_map(|kind| mind.catalog().entry(*kind))
                        .map(|entry| entry.part.label())
                        .collect();
                    call(&parts, &mind.title(faults), *probability, *strength)
                }
            };
            write!(out, "{}", page.paragraph("Hint: ", &words))?;
            if *strength < STRENGTHS {
                let more = "Ask again for more.";
                write!(out, "{}", page.paragraph("      ", more))?;
            }
        }
        Ok(())
    }

    fn think(&mut self, visit: &Visit) -> Result<Decision, TwinError> {
        if self.mind.is_none() {
            self.mind = Some(Troubleshooter::new(&PublicCase::of(visit.scenario()))?);
            self.told = 0;
        }
        let mind = self.mind.as_mut();
        // It was made just now, where it was not there.
        let mind = mind.ok_or_else(|| TwinError::NoTwin("nothing to think with".to_owned()))?;
        for (action, outcome) in &self.seen[self.told..] {
            mind.observe(action, outcome);
        }
        self.told = self.seen.len();
        Ok(mind.stop_or_go())
    }
}

/// How often more is told.
const STRENGTHS: usize = 3;

/// Where, what, and why.
fn reading(advice: &Advice, strength: usize, here: Station) -> String {
    let at = advice
        .commands
        .iter()
        .rev()
        .find_map(|action| match action {
            Action::Go { to } => Some(*to),
            _ => None,
        });
    let at = at.unwrap_or(here).label();
    match strength {
        0 | 1 => format!("The reading that tells most for its time is taken at {at}."),
        2 => format!(
            "At {at}: {} ({:.0} min, {:.0} USD).",
            advice.title, advice.minutes, advice.money
        ),
        _ => format!("At {at}: {}. {}", advice.title, advice.why),
    }
}

/// That it is time to call, about which part, and what.
fn call(parts: &[&str], title: &str, probability: f64, strength: usize) -> String {
    let enough = "Enough has been read: another reading is not worth its time. Make the call";
    match (strength, parts.is_empty()) {
        (0 | 1, _) => format!("{enough}, if you have not."),
        (2, true) => format!("{enough}: is any part at fault at all?"),
        (2, false) => format!("{enough}; think of: {}.", parts.join(", ")),
        _ => format!(
            "{enough}: \"{title}\" is {:.0} % likely.",
            100.0 * probability
        ),
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::scenario::Scenario;
    use crate::session::Mode;

    /// Three strengths, each telling more, and from the start after the next action.
    #[test]
    fn a_hint_tells_more_each_time_and_begins_anew_after_an_action() {
        let scenario = Arc::new(Scenario::shipped("first-steps").unwrap());
        let mut visit = Visit::begin(&scenario, 1, Mode::Practice).unwrap();
        let mut counsel = Counsel::default();
        let page = Page::plain(80);
        let say = |counsel: &mut Counsel, visit: &Visit| {
            let mut out = Vec::new();
            counsel.say(visit, page, &mut out).unwrap();
            String::from_utf8(out).unwrap()
        };
        let first = say(&mut counsel, &visit);
        assert!(first.contains("takes a while") && first.contains("is taken at"));
        assert!(first.contains("Ask again"));
        let second = say(&mut counsel, &visit);
        assert!(second.contains("min,") && !second.contains("If it is"));
        let third = say(&mut counsel, &visit);
        assert!(third.contains("If it is"), "{third}");
        assert!(!third.contains("Ask again"));

        let action = Action::ReadGauge;
        let outcome = visit.perform(&action).unwrap();
        counsel.note(&action, &outcome);
        let anew = say(&mut counsel, &visit);
        assert!(anew.contains("a second or more"), "{anew}");
    }
}
