//! What is only written or said: notes, suspects, the call, hints, the close-up.

use super::action::FaultName;
use super::outcome::{Observation, Outcome, Refusal};
use super::perform::Worked;
use super::visit::{Mode, Visit};

/// Longest note [bytes].
const LONGEST_NOTE: usize = 4_000;
/// Most faults in one call.
const MOST_CALLED: usize = 12;

impl Visit {
    pub(super) fn write_note(&mut self, text: &str, out: &mut Outcome) -> Worked {
        if text.len() > LONGEST_NOTE {
            return Err(Refusal::BadNumber {
                what: format!("the note has {} bytes", text.len()),
                accepted: format!("up to {LONGEST_NOTE}"),
            }
            .into());
        }
        self.write(Observation::Note(text.to_owned()), out);
        Ok(())
    }

    pub(super) fn suspect(&mut self, fault: FaultName, keep: bool) -> Worked {
        self.suspects.retain(|name| *name != fault);
        self.struck_out.retain(|name| *name != fault);
        if keep {
            self.suspects.push(fault);
        } else {
            self.struck_out.push(fault);
        }
        Ok(())
    }

    /// States what is wrong; a later call takes the place of an earlier one.
    pub(super) fn call_faults(&mut self, faults: &[FaultName], out: &mut Outcome) -> Worked {
        if faults.len() > MOST_CALLED {
            return Err(Refusal::BadNumber {
                what: format!("{} faults in one call", faults.len()),
                accepted: format!("up to {MOST_CALLED}"),
            }
            .into());
        }
        self.work("call", out)?;
        let mut called = faults.to_vec();
        called.sort_unstable();
        called.dedup();
        out.remarks.push(if called.is_empty() {
            "Called: nothing is wrong with the system.".to_owned()
        } else {
            let names: Vec<&str> = called.iter().map(|name| name.0.info().name).collect();
            format!("Called: {}.", names.join(", "))
        });
        self.call = Some(called);
        Ok(())
    }

    pub(super) fn hint(&mut self, out: &mut Outcome) -> Worked {
        if self.fixed.mode == Mode::Graded {
            return Err(Refusal::PracticeOnly { what: "a hint" }.into());
        }
        let hints = &self.fixed.scenario.hints;
        let Some(hint) = hints.get(self.hints_given) else {
            return Err(Refusal::First("there are no more hints".to_owned()).into());
        };
        out.remarks.push(hint.clone());
        self.hints_given += 1;
        Ok(())
    }

    pub(super) fn close_up(&mut self, out: &mut Outcome) -> Worked {
        if !self.is_stopped {
            self.work("close_up", out)?;
        }
        self.is_over = true;
        let condition = self.condition();
        out.remarks.extend(condition.untidy);
        if condition.owes_disinfection {
            out.remarks
                .push("The source was opened and not disinfected.".to_owned());
        }
        Ok(())
    }
}
