//! A vetted scenario as plain text, 100 columns.

use crate::cli::debrief;
use crate::cli::practice::page::Page;
use crate::scenario::Scenario;
use crate::vetting::{Grade, Trial, Vetted};

const COLUMNS: usize = 100;
/// Most signs that are told, the rest counted.
const MOST_SIGNS: usize = 6;

/// Everything about every member.
pub(super) fn text(scenario: &Scenario, members: &[Vetted]) -> String {
    let page = Page::plain(COLUMNS);
    let mut text = page.paragraph(
        "",
        &format!(
            "{} ({}): {} worked from complaint to close-up by a simulator's own troubleshooter, \
             which is told nothing that is hidden.",
            scenario.title,
            scenario.name,
            match members.len() {
                1 => "one visit".to_owned(),
                n => format!("{n} visits"),
            }
        ),
    );
    for vetted in members {
        text.push('\n');
        member(&mut text, page, vetted);
    }
    let count = |grade| {
        let all = members.iter().flat_map(|vetted| &vetted.findings);
        all.filter(|finding| finding.grade == grade).count()
    };
    text.push('\n');
    text += &page.paragraph(
        "",
        &match count(Grade::Error) {
            0 => format!("Nothing amiss. Remarks: {}.", count(Grade::Remark)),
            n => format!("Findings: {n}. Remarks: {}.", count(Grade::Remark)),
        },
    );
    text
}

fn member(text: &mut String, page: Page, vetted: &Vetted) {
    let mut line = |lead: &str, words: &str| *text += &page.paragraph(lead, words);
    line(
        "",
        &format!("Seed {}, hidden: {}", vetted.seed, vetted.hidden_title),
    );
    line(
        "  Solved:     ",
        &format!(
            "{}; called \"{}\", {} sure; mark {} of 100",
            match (vetted.is_right, vetted.is_cured) {
                (true, true) => "yes",
                (true, false) => "called, not cured",
                (false, _) => "no",
            },
            vetted.called_title,
            sure(vetted.probability),
            debrief::points(vetted.mark)
        ),
    );
    line(
        "  Decided by: ",
        &vetted.decisive.as_ref().map_or_else(
            || "nothing that was read".to_owned(),
            |decisive| {
                format!(
                    "action {}, {}: {:.1} bits less unknown",
                    decisive.n,
                    debrief::action(&decisive.action),
                    decisive.bits
                )
            },
        ),
    );
    line(
        "  Par:        ",
        &format!(
            "{:.0} min, {:.0} USD, {} commands as worked; {:.0} min, {:.0} USD as written; budget \
             {:.0} min, {:.0} USD",
            vetted.minutes,
            vetted.money,
            vetted.commands,
            vetted.par_minutes,
            vetted.par_money,
            vetted.budget_minutes,
            vetted.budget_money
        ),
    );
    if vetted.left.is_empty() {
        line("  Left:       ", "nothing that looks alike");
    }
    for left in &vetted.left {
        let accepted = if left.is_accepted { ", accepted" } else { "" };
        line(
            "  Left:       ",
            &format!(
                "{}, {:.0} %{accepted}",
                left.title,
                100.0 * left.probability
            ),
        );
    }
    if let Some(splitter) = &vetted.splitter {
        line(
            "  Would part: ",
            &format!(
                "{}, with {} in the kit. {}",
                splitter.reading, splitter.tool, splitter.why
            ),
        );
    }
    if vetted.signs.is_empty() {
        line("  It shows:   ", "nothing that an owner would notice");
    }
    for sign in vetted.signs.iter().take(MOST_SIGNS) {
        line("  It shows:   ", sign);
    }
    if vetted.signs.len() > MOST_SIGNS {
        let more = vetted.signs.len() - MOST_SIGNS;
        line("              ", &format!("and {more} more"));
    }
    let tried = |trial: &Option<Trial>, what: &str| match trial {
        Some(trial) => format!("{}: mark {}", trial.added, debrief::points(trial.mark)),
        None => format!("{what} could not be tried on this visit"),
    };
    line(
        "  Needless:   ",
        &tried(&vetted.needless, "a needless reading"),
    );
    line("  Unsafe:     ", &tried(&vetted.dangerous, "an unsafe act"));
    for finding in &vetted.findings {
        let lead = match finding.grade {
            Grade::Error => "  FINDING:    ",
            Grade::Remark => "  Remark:     ",
        };
        line(lead, &finding.sentence);
    }
}

/// A probability in percent; nothing is certain.
fn sure(probability: f64) -> String {
    if probability > 0.995 {
        "over 99 %".to_owned()
    } else {
        format!("{:.0} %", 100.0 * probability)
    }
}
