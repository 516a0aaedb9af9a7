//! What can be shown without anything happening: status, notebook, map, kit, help.

use super::grammar::{Topic, examples, fault_title};
use super::page::{Ink, Page};
use super::telling::{Telling, clock, last_gauge};
use crate::cli::display::Units;
use crate::faults::{Need, kinds};
use crate::scenario::Role;
use crate::session::{Station, Visit};
use crate::wiring::POINTS;

/// One line before each prompt.
pub(super) fn status(visit: &Visit, units: Units) -> String {
    let mut parts = vec![clock(visit.now()), format!("at {}", short(visit.station()))];
    parts.extend(last_gauge(visit.notebook(), units));
    parts.push(format!("${:.0}", visit.money()));
    let open: Vec<&str> = visit
        .open_covers()
        .into_iter()
        .map(|cover| cover.label())
        .collect();
    if !open.is_empty() {
        parts.push(format!("open: {}", open.join(", ")));
    }
    if visit.is_locked_out() {
        parts.push("locked out".to_owned());
    }
    let dead: Vec<&str> = visit.proved_dead().into_iter().map(short).collect();
    if !dead.is_empty() {
        parts.push(format!("proved dead: {}", dead.join(", ")));
    }
    if visit.leads_are_apart() {
        parts.push("leads apart".to_owned());
    }
    if visit.pump_is_out() {
        parts.push("pump pulled".to_owned());
    }
    if visit.is_stopped() && !visit.is_over() {
        parts.push("stopped: `undo` or `close up`".to_owned());
    }
    format!("[{}]", parts.join("; "))
}

const fn short(station: Station) -> &'static str {
    match station {
        Station::Panel => "the panel",
        Station::Wall => "the wall",
        Station::Splice => "the splice box",
        Station::Source => "the source",
        Station::House => "the house",
    }
}

/// Everything about how one stands.
pub(super) fn long_status(visit: &Visit, page: Page, units: Units) -> String {
    let budget = visit.scenario().budget;
    let mut text = page.paragraph("", &status(visit, units));
    let mut say = |line: String| text.push_str(&page.paragraph("  ", &line));
    say(format!(
        "{:.0} of {:.0} minutes and ${:.0} of ${:.0} are gone.",
        visit.minutes(),
        budget.minutes,
        visit.money(),
        budget.money
    ));
    if visit.is_dressed() {
        say("You wear gloves and glasses.".to_owned());
    }
    if visit.has_helper() {
        say("A second person is with you.".to_owned());
    }
    if visit.has_qualified() {
        say("A qualified electrician is with you.".to_owned());
    }
    if let Some(call) = visit.call() {
        let titles: Vec<String> = call.iter().map(|name| fault_title(name.0)).collect();
        say(if titles.is_empty() {
            "Your call: healthy.".to_owned()
        } else {
            format!("Your call: {}.", titles.join("; "))
        });
    }
    text
}

/// The notebook.
pub(super) fn notebook(visit: &Visit, telling: &Telling) -> String {
    if visit.notebook().is_empty() {
        return telling.page.paragraph(
            "",
            "The notebook is empty. Readings write themselves into it.",
        );
    }
    let mut text = String::new();
    let (mut when, mut state) = (None, "");
    for entry in visit.notebook() {
        // Time and state are told where they change; a page of repeats hides what is new.
        let head = if when == Some(entry.tick) {
            " ".repeat(9)
        } else {
            format!("{:>7}  ", clock(entry.tick))
        };
        let line = if entry.state == state {
            telling.observation(entry)
        } else {
            format!("{} ({})", telling.observation(entry), entry.state)
        };
        (when, state) = (Some(entry.tick), &entry.state);
        text.push_str(&telling.page.paragraph(&head, &line));
    }
    text
}

/// The person's own list.
pub(super) fn suspects(visit: &Visit, page: Page) -> String {
    let mut text = String::new();
    for name in visit.suspects() {
        text.push_str(&page.paragraph("  ? ", &fault_title(name.0)));
    }
    for name in visit.struck_out() {
        text.push_str(&page.paragraph("  x ", &format!("{} (struck out)", fault_title(name.0))));
    }
    if text.is_empty() {
        return page.paragraph(
            "",
            "Your list is empty: `suspect check valve weeping` puts one on.",
        );
    }
    text
}

/// Where one can stand.
pub(super) fn map(visit: &Visit, page: Page) -> String {
    let mut text = String::new();
    let drawing = "supply -- panel -- wall -- splice box -- source\n             (switch, gauge, tank)\n                      |\n                    house\n";
    if page.columns() >= 50 {
        text.push_str(drawing);
    }
    for station in Station::ALL {
        let here = if station == visit.station() {
            " (you are here)"
        } else {
            ""
        };
        text.push_str(&page.paragraph(
            &format!("  {:<8}", station.name()),
            &format!("{}{here}", station.label()),
        ));
    }
    let outlets: Vec<&str> = visit
        .scenario()
        .site
        .house
        .fixtures
        .iter()
        .map(|fixture| fixture.name.as_str())
        .collect();
    text.push_str(&page.paragraph("  Outlets: ", &outlets.join(", ")));
    text
}

/// What is carried, and what one may do.
pub(super) fn kit(visit: &Visit, page: Page) -> String {
    let tools: Vec<&str> = visit.kit().iter().map(|tool| tool.label()).collect();
    let role = match visit.scenario().role {
        Role::Apprentice => {
            "You are not qualified for work on live parts: `call an electrician` is always right."
        }
        Role::Qualified => "You are qualified for work on live parts; `dress for live work` first.",
    };
    let mut text = page.paragraph("Kit: ", &format!("{}.", tools.join(", ")));
    text.push_str(&page.paragraph("", role));
    text
}

/// Where a probe can touch from here.
pub(super) fn points(visit: &Visit, page: Page) -> String {
    let names = visit.points_here();
    if names.is_empty() {
        return page.paragraph(
            "",
            "A probe can touch nothing here. Points are at the panel, the wall, the splice box and the source.",
        );
    }
    let mut text = String::new();
    for point in POINTS.iter().filter(|point| names.contains(&point.name)) {
        text.push_str(&page.paragraph(&format!("  {:<15}", point.name), point.label));
    }
    text.push_str(&page.paragraph(
        "",
        "At panel, wall and splice box the part behind the dot is enough.",
    ));
    text
}

/// Every fault that this site could have.
pub(super) fn faults(visit: &Visit, page: Page) -> String {
    let mut text = String::new();
    let site = &visit.scenario().site;
    let fits = |needs: &[Need]| needs.iter().all(|need| need.is_met_by(site));
    for info in kinds().filter(|info| fits(info.needs)) {
        text.push_str(&page.paragraph(&format!("  {:<31}", info.name), &fault_title(info.kind)));
    }
    text.push_str(&page.paragraph("", "Call by name or title: `call check valve weeping`."));
    text
}

/// How to say things.
pub(super) fn help(topic: Option<Topic>, page: Page) -> String {
    let Some(topic) = topic else {
        let mut text = page.paragraph(
            "",
            "Say what you do in plain words. Places: panel, wall, splice, source, house.",
        );
        for topic in Topic::ALL {
            text.push_str(&page.paragraph(&format!("  help {:<9}", topic.name()), topic.title()));
        }
        text.push_str(&page.paragraph(
            "",
            "A visit goes: look and read, suspect, measure, repair, prove, call, close up. Nothing is done on a guess: what is not understood changes nothing.",
        ));
        return text;
    };
    let mut text = page.inked(Ink::Heading, &page.paragraph("", topic.title()));
    let mut told: Vec<&str> = Vec::new();
    for (example, what) in examples(topic) {
        let line = example.split(" | ").next().unwrap_or(example);
        let is_question = what.is_empty() && told.contains(&line);
        if told.contains(&line) || is_question {
            continue;
        }
        told.push(line);
        let line = if what.is_empty() {
            line.to_owned()
        } else {
            format!("{line}: {what}")
        };
        text.push_str(&page.paragraph("  ", &line));
    }
    text
}
