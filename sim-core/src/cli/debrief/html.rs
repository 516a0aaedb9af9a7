//! The debrief as one HTML page that needs nothing else: no script, no other file.

use std::fmt::{self, Write};

use super::worth::Worths;
use super::{text::paragraphs, timeline, words};
use crate::cli::palette::{PAGE_ROLES, Rgb};
use crate::marking::{PartMark, Report, Row, WhyUnneeded};
use crate::session::Mode;
use crate::trace::Quantity;

/// The page.
///
/// # Errors
/// Never in practice: a text takes whatever is written to it.
pub(super) fn html(report: &Report, worths: Option<&Worths>) -> Result<String, fmt::Error> {
    let mut page = String::new();
    let title = format!(
        "Debrief: {}, {}",
        report.scenario.title,
        words::person(report)
    );
    write!(
        page,
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\"/>\n\
         <title>{}</title>\n<style>\n{}{}</style>\n</head>\n<body>\n",
        escaped(&title),
        roles(),
        include_str!("page.css")
    )?;
    header(&mut page, report)?;
    page += "<main><div class=\"in\">\n<div class=\"cols\">\n<div>\n";
    complaint(&mut page, report)?;
    plot(&mut page, report)?;
    wrong(&mut page, report)?;
    left(&mut page, report)?;
    page += "</div>\n<div>\n";
    mark(&mut page, report)?;
    safety(&mut page, report)?;
    page += "</div>\n</div>\n";
    log(&mut page, report)?;
    if let Some(worths) = worths {
        worth(&mut page, report, worths)?;
    }
    notes(&mut page, report)?;
    page += "</div></main>\n";
    write!(
        page,
        "<footer><div class=\"in note quiet\">Recorded by version {}, marked by version {}, by living the logbook again; scenario {}, seed {}.</div></footer>\n</body>\n</html>\n",
        escaped(&report.recorded_by),
        escaped(&report.marked_by),
        escaped(&report.scenario.name),
        report.seed
    )?;
    Ok(page)
}

/// Text as it stands in a page, without what XML or a screen cannot hold.
pub(in crate::cli) fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in words::plain(text).chars() {
        match c {
            '&' => safe += "&amp;",
            '<' => safe += "&lt;",
            '>' => safe += "&gt;",
            '"' => safe += "&quot;",
            '\'' => safe += "&#39;",
            '\u{FFFE}' | '\u{FFFF}' => {}
            c => safe.push(c),
        }
    }
    safe
}

/// Colors by role, light and dark, as the head of a page's styles.
pub(in crate::cli) fn roles() -> String {
    let hex = |(red, green, blue): Rgb| format!("#{red:02X}{green:02X}{blue:02X}");
    let list = |which: fn(&(&str, Rgb, Rgb)) -> Rgb| -> String {
        PAGE_ROLES
            .iter()
            .map(|role| format!("--{}:{};", role.0, hex(which(role))))
            .collect()
    };
    let (light, dark) = (list(|role| role.1), list(|role| role.2));
    format!(":root{{{light}}}\n@media screen and (prefers-color-scheme:dark){{:root{{{dark}}}}}\n")
}

fn header(page: &mut String, report: &Report) -> fmt::Result {
    let mode = match report.mode {
        Mode::Practice => "practice",
        Mode::Graded => "graded",
    };
    writeln!(
        page,
        "<header><div class=\"in\"><h1>{}</h1>\n<div class=\"quiet\">{}, {mode}. {}. Cut-in {}, cut-out {}.{}</div></div></header>",
        escaped(&report.scenario.title),
        escaped(&words::person(report)),
        escaped(&report.scenario.site),
        words::both(Quantity::GaugePressure, report.scenario.cut_in_pa),
        words::both(Quantity::GaugePressure, report.scenario.cut_out_pa),
        if report.is_torn {
            " The logbook's last line was cut off; it was left out."
        } else {
            ""
        }
    )
}

fn complaint(page: &mut String, report: &Report) -> fmt::Result {
    page.push_str("<section><h2>What the customer said</h2><blockquote>");
    for paragraph in paragraphs(&report.scenario.complaint) {
        write!(page, "<p>{}</p>", escaped(&paragraph))?;
    }
    page.push_str("</blockquote></section>\n");
    Ok(())
}

fn plot(page: &mut String, report: &Report) -> fmt::Result {
    page.push_str(
        "<section><h2>The visit</h2>\n<div class=\"plot\" tabindex=\"0\" role=\"region\" aria-label=\"Plot of the visit; the table What was done says the same\">\n",
    );
    timeline::svg(page, report)?;
    page.push_str("</div></section>\n");
    Ok(())
}

fn mark(page: &mut String, report: &Report) -> fmt::Result {
    let verdict = words::result(report);
    let mut chars = verdict.chars();
    let verdict: String = chars
        .next()
        .map(|first| first.to_uppercase().chain(chars).collect())
        .unwrap_or_default();
    writeln!(
        page,
        "<section><div class=\"mark\"><h2>Mark</h2><span><span class=\"quiet\">of 100</span> <strong>{}</strong></span></div>\n<p class=\"verdict\">{verdict} <span class=\"quiet\">(pass mark {})</span></p>",
        words::points(report.total),
        words::points(report.pass_mark)
    )?;
    for part in &report.parts {
        write_part(page, part, report.counts.hazards > 0)?;
    }
    page.push_str("</section>\n");
    Ok(())
}

fn write_part(page: &mut String, part: &PartMark, has_hazard: bool) -> fmt::Result {
    let share = if part.weight > 0.0 {
        100.0 * part.earned / part.weight
    } else {
        0.0
    };
    let is_lost = part.name == "safety" && (has_hazard || share < 100.0);
    writeln!(
        page,
        "<div class=\"part{}\"><h3><span>{}</span><span class=\"num\">{} / {}</span></h3><div class=\"bar\" aria-hidden=\"true\"><i style=\"width:{:.1}%\"></i></div>\n<ul class=\"findings\">",
        if is_lost { " lost" } else { "" },
        part.label,
        words::points(part.earned),
        words::points(part.weight),
        share.clamp(0.0, 100.0)
    )?;
    for finding in &part.findings {
        let (head, sentence) = words::finding(finding, part.weight);
        writeln!(
            page,
            "<li><span class=\"num\">{head}</span><span>{}</span></li>",
            escaped(&sentence)
        )?;
    }
    page.push_str("</ul></div>\n");
    Ok(())
}

fn wrong(page: &mut String, report: &Report) -> fmt::Result {
    page.push_str("<section><h2>What was wrong</h2>\n");
    if report.hidden.is_empty() {
        page.push_str("<p>Nothing: the system was sound.</p>\n");
    }
    for fault in &report.hidden {
        let state = if fault.is_cured {
            "well at the end"
        } else {
            "still there at the end"
        };
        write!(
            page,
            "<h3>{} <span class=\"quiet\">({}), {state}</span></h3><p>{}</p>\n<p><b>How it shows</b></p><ul>",
            escaped(&fault.title),
            fault.name,
            escaped(&fault.mechanism)
        )?;
        for sign in &fault.signs {
            write!(page, "<li>{}</li>", escaped(sign))?;
        }
        page.push_str("</ul>\n");
        if !fault.look_alikes.is_empty() {
            page.push_str("<p><b>What tells it from its look-alikes</b></p><ul>");
            for (title, splitter) in &fault.look_alikes {
                write!(
                    page,
                    "<li>Not {}: {}</li>",
                    escaped(title),
                    escaped(splitter)
                )?;
            }
            page.push_str("</ul>\n");
        }
        writeln!(
            page,
            "<p><b>Remedy:</b> {}</p><p><b>How it is proved:</b> {}</p>",
            escaped(&words::full_stop(&fault.remedies.join("; or "))),
            escaped(&fault.proof)
        )?;
    }
    page.push_str("<h3>What was called</h3>\n");
    match &report.called {
        None => page.push_str("<p>Nothing.</p>"),
        Some(called) if called.is_empty() => page.push_str("<p>That the system is sound.</p>"),
        Some(called) => {
            page.push_str("<ul>");
            for call in called {
                let verdict = if call.is_right { "right" } else { "not so" };
                write!(
                    page,
                    "<li>{} <span class=\"quiet\">({})</span>: <b>{verdict}</b></li>",
                    escaped(&call.title),
                    call.name
                )?;
            }
            page.push_str("</ul>");
        }
    }
    page.push_str("</section>\n");
    Ok(())
}

fn left(page: &mut String, report: &Report) -> fmt::Result {
    page.push_str("<section><h2>How the site was left</h2>\n<ul>");
    let condition = &report.condition;
    for sentence in condition.spoilt.iter().chain(&condition.untidy) {
        write!(page, "<li>{}</li>", escaped(sentence))?;
    }
    if condition.owes_disinfection {
        page.push_str("<li>The source was opened and not disinfected.</li>");
    }
    if condition.spoilt.is_empty() && condition.untidy.is_empty() && !condition.owes_disinfection {
        page.push_str("<li>Covers, valves, lock and lids as they should be.</li>");
    }
    for part in &report.unneeded {
        let why = match part.why {
            WhyUnneeded::Sound => "the old one was sound",
            WhyUnneeded::NoEvidence => "nothing that was read before pointed at it",
        };
        write!(
            page,
            "<li>New {} in action {}: {why}; {:.0} USD.</li>",
            part.part.label(),
            part.action,
            part.money
        )?;
    }
    page.push_str("</ul>\n<dl class=\"facts\">");
    let counts = &report.counts;
    let scenario = &report.scenario;
    for (name, value) in [
        (
            "time, par",
            format!("{:.0} min, {:.0}", report.minutes, scenario.par_minutes),
        ),
        (
            "money, par",
            format!("{:.0} USD, {:.0}", report.money, scenario.par_money),
        ),
        ("actions", counts.actions.to_string()),
        ("readings", counts.readings.to_string()),
        ("repairs and settings", counts.repairs.to_string()),
        ("new parts", counts.parts.to_string()),
        ("hints", counts.hints.to_string()),
        ("dangerous acts", counts.hazards.to_string()),
    ] {
        write!(page, "<div><dt>{name}</dt><dd>{value}</dd></div>")?;
    }
    page.push_str("</dl></section>\n");
    Ok(())
}

fn safety(page: &mut String, report: &Report) -> fmt::Result {
    page.push_str("<section class=\"caution\"><h2>Safety</h2>\n");
    if report.counts.hazards == 0 {
        page.push_str("<p>No dangerous act.</p>\n");
    }
    for row in &report.timeline {
        if let Some(hazard) = &row.hazard {
            writeln!(
                page,
                "<div class=\"hazard\"><div><p><b>Dangerous act, action {}.</b> {}</p><p><b>Instead:</b> {}</p><p class=\"note\">Basis: {}</p></div></div>",
                row.n,
                escaped(&hazard.consequence),
                escaped(&hazard.instead),
                escaped(&words::full_stop(&hazard.basis))
            )?;
        }
    }
    page.push_str("<ul class=\"note\">");
    for caution in words::CAUTIONS {
        write!(page, "<li>{}</li>", escaped(caution))?;
    }
    page.push_str("</ul></section>\n");
    Ok(())
}

fn worth(page: &mut String, report: &Report, worths: &Worths) -> fmt::Result {
    write!(
        page,
        "<section class=\"long\"><h2>What each reading was worth</h2>\n<p>{}</p>\n",
        escaped(&worths.head())
    )?;
    if !worths.readings.is_empty() {
        page.push_str(
            "<table class=\"log\"><caption>Every reading before the call</caption>\n<thead><tr><th scope=\"col\">no.</th><th scope=\"col\">done</th><th scope=\"col\">worth</th><th scope=\"col\" class=\"num\">bits</th></tr></thead>\n<tbody>\n",
        );
        for reading in &worths.readings {
            let row = report.timeline.iter().find(|row| row.n == reading.n);
            let done = row.map_or_else(String::new, |row| words::action(&row.action));
            writeln!(
                page,
                "<tr><td class=\"meta\" data-label=\"no.\">{}</td><td class=\"done\" data-label=\"done\">{}</td><td class=\"shown\" data-label=\"worth\">{}</td><td class=\"num\" data-label=\"bits\">{}</td></tr>",
                reading.n,
                escaped(&done),
                escaped(&reading.words),
                reading.figure()
            )?;
        }
        page.push_str("</tbody></table>\n");
    }
    for better in &worths.better {
        writeln!(page, "<p>{}</p>", escaped(&better.sentence()))?;
    }
    page.push_str("</section>\n");
    Ok(())
}

fn log(page: &mut String, report: &Report) -> fmt::Result {
    page.push_str(
        "<section class=\"long\"><h2>What was done</h2>\n<table class=\"log\"><caption>Every action with what it showed; times since arrival</caption>\n<thead><tr><th scope=\"col\">no.</th><th scope=\"col\">time</th><th scope=\"col\">at</th><th scope=\"col\">done</th><th scope=\"col\">read and perceived</th><th scope=\"col\" class=\"num\">USD</th></tr></thead>\n<tbody>\n",
    );
    for row in &report.timeline {
        log_row(page, row)?;
    }
    page.push_str("</tbody></table></section>\n");
    Ok(())
}

fn log_row(page: &mut String, row: &Row) -> fmt::Result {
    let class = match (row.hazard.is_some(), row.is_undone) {
        (true, _) => " class=\"danger\"",
        (false, true) => " class=\"undone\"",
        (false, false) => "",
    };
    let undone = if row.is_undone { " (undone)" } else { "" };
    write!(
        page,
        "<tr{class}><td class=\"meta\" data-label=\"no.\">{}</td><td class=\"num meta\" data-label=\"time\">{}</td><td class=\"meta\" data-label=\"at\">{}</td><td class=\"done\" data-label=\"done\">{}{undone}</td><td class=\"shown\">",
        row.n,
        words::when(row.begun.seconds()),
        row.station.name(),
        escaped(&words::action(&row.action)),
    )?;
    for line in words::shown(row) {
        write!(page, "<p>{}</p>", escaped(&line))?;
    }
    if let Some(entry) = row.readings.first()
        && !entry.state.is_empty()
    {
        write!(page, "<p class=\"quiet\">{}</p>", escaped(&entry.state))?;
    }
    if row.hazard.is_some() {
        page.push_str("<p><b>Dangerous act:</b> see Safety.</p>");
    }
    page.push_str("</td>");
    if row.money > 0.0 {
        writeln!(
            page,
            "<td class=\"num\" data-label=\"USD\">{:.0}</td></tr>",
            row.money
        )
    } else {
        page.push_str("<td class=\"num\" data-label=\"USD\"></td></tr>\n");
        Ok(())
    }
}

fn notes(page: &mut String, report: &Report) -> fmt::Result {
    let scenario = &report.scenario;
    if !scenario.teaching.is_empty() {
        page.push_str("<section><h2>What it teaches</h2>\n");
        for paragraph in paragraphs(&scenario.teaching) {
            writeln!(page, "<p>{}</p>", escaped(&paragraph))?;
        }
        page.push_str("</section>\n");
    }
    if !scenario.references.is_empty() {
        page.push_str("<section><h2>What it is evidence of</h2>\n<ul>");
        for reference in &scenario.references {
            write!(page, "<li>{}</li>", escaped(reference))?;
        }
        page.push_str("</ul></section>\n");
    }
    Ok(())
}
