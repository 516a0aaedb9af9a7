//! The conversation: a status line, a line in, an action, what came of it.

use std::io::Write;
use std::process::ExitCode;

use anyhow::Result;

use super::counsel::Counsel;
use super::grammar::{self, Context, Line, Misunderstood, Show};
use super::input::{Input, Lines};
use super::keeping::Keeper;
use super::page::{Ink, Page};
use super::said::said;
use super::screens;
use super::setup::Begun;
use super::telling::Telling;
use crate::cli::display::{Units, span};
use crate::cli::{FAILED, debrief};
use crate::marking::mark;
use crate::session::{Action, Logbook, Mode, Record, Visit};

/// A visit being talked through.
pub(super) struct Conversation {
    visit: Visit,
    logbook: Logbook,
    keeper: Option<Keeper>,
    remarks: Vec<String>,
    counsel: Counsel,
    outlets: Vec<String>,
    units: Units,
    page: Page,
}

impl Conversation {
    /// A conversation about a visit.
    pub(super) fn new(begun: Begun, units: Units, page: Page) -> Self {
        let outlets = begun
            .visit
            .scenario()
            .site
            .house
            .fixtures
            .iter()
            .map(|fixture| fixture.name.clone())
            .collect();
        Self {
            visit: begun.visit,
            logbook: begun.logbook,
            keeper: begun.keeper,
            remarks: begun.remarks,
            counsel: Counsel::new(begun.seen),
            outlets,
            units,
            page,
        }
    }

    /// Notice, complaint, kit, how to get help, where the logbook is.
    pub(super) fn introduce(&self, out: &mut dyn Write, notice: &str) -> Result<()> {
        let page = self.page;
        let scenario = self.visit.scenario();
        write!(out, "{}", page.paragraph("", notice))?;
        writeln!(out)?;
        let title = match self.visit.mode() {
            Mode::Practice => scenario.title.clone(),
            Mode::Graded => format!("{} (graded: one try, no hints, no undo)", scenario.title),
        };
        write!(
            out,
            "{}",
            page.inked(Ink::Heading, &page.paragraph("", &title))
        )?;
        write!(out, "{}", page.paragraph("  Site: ", &scenario.site.title))?;
        let complaint = format!(
            "\"{}\"",
            scenario
                .complaint
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
        );
        writeln!(out, "  The customer says:")?;
        write!(out, "{}", page.paragraph("    ", &complaint))?;
        writeln!(out)?;
        write!(out, "{}", screens::kit(&self.visit, page))?;
        if let Some(keeper) = &self.keeper {
            let log = format!(
                "{}. Every action is on disk before the next is taken: stop whenever you like and go on with --resume.",
                keeper.path().display()
            );
            write!(out, "{}", page.paragraph("Logbook: ", &log))?;
        }
        write!(
            out,
            "{}",
            page.paragraph(
                "",
                "Say what you do in plain words: `look`, `read the gauge`, `go to the panel`. `help` tells more, `hint` helps on, `quit` ends."
            )
        )?;
        for remark in &self.remarks {
            write!(out, "{}", page.paragraph("", remark))?;
        }
        Ok(())
    }

    /// Notice, complaint and kit for somebody who cannot answer, and how to begin.
    ///
    /// # Errors
    /// When it cannot be written.
    pub(super) fn only_introduce(&self, out: &mut dyn Write, notice: &str) -> Result<ExitCode> {
        self.introduce(out, notice)?;
        let begin = format!(
            "To practise, say this in a terminal: shortcycle practice {}",
            self.visit.scenario().name
        );
        write!(out, "{}", self.page.paragraph("", &begin))?;
        Ok(ExitCode::SUCCESS)
    }

    /// Takes lines until the exercise or the lines end.
    ///
    /// # Errors
    /// When lines cannot be read, words not be written, or the logbook not be kept.
    pub(super) fn go_on(&mut self, lines: &mut dyn Lines, out: &mut dyn Write) -> Result<ExitCode> {
        // Remarks of a script change nothing: the status stands as it was told.
        let mut is_told = false;
        while !self.visit.is_over() {
            if !is_told {
                writeln!(out)?;
                let status = screens::status(&self.visit, self.units);
                write!(out, "{}", self.page.paragraph("", &status))?;
            }
            let line = match lines.next(out)? {
                Input::Line(line) => line,
                Input::Interrupted => {
                    writeln!(out, "Stopped.")?;
                    return self.leave(out);
                }
                Input::End => return self.leave(out),
            };
            let read = {
                let context = Context {
                    station: self.visit.station(),
                    outlets: &self.outlets,
                    units: self.units,
                };
                grammar::read(&line, &context)
            };
            is_told = matches!(read, Ok(Line::Nothing));
            match read {
                Ok(Line::Nothing) => {}
                Ok(Line::Show(Show::Quit)) => return self.leave(out),
                Ok(Line::Show(Show::Advice)) => self.advise(out)?,
                Ok(Line::Show(show)) => {
                    let shown = self.show(&show);
                    write!(out, "{shown}")?;
                }
                Ok(Line::Act(action)) => self.act(&action, out)?,
                Err(problem) => write!(out, "{}", self.misunderstood(&problem))?,
            }
            out.flush()?;
        }
        self.end(out)
    }

    fn act(&mut self, action: &Action, out: &mut dyn Write) -> Result<()> {
        let outcome = match self.visit.perform(action) {
            Ok(outcome) => outcome,
            Err(_) if *action == Action::Hint && self.may_advise() => return self.advise(out),
            Err(refusal) => {
                let why = grammar::capital(&refusal.to_string());
                write!(
                    out,
                    "{}",
                    self.page.paragraph("Not done. ", &format!("{why}."))
                )?;
                return Ok(());
            }
        };
        // On disk before anybody sees what came of it.
        let record = Record::of(&self.visit, action);
        if let Some(keeper) = &mut self.keeper {
            keeper.keep(&record)?;
        }
        self.logbook.records.push(record);
        if self.visit.mode() == Mode::Practice {
            self.counsel.note(action, &outcome);
        }
        let mut head = said(action, self.units);
        let mut cost = Vec::new();
        if outcome.seconds >= 0.5 && !matches!(action, Action::Wait { .. }) {
            cost.push(took(outcome.seconds));
        }
        if outcome.money > 0.0 {
            cost.push(format!("${:.0}", outcome.money));
        }
        if !cost.is_empty() {
            head = format!("{head} ({})", cost.join(", "));
        }
        write!(out, "{}", self.page.paragraph("", &head))?;
        write!(out, "{}", self.telling().outcome(&outcome))?;
        Ok(())
    }

    /// Whether the troubleshooter may help: in practice, while something can be done.
    fn may_advise(&self) -> bool {
        self.visit.mode() == Mode::Practice && !self.visit.is_stopped()
    }

    fn advise(&mut self, out: &mut dyn Write) -> Result<()> {
        if self.may_advise() {
            return self.counsel.say(&self.visit, self.page, out);
        }
        let why = match self.visit.mode() {
            Mode::Graded => "Advice belongs to practice; this exercise is graded.",
            Mode::Practice => "Undo comes first.",
        };
        write!(out, "{}", self.page.paragraph("Not done. ", why))?;
        Ok(())
    }

    fn telling(&self) -> Telling {
        Telling {
            page: self.page,
            units: self.units,
            full_scale: self.visit.scenario().site.wall.gauge.full_scale.si(),
        }
    }

    fn show(&mut self, show: &Show) -> String {
        let (visit, page) = (&self.visit, self.page);
        match show {
            Show::Notebook => screens::notebook(visit, &self.telling()),
            Show::Suspects => screens::suspects(visit, page),
            Show::Status => screens::long_status(visit, page, self.units),
            Show::Map => screens::map(visit, page),
            Show::Kit => screens::kit(visit, page),
            Show::Complaint => page.paragraph("", &visit.scenario().complaint),
            Show::Points => screens::points(visit, page),
            Show::Faults => screens::faults(visit, page),
            Show::Help(topic) => screens::help(*topic, page),
            Show::Units(units) => {
                self.units = *units;
                page.paragraph(
                    "",
                    match units {
                        Units::Us => "Units: psi, gallons, feet.",
                        Units::Si => "Units: kPa, liters, meters.",
                    },
                )
            }
            // Both are done elsewhere.
            Show::Advice | Show::Quit => String::new(),
        }
    }

    fn misunderstood(&self, problem: &Misunderstood) -> String {
        let mut text = self.page.paragraph("", &problem.message);
        if let Some(suggestion) = &problem.suggestion {
            text.push_str(
                &self
                    .page
                    .paragraph("  ", &format!("Did you mean `{suggestion}`?")),
            );
        }
        if !problem.accepted.is_empty() {
            let accepted = problem.accepted.join(" / ");
            text.push_str(&self.page.paragraph("  Accepted: ", &accepted));
        }
        text
    }

    /// Leaves before the end.
    fn leave(&self, out: &mut dyn Write) -> Result<ExitCode> {
        let text = match &self.keeper {
            Some(keeper) => format!(
                "The visit is not closed up. Everything you did is in the logbook; go on with: shortcycle practice --resume {}",
                keeper.path().display()
            ),
            None => "The visit is not closed up, and no logbook was kept.".to_owned(),
        };
        writeln!(out)?;
        write!(out, "{}", self.page.paragraph("", &text))?;
        Ok(ExitCode::SUCCESS)
    }

    fn end(&self, out: &mut dyn Write) -> Result<ExitCode> {
        let report = mark(self.visit.scenario(), &self.logbook)?;
        writeln!(out)?;
        write!(
            out,
            "{}",
            self.page.inked(Ink::Heading, "The exercise is over.\n")
        )?;
        writeln!(out)?;
        write!(out, "{}", debrief::in_text(&report))?;
        if let Some(keeper) = &self.keeper {
            let log = keeper.path().display().to_string();
            writeln!(out)?;
            write!(out, "{}", self.page.paragraph("Logbook: ", &log))?;
        }
        let fails = self.visit.mode() == Mode::Graded && !report.passes;
        Ok(if fails {
            ExitCode::from(FAILED)
        } else {
            ExitCode::SUCCESS
        })
    }
}

/// Time that something took: minutes and seconds, hours when there are some.
fn took(seconds: f64) -> String {
    let whole = seconds.round() as u64;
    let (minutes, rest) = (whole / 60, whole % 60);
    match (minutes, rest) {
        (0, rest) => format!("{rest} s"),
        (1..60, 0) => format!("{minutes} min"),
        (1..60, rest) => format!("{minutes} min {rest} s"),
        _ => span(seconds),
    }
}
