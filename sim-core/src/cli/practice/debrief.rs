//! What is said at the end.

use crate::session::Visit;

/// How an exercise came out: a few lines, and whether it passes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Debrief {
    /// Paragraphs.
    pub(super) lines: Vec<String>,
    /// Whether a graded exercise passes; none when it was not judged.
    pub(super) passes: Option<bool>,
}

/// The one door to marking.
///
/// Marks are a matter of the logbook; here the person is told what was wrong at the site
/// and how they left it.
pub(super) fn debrief(visit: &Visit) -> Debrief {
    let mut lines = Vec::new();
    if let Some(truth) = visit.truth() {
        let title = |kind| super::grammar::fault_title(kind);
        let hidden: Vec<String> = truth.iter().map(|fault| title(fault.kind)).collect();
        lines.push(if hidden.is_empty() {
            "Nothing was wrong with this system.".to_owned()
        } else {
            format!("What was wrong: {}.", hidden.join("; "))
        });
        lines.push(match visit.call() {
            None => "You made no call.".to_owned(),
            Some([]) => "You called it healthy.".to_owned(),
            Some(call) => {
                let called: Vec<String> = call.iter().map(|name| title(name.0)).collect();
                format!("You called: {}.", called.join("; "))
            }
        });
    }
    let condition = visit.condition();
    let open: Vec<String> = condition
        .hidden
        .iter()
        .filter(|remaining| !remaining.is_cured)
        .map(|remaining| super::grammar::fault_title(remaining.fault.kind))
        .collect();
    if !open.is_empty() {
        lines.push(format!("Not put right: {}.", open.join("; ")));
    } else if !condition.hidden.is_empty() {
        lines.push("It is put right.".to_owned());
    }
    for (head, list) in [
        ("Spoilt on the way", &condition.spoilt),
        ("Not left as it should be", &condition.untidy),
    ] {
        if !list.is_empty() {
            lines.push(format!("{head}: {}.", joined(list)));
        }
    }
    if condition.owes_disinfection {
        lines.push("The source was opened and not disinfected.".to_owned());
    }
    match visit.hazards().len() {
        0 => {}
        1 => lines.push("One dangerous act.".to_owned()),
        n => lines.push(format!("{n} dangerous acts.")),
    }
    let par = visit.scenario().par;
    lines.push(format!(
        "It took {:.0} minutes and ${:.0}; a practised technician takes {:.0} minutes and ${:.0}.",
        visit.minutes(),
        visit.money(),
        par.minutes,
        par.money
    ));
    Debrief {
        lines,
        passes: None,
    }
}

/// Sentences as one row.
fn joined(list: &[String]) -> String {
    list.iter()
        .map(|line| line.trim_end_matches('.'))
        .collect::<Vec<_>>()
        .join("; ")
}
