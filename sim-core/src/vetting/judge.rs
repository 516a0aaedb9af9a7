//! What is amiss with a vetted scenario.

use super::vet::{Finding, Grade, Vetted};
use crate::scenario::Scenario;

/// Probability below which a right call was a guess [-] (training value).
const A_GUESS: f64 = 0.75;
/// How far par may lie from what was taken: as a share, and at least so much [min], [USD]
/// (training values).
const PAR_SHARE: f64 = 0.5;
const PAR_MINUTES: f64 = 20.0;
const PAR_MONEY: f64 = 30.0;

/// Everything amiss, errors first.
pub(super) fn findings(vetted: &Vetted, scenario: &Scenario) -> Vec<Finding> {
    let mut errors = Vec::new();
    let mut remarks = Vec::new();
    solved(vetted, &mut errors);
    if let (true, Some(sentence)) = (vetted.is_right, &vetted.call_lost) {
        remarks.push(format!(
            "The right call did not earn all it could: {sentence}"
        ));
    }
    spent(vetted, &mut errors, &mut remarks);
    left(vetted, &mut errors, &mut remarks);
    if vetted.signs.is_empty() && !vetted.hidden.is_empty() {
        // Some faults show only to a meter; then the complaint is about something else.
        remarks.push(
            "An owner would notice nothing beside a healthy site: with a tap open, with nothing \
             drawn, or at panel and source. Does the complaint say where it shows?"
                .to_owned(),
        );
    }
    pays(vetted, scenario, &mut errors);
    let graded = |grade| move |sentence| Finding { grade, sentence };
    errors
        .into_iter()
        .map(graded(Grade::Error))
        .chain(remarks.into_iter().map(graded(Grade::Remark)))
        .collect()
}

fn solved(vetted: &Vetted, errors: &mut Vec<String>) {
    if !vetted.is_right {
        errors.push(format!(
            "Not found with this kit: hidden is \"{}\", called was \"{}\" ({:.0} % sure).",
            vetted.hidden_title,
            vetted.called_title,
            100.0 * vetted.probability
        ));
    } else if vetted.probability < A_GUESS {
        errors.push(format!(
            "The right call was a guess: {:.0} % sure when nothing more was worth reading.",
            100.0 * vetted.probability
        ));
    }
    if vetted.is_right && !vetted.is_cured {
        errors.push("Called, but not all of it was well at the end.".to_owned());
    }
    if !vetted.is_closed {
        errors.push("The visit could not be gone through to its close-up.".to_owned());
    }
    if vetted.is_right && vetted.is_cured && !vetted.passes {
        errors.push(format!(
            "Found and cured, and yet the mark, {:.1}, does not pass.",
            vetted.mark
        ));
    }
}

fn spent(vetted: &Vetted, errors: &mut Vec<String>, remarks: &mut Vec<String>) {
    if vetted.minutes > vetted.budget_minutes || vetted.money > vetted.budget_money {
        errors.push(format!(
            "The budget does not do: {:.0} min and {:.0} USD were taken, {:.0} min and {:.0} USD \
             are allowed.",
            vetted.minutes, vetted.money, vetted.budget_minutes, vetted.budget_money
        ));
    }
    let is_far = |taken: f64, par: f64, least: f64| {
        (taken - par).abs() > least.max(PAR_SHARE * par.max(taken))
    };
    if vetted.is_right
        && (is_far(vetted.minutes, vetted.par_minutes, PAR_MINUTES)
            || is_far(vetted.money, vetted.par_money, PAR_MONEY))
    {
        remarks.push(format!(
            "Par differs much: {:.0} min and {:.0} USD were taken, {:.0} min and {:.0} USD are \
             written.",
            vetted.minutes, vetted.money, vetted.par_minutes, vetted.par_money
        ));
    }
}

fn left(vetted: &Vetted, errors: &mut Vec<String>, remarks: &mut Vec<String>) {
    let with = |what: String| match &vetted.splitter {
        Some(splitter) => format!("{what} Or put in the kit: {}.", splitter.tool),
        None => what,
    };
    for left in &vetted.left {
        let sentence = format!(
            "\"{}\" is left beside it, {:.0} % likely.",
            left.title,
            100.0 * left.probability
        );
        if left.is_accepted {
            remarks.push(format!("{sentence} The scenario accepts it."));
        } else if vetted.is_right && left.probability > vetted.probability {
            errors.push(with(format!("{sentence} Accept either.")));
        } else {
            remarks.push(with(format!("{sentence} Think of accepting either.")));
        }
    }
}

fn pays(vetted: &Vetted, scenario: &Scenario, errors: &mut Vec<String>) {
    if let Some(trial) = &vetted.needless
        && trial.mark > vetted.mark
    {
        errors.push(format!(
            "A needless step pays: with {} the mark is {:.1} in place of {:.1}.",
            trial.added, trial.mark, vetted.mark
        ));
    }
    if let Some(trial) = &vetted.dangerous
        && (trial.passes || trial.mark >= vetted.mark.min(scenario.rubric.pass))
    {
        errors.push(format!(
            "An unsafe act pays: with {} the mark is {:.1} beside {:.1}, pass mark {:.0}.",
            trial.added, trial.mark, vetted.mark, scenario.rubric.pass
        ));
    }
}
