//! The debrief as plain text: 80 columns, every meaning in words.

use super::words;
use super::worth::Worths;
use crate::marking::{Report, WhyUnneeded};
use crate::session::Mode;
use crate::trace::Quantity;

const COLUMNS: usize = 80;

/// The debrief, with what readings were worth where that was asked for.
pub(super) fn text(report: &Report, worths: Option<&Worths>) -> String {
    let mut page = Page::default();
    head(&mut page, report);
    parts(&mut page, report);
    wrong(&mut page, report);
    left(&mut page, report);
    timeline(&mut page, report);
    if let Some(worths) = worths {
        worth(&mut page, report, worths);
    }
    safety(&mut page, report);
    notes(&mut page, report);
    page.text
}

#[derive(Default)]
struct Page {
    text: String,
}

impl Page {
    fn section(&mut self, title: &str) {
        self.text += &format!("\n{title}\n");
    }

    /// A paragraph, its first line after `lead`, the others below its beginning.
    fn line(&mut self, lead: &str, words: &str) {
        let indent = lead.chars().count();
        let mut width = indent;
        self.text += lead;
        let mut is_first = true;
        for word in words::plain(words).split(' ') {
            let length = word.chars().count();
            if !is_first && width + 1 + length > COLUMNS {
                self.text.push('\n');
                self.text += &" ".repeat(indent);
                width = indent;
            } else if !is_first {
                self.text.push(' ');
                width += 1;
            }
            self.text += word;
            width += length;
            is_first = false;
        }
        self.text.push('\n');
    }
}

fn head(page: &mut Page, report: &Report) {
    let scenario = &report.scenario;
    page.line("Debrief: ", &scenario.title);
    let mode = match report.mode {
        Mode::Practice => "practice",
        Mode::Graded => "graded",
    };
    page.line(
        "",
        &format!(
            "{}; scenario {}, seed {}, {mode}; site: {}",
            words::person(report),
            scenario.name,
            report.seed,
            scenario.site
        ),
    );
    page.line(
        "",
        &format!(
            "Cut-in {}, cut-out {}",
            words::both(Quantity::GaugePressure, scenario.cut_in_pa),
            words::both(Quantity::GaugePressure, scenario.cut_out_pa)
        ),
    );
    if report.is_torn {
        page.line("", "The logbook's last line was cut off; it was left out.");
    }
    page.section("What the customer said");
    page.line("  ", &scenario.complaint);
}

fn parts(page: &mut Page, report: &Report) {
    page.section(&format!(
        "Mark: {} of 100 (pass mark {})",
        words::points(report.total),
        words::points(report.pass_mark)
    ));
    let result = words::result(report);
    page.line("  Result: ", &words::full_stop(result));
    for part in &report.parts {
        page.line(
            "  ",
            &format!(
                "{}: {} of {}",
                part.label,
                words::points(part.earned),
                words::points(part.weight)
            ),
        );
        for finding in &part.findings {
            let (head, sentence) = words::finding(finding, part.weight);
            page.line(&format!("    {head:>5}  "), &sentence);
        }
    }
}

fn wrong(page: &mut Page, report: &Report) {
    page.section("What was wrong");
    if report.hidden.is_empty() {
        page.line("  ", "Nothing: the system was sound.");
    }
    for fault in &report.hidden {
        let state = if fault.is_cured {
            "well at the end"
        } else {
            "still there at the end"
        };
        page.line("  ", &format!("{} ({}), {state}.", fault.title, fault.name));
        page.line("    ", &fault.mechanism);
        page.line("    How it shows: ", &fault.signs.join("; "));
        for (title, splitter) in &fault.look_alikes {
            page.line(&format!("    Not {title}: "), splitter);
        }
        page.line(
            "    Remedy: ",
            &words::full_stop(&fault.remedies.join("; or ")),
        );
        page.line("    How it is proved: ", &fault.proof);
    }
    page.section("What was called");
    match &report.called {
        None => page.line("  ", "Nothing."),
        Some(called) if called.is_empty() => page.line("  ", "That the system is sound."),
        Some(called) => {
            for call in called {
                let verdict = if call.is_right { "right" } else { "not so" };
                page.line("  ", &format!("{} ({}): {verdict}", call.title, call.name));
            }
        }
    }
}

fn left(page: &mut Page, report: &Report) {
    page.section("How the site was left");
    let condition = &report.condition;
    let mut is_right = true;
    for sentence in condition.spoilt.iter().chain(&condition.untidy) {
        page.line("  ", sentence);
        is_right = false;
    }
    if condition.owes_disinfection {
        page.line("  ", "The source was opened and not disinfected.");
        is_right = false;
    }
    if is_right {
        page.line("  ", "Covers, valves, lock and lids as they should be.");
    }
    for part in &report.unneeded {
        let why = match part.why {
            WhyUnneeded::Sound => "the old one was sound",
            WhyUnneeded::NoEvidence => "nothing that was read before pointed at it",
        };
        page.line(
            "  ",
            &format!(
                "New {} in action {}: {why}; {:.0} USD.",
                part.part.label(),
                part.action,
                part.money
            ),
        );
    }
    let counts = &report.counts;
    page.line(
        "  ",
        &format!(
            "{:.0} min (par {:.0}), {:.0} USD (par {:.0}). Actions {}, readings {}, repairs and settings {}, new parts {}, hints {}.",
            report.minutes,
            report.scenario.par_minutes,
            report.money,
            report.scenario.par_money,
            counts.actions,
            counts.readings,
            counts.repairs,
            counts.parts,
            counts.hints
        ),
    );
}

fn timeline(page: &mut Page, report: &Report) {
    page.section("What was done");
    if report.timeline.is_empty() {
        page.line("  ", "Nothing.");
    }
    for row in &report.timeline {
        let money = if row.money > 0.0 {
            format!("; {:.0} USD", row.money)
        } else {
            String::new()
        };
        let undone = if row.is_undone { " (undone)" } else { "" };
        page.line(
            &format!("  {:>3}  {}  ", row.n, words::when(row.begun.seconds())),
            &format!(
                "{} ({}{money}){undone}",
                words::action(&row.action),
                row.station.name()
            ),
        );
        for line in words::shown(row) {
            page.line("                ", &line);
        }
        if row.hazard.is_some() {
            page.line("                ", "Dangerous act: see Safety.");
        }
    }
}

fn worth(page: &mut Page, report: &Report, worths: &Worths) {
    page.section("What each reading was worth");
    page.line("  ", &worths.head());
    for reading in &worths.readings {
        let row = report.timeline.iter().find(|row| row.n == reading.n);
        let done = row.map_or_else(String::new, |row| words::action(&row.action));
        page.line(
            &format!("  {:>3}  {:>10}  ", reading.n, reading.figure()),
            &format!("{done}: {}", reading.words),
        );
    }
    for better in &worths.better {
        page.line("  ", &better.sentence());
    }
}

fn safety(page: &mut Page, report: &Report) {
    page.section("Safety");
    if report.counts.hazards == 0 {
        page.line("  ", "No dangerous act.");
    }
    for row in &report.timeline {
        if let Some(hazard) = words::hazard(row) {
            page.line("  ", &format!("Action {}: {hazard}", row.n));
        }
    }
    for caution in words::CAUTIONS {
        page.line("  ", caution);
    }
}

fn notes(page: &mut Page, report: &Report) {
    let scenario = &report.scenario;
    if !scenario.teaching.is_empty() {
        page.section("What it teaches");
        for paragraph in paragraphs(&scenario.teaching) {
            page.line("  ", &paragraph);
        }
    }
    if !scenario.references.is_empty() {
        page.section("What it is evidence of");
        for reference in &scenario.references {
            page.line("  ", reference);
        }
    }
    page.section("Made by");
    page.line(
        "  ",
        &format!(
            "Recorded by version {}, marked by version {}, by living the logbook again.",
            report.recorded_by, report.marked_by
        ),
    );
}

/// Paragraphs, which blank lines part.
pub(super) fn paragraphs(text: &str) -> Vec<String> {
    let mut paragraphs = vec![String::new()];
    for line in text.lines() {
        if line.trim().is_empty() {
            paragraphs.push(String::new());
        } else if let Some(last) = paragraphs.last_mut() {
            last.push(' ');
            last.push_str(line.trim());
        }
    }
    paragraphs.retain(|paragraph| !paragraph.trim().is_empty());
    paragraphs
}
