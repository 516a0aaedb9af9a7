//! What each reading was worth, as the tool's own troubleshooter sees it: told what was
//! done and seen, and nothing that was hidden.

use serde::Serialize;

use super::words;
use crate::cli::display::fixed;
use crate::marking::Report;
use crate::scenario::Scenario;
use crate::session::{Action, Outcome};
use crate::troubleshoot::{Advice, PublicCase, Troubleshooter, Worth};

/// Bits from which a reading told much, and something (training values).
const MUCH_BITS: f64 = 1.0;
const SOMETHING_BITS: f64 = 0.2;
/// Readings that told nothing after which a better one is named.
const MOST_BETTER: usize = 3;

/// What readings were worth.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Worths {
    /// Why the visit could not be followed; none when it could.
    pub(super) not_followed: Option<String>,
    /// Every reading and look that stood.
    pub(super) readings: Vec<Reading>,
    /// What would have told more.
    pub(super) better: Vec<Better>,
}

/// What one reading was worth.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Reading {
    /// Number of the action.
    pub(super) n: u64,
    /// How much less was unknown of part and mechanism [bits].
    pub(super) bits: f64,
    /// How far the weights of all that was thought of moved [bits].
    pub(super) moved_bits: f64,
    /// What it took [min].
    pub(super) minutes: f64,
    /// In words.
    pub(super) words: String,
}

/// A reading that would have told most.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Better {
    /// After which action; nought is the beginning.
    pub(super) after: u64,
    /// Which.
    pub(super) title: String,
    /// What it was expected to tell [bits].
    pub(super) bits: f64,
    /// What it would have taken [min].
    pub(super) minutes: f64,
    /// Why.
    pub(super) why: String,
}

/// Follows a visit up to its first call.
pub(super) fn follow(scenario: &Scenario, report: &Report) -> Worths {
    let mut worths = Worths {
        not_followed: None,
        readings: Vec::new(),
        better: Vec::new(),
    };
    let mut mind = match Troubleshooter::new(&PublicCase::of(scenario)) {
        Ok(mind) => mind,
        Err(error) => {
            worths.not_followed = Some(error.to_string());
            return worths;
        }
    };
    worths.better.extend(better(&mut mind, 0));
    let mut before: Vec<(u64, &Action)> = Vec::new();
    for row in &report.timeline {
        if matches!(row.action, Action::Call { .. }) || row.hazard.is_some() {
            break;
        }
        // What was taken back is as if it had not been done.
        if row.is_undone || row.action == Action::Undo {
            continue;
        }
        let outcome = Outcome {
            seconds: row.ended.seconds() - row.begun.seconds(),
            money: row.money,
            readings: row.readings.clone(),
            cues: row.cues.clone(),
            remarks: row.remarks.clone(),
            ..Outcome::default()
        };
        mind.observe(&row.action, &outcome);
        let Some(worth) = mind.worth().last() else {
            continue;
        };
        if row.readings.is_empty() && row.cues.is_empty() {
            continue;
        }
        let told_nothing = worth.told_nothing();
        let earlier = before.iter().rev().find(|(_, done)| **done == row.action);
        worths.readings.push(Reading {
            n: row.n,
            bits: worth.bits,
            moved_bits: worth.moved_bits,
            minutes: worth.minutes,
            words: in_words(worth, earlier.map(|(n, _)| *n)),
        });
        before.push((row.n, &row.action));
        if told_nothing && worths.better.len() <= MOST_BETTER {
            worths.better.extend(better(&mut mind, row.n));
        }
    }
    worths
}

fn in_words(worth: &Worth, earlier: Option<u64>) -> String {
    if worth.told_nothing() {
        return match earlier {
            Some(n) => format!("told nothing new: the same was done in action {n}"),
            None => "told nothing: it came out the same for every likely suspect".to_owned(),
        };
    }
    match worth.bits {
        bits if bits >= MUCH_BITS => "told much: it at least halved what was unknown",
        bits if bits >= SOMETHING_BITS => "told something",
        bits if bits <= -SOMETHING_BITS => {
            "a surprise: more suspects were open afterwards than before"
        }
        _ => "told little",
    }
    .to_owned()
}

fn better(mind: &mut Troubleshooter, after: u64) -> Option<Better> {
    let advice: Advice = mind.next_best(1).into_iter().next()?;
    Some(Better {
        after,
        title: advice.title,
        bits: advice.gain_bits,
        minutes: advice.minutes,
        why: advice.why,
    })
}

impl Reading {
    /// Bits with their sign, for a column.
    pub(super) fn figure(&self) -> String {
        let sign = if self.bits < 0.0 { "\u{2212}" } else { "+" };
        format!("{sign}{} bits", fixed(self.bits.abs(), 2))
    }
}

impl Better {
    /// A sentence.
    pub(super) fn sentence(&self) -> String {
        let when = match self.after {
            0 => "At the beginning".to_owned(),
            n => format!("After action {n}"),
        };
        words::full_stop(&format!(
            "{when} this would have told most for its time: {} ({:.0} min, {} bits expected). {}",
            self.title,
            self.minutes,
            fixed(self.bits, 2),
            self.why
        ))
    }
}

impl Worths {
    /// What there is to say before the list.
    pub(super) fn head(&self) -> String {
        match &self.not_followed {
            Some(why) => format!("The troubleshooter could not follow this visit: {why}."),
            None if self.readings.is_empty() => "Nothing was read before the call.".to_owned(),
            None => "As the simulator's own troubleshooter sees it, which knew what was seen and \
                     not what was hidden; one bit less unknown halves the field."
                .to_owned(),
        }
    }
}
