//! `shortcycle advise`: what is likely wrong at a system, and what to read next.

mod case;
mod readings;
#[cfg(test)]
mod tests;

use std::io::Write;
use std::process::ExitCode;

use anyhow::Result;

use super::args::AdviseArgs;
use super::debrief;
use super::practice::{self, page::Page};
use crate::troubleshoot::{Decision, Troubleshooter};

const COLUMNS: usize = 100;
/// Suspects that are told, and probability below which none is [-].
const MOST_SUSPECTS: usize = 8;
const LEAST_LIKELY: f64 = 0.005;
/// Readings that are told.
const MOST_READINGS: usize = 3;

/// Runs `shortcycle advise`.
pub(super) fn run(args: &AdviseArgs, out: &mut dyn Write, err: &mut dyn Write) -> Result<ExitCode> {
    let found = case::find(&args.case)?;
    let seen = match &args.log {
        Some(path) => readings::read(path, &found)?,
        None => Vec::new(),
    };
    writeln!(
        err,
        "thinking of everything that may be wrong at this site; this takes a while"
    )?;
    let mut mind = Troubleshooter::new(&found.public)?;
    for (action, outcome) in &seen {
        mind.observe(action, outcome);
    }
    let text = told(&mut mind, seen.len());
    out.write_all(text.as_bytes())?;
    Ok(ExitCode::SUCCESS)
}

fn told(mind: &mut Troubleshooter, n_seen: usize) -> String {
    let page = Page::plain(COLUMNS);
    let mut text = page.paragraph("", practice::NOTICE);
    text += &page.paragraph(
        "",
        "What follows is a simulator's opinion of a simulated site. Local codes and licensed \
         practice decide on real equipment, and no probability here is a reason to leave a \
         safety test out.",
    );
    text.push('\n');
    text += &page.paragraph(
        "",
        &match n_seen {
            0 => "Suspects before anything is read, by how often each is met (the complaint is \
                  not read):"
                .to_owned(),
            1 => "Suspects after one action:".to_owned(),
            n => format!("Suspects after {n} actions:"),
        },
    );
    let suspects = mind.suspects();
    let told = suspects.iter().take(MOST_SUSPECTS);
    let told: Vec<_> = told.filter(|s| s.probability >= LEAST_LIKELY).collect();
    for suspect in &told {
        let lead = format!("  {:>5.1} %  ", 100.0 * suspect.probability);
        text += &page.paragraph(&lead, &mind.title(&suspect.faults));
    }
    let rest = 1.0 - told.iter().map(|s| s.probability).sum::<f64>();
    if rest >= LEAST_LIKELY {
        text += &page.paragraph(&format!("  {:>5.1} %  ", 100.0 * rest), "everything else");
    }
    text += &page.paragraph(
        "",
        &format!(
            "Beside all that, the earth conductor to the pump is open with {:.1} % probability; \
             it shows only when it is measured, so measure it on every visit.",
            100.0 * mind.open_earth()
        ),
    );
    text.push('\n');
    if let Decision::Call {
        faults,
        probability,
    } = mind.stop_or_go()
    {
        text += &page.paragraph(
            "",
            &format!(
                "Another reading is likely not worth its time: \"{}\" is {:.0} % likely.",
                mind.title(&faults),
                100.0 * probability
            ),
        );
    }
    let readings = mind.next_best(MOST_READINGS);
    if readings.is_empty() {
        text += &page.paragraph("", "No reading would tell anything more.");
        return text;
    }
    text += &page.paragraph("", "Best readings next, by what they tell for their time:");
    for (at, advice) in readings.iter().enumerate() {
        let lead = format!("  {}. ", at + 1);
        let spent = format!(
            "{} ({:.0} min, {:.0} USD; {:.2} bits expected).",
            advice.title, advice.minutes, advice.money, advice.gain_bits
        );
        text += &page.paragraph(&lead, &spent);
        text += &page.paragraph("     ", &advice.why);
        let steps: Vec<String> = advice.commands.iter().map(debrief::action).collect();
        text += &page.paragraph("     ", &format!("Steps: {}.", steps.join("; ")));
    }
    text
}
