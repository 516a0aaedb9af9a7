//! The study as one HTML page that needs nothing else: no script, no other file.

use std::fmt::Write;

use anyhow::Result;

use super::files::StudyText;
use super::plots::heat;
use super::{Done, answer, table, words};
use crate::cli::debrief::html::{escaped, roles};
use crate::cli::display::{Units, fixed};
use crate::cli::palette::{FACE, PAGE_ROLES, Rgb};
use crate::parts::{PumpPlacement, SourceSpec};
use crate::study::{
    Demand, Figures, MeasureUnit, Outcome, Recommendation, Standing, drawdown_m3, judge,
    shut_off_pa,
};
use crate::units::convert::{FOOT, HORSEPOWER, LITER, US_GALLON, US_GPM};

/// Most rows of the page's table; all are in the CSV file beside it.
const MAX_ROWS: usize = 200;
/// Results in the table.
const MEASURES: [&str; 9] = [
    "starts_per_day_median",
    "starts_per_day_95",
    "starts_per_day_most",
    "starts_per_hour_most",
    "run_median",
    "run_5",
    "short_runs",
    "drawdown",
    "lowest_pressure",
];

/// The page; `pictures` are captions and SVG.
pub(super) fn html(
    done: &Done<'_>,
    text: &StudyText,
    pictures: &[(String, String)],
    units: Units,
) -> Result<String> {
    let study = done.study;
    let mut page = String::new();
    write!(
        page,
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\"/>\n\
         <title>{}</title>\n<style>\n{}{}{}</style>\n</head>\n<body>\n\
         <header><div class=\"in\"><h1>{}</h1>\n<div class=\"quiet\">{}</div></div></header>\n\
         <main><div class=\"in\">\n",
        escaped(&study.title),
        format_args!("{}{}", roles(), pictures_by_lamp()),
        include_str!("../debrief/page.css"),
        include_str!("page.css"),
        escaped(&study.title),
        escaped(&words::extent(study)),
    )?;
    if !study.question.is_empty() {
        writeln!(
            page,
            "<section><h2>The question</h2><p>{}</p></section>",
            escaped(&study.question)
        )?;
    }
    answer_of(&mut page, done, units)?;
    for (idx, (caption, svg)) in pictures.iter().enumerate() {
        if idx == 0 {
            page.push_str("<section class=\"long\"><h2>Pictures</h2>\n");
        }
        writeln!(
            page,
            "<figure><div class=\"plot picture\" tabindex=\"0\">{svg}</div><figcaption>{}</figcaption></figure>",
            escaped(caption)
        )?;
    }
    if !pictures.is_empty() {
        page.push_str("</section>\n");
    }
    settings(&mut page, done)?;
    page.push_str("<div class=\"cols even\">\n<div>\n");
    site(&mut page, done)?;
    page.push_str("</div>\n<div>\n");
    demand(&mut page, done)?;
    notes(&mut page, done)?;
    page.push_str("</div>\n</div>\n");
    writeln!(
        page,
        "<section class=\"caution\"><h2>What this is not</h2><p>A simulator's answer about a site \
         as its file describes it. Numbers without a source are training values or common \
         practice. Local codes, makers' instructions and licensed practice decide what is \
         installed and how it is set; pressures on real equipment are for people trained to work \
         on it.</p></section>\n</div></main>"
    )?;
    writeln!(
        page,
        "<footer><div class=\"in note quiet\">Study {} ({:016x}), read from {}; shortcycle {}.</div></footer>\n</body>\n</html>",
        escaped(&study.name),
        study.digest,
        escaped(text.file.rsplit(['/', '\\']).next().unwrap_or_default()),
        env!("CARGO_PKG_VERSION"),
    )?;
    Ok(page)
}

/// Rules that give the pictures the page's dark colors where it has them: by role, and for
/// the shades of a heat map between two roles.
fn pictures_by_lamp() -> String {
    let hex = |(red, green, blue): Rgb| format!("#{red:02X}{green:02X}{blue:02X}");
    let rule = |color: Rgb, dark: &str| {
        let color = hex(color);
        format!(
            ".picture svg [fill=\"{color}\" i]{{fill:{dark}}}\
             .picture svg [stroke=\"{color}\" i]{{stroke:{dark}}}\n"
        )
    };
    let mut rules = rule(FACE, "var(--paper)");
    let mut seen = Vec::new();
    for (name, light, _) in PAGE_ROLES {
        if !seen.contains(&light) {
            seen.push(light);
            rules += &rule(light, &format!("var(--{name})"));
        }
    }
    for (shade, share) in heat::shades() {
        let dark = format!("color-mix(in srgb,var(--water_ink) {share}%,var(--raised))");
        rules += &rule(shade, &dark);
    }
    format!("@media screen and (prefers-color-scheme:dark){{\n{rules}}}\n")
}

/// The recommended setting with its values and its limits.
fn answer_of(page: &mut String, done: &Done<'_>, units: Units) -> Result<()> {
    page.push_str("<section class=\"answer\">");
    match &done.recommendation {
        Recommendation::Meets { rows } => {
            writeln!(page, "<h2>{}</h2>", words::headline(done.study))?;
            values(page, done, rows[0])?;
            let why = answer::reason(done).unwrap_or_default();
            writeln!(page, "<p>{}</p>", escaped(&why))?;
        }
        Recommendation::Nearest { rows } => {
            writeln!(
                page,
                "<h2>No setting meets these limits</h2><p>These miss them by least:</p>"
            )?;
            for row in rows {
                values(page, done, *row)?;
            }
        }
        Recommendation::Nothing => {
            writeln!(page, "<h2>No setting could be lived through</h2>")?;
        }
    }
    for sentence in answer::sentences(done, units) {
        writeln!(page, "<p>{}</p>", escaped(&sentence))?;
    }
    if let Some(figures) = done.first()? {
        limits(page, done, &figures)?;
        pressures(page, &figures)?;
        if figures.hand_overs > 0 {
            writeln!(
                page,
                "<p class=\"note\">The fast engine handed over to the plant {} times.</p>",
                figures.hand_overs
            )?;
        }
    }
    page.push_str("</section>\n");
    Ok(())
}

fn values(page: &mut String, done: &Done<'_>, row: usize) -> Result<()> {
    let setting = row;
    page.push_str("<ul class=\"values\">");
    write!(page, "<li><span>setting</span><b>{setting}</b></li>")?;
    let names = words::short_names(done.study);
    for (name, value) in names.iter().zip(done.study.values(setting)) {
        write!(
            page,
            "<li><span>{}</span><b>{}</b></li>",
            escaped(name),
            escaped(&words::value_in_both(&value.text, value.si))
        )?;
    }
    page.push_str("</ul>\n");
    Ok(())
}

fn limits(page: &mut String, done: &Done<'_>, figures: &Figures) -> Result<()> {
    let limits = &done.study.limits;
    if limits.is_empty() {
        page.push_str("<p>The study names no limits.</p>\n");
        return Ok(());
    }
    page.push_str(
        "<h3>Limits</h3><div class=\"scroll\" tabindex=\"0\"><table><thead><tr><th>asked</th><th class=\"num\">found</th>\
         <th>verdict</th><th>source</th></tr></thead><tbody>\n",
    );
    for (limit, kept) in limits.iter().zip(judge(limits, figures)) {
        let (found, verdict) = words::kept(limit, kept);
        writeln!(
            page,
            "<tr{}><td>{}</td><td class=\"num\">{}</td><td class=\"stand\">{verdict}</td><td class=\"why\">{}</td></tr>",
            if verdict == "missed" {
                " class=\"missed\""
            } else {
                ""
            },
            escaped(&words::limit(limit, Some(figures))),
            escaped(&found),
            escaped(&limit.source)
        )?;
    }
    page.push_str("</tbody></table></div>\n");
    Ok(())
}

fn pressures(page: &mut String, figures: &Figures) -> Result<()> {
    if figures.fixtures.iter().all(|f| f.lowest_pa.is_none()) {
        return Ok(());
    }
    page.push_str(
        "<h3>Pressure before open outlets</h3><div class=\"scroll\" tabindex=\"0\"><table><thead><tr><th>outlet</th>\
         <th class=\"num\">lowest</th><th class=\"num\">median</th></tr></thead><tbody>\n",
    );
    for fixture in &figures.fixtures {
        writeln!(
            page,
            "<tr><td>{}</td><td class=\"num\">{}</td><td class=\"num\">{}</td></tr>",
            escaped(&fixture.name),
            words::measured_in_both(MeasureUnit::Pressure, fixture.lowest_pa),
            words::measured_in_both(MeasureUnit::Pressure, fixture.median_pa)
        )?;
    }
    page.push_str("</tbody></table></div>\n");
    Ok(())
}

/// Every setting, best first.
fn settings(page: &mut String, done: &Done<'_>) -> Result<()> {
    let study = done.study;
    let names = words::short_names(study);
    let order = table::order(done);
    page.push_str("<section class=\"long\"><h2>Settings, best first</h2><div class=\"scroll\" tabindex=\"0\"><table><thead><tr><th class=\"num\">no.</th>");
    for name in &names {
        write!(page, "<th class=\"num\">{}</th>", escaped(name))?;
    }
    for name in MEASURES {
        let measure = words::measure(name);
        write!(page, "<th class=\"num\">{}</th>", heading(measure.label))?;
    }
    page.push_str("<th>limits</th></tr></thead><tbody>\n");
    for row in order.iter().take(MAX_ROWS) {
        let number = *row;
        let is_best = done.recommendation.first() == Some(*row);
        let n_missed = match done.standings[*row] {
            Standing::Keeps => Some(0),
            Standing::Misses(n) => Some(n),
            Standing::Refused => None,
        };
        let class = match n_missed {
            _ if is_best => " class=\"best\"",
            Some(0) => "",
            _ => " class=\"missed\"",
        };
        write!(page, "<tr{class}><td class=\"num\">{number}</td>")?;
        for value in study.values(number) {
            let shown = escaped(&words::value(&value.text, value.si));
            write!(page, "<td class=\"num\">{shown}</td>")?;
        }
        match &done.rows.get(*row)?.outcome {
            Outcome::Figures(figures) => {
                for name in MEASURES {
                    let measure = words::measure(name);
                    let shown = words::measured(measure.unit, measure.of(figures), Units::Us);
                    let si = words::measured(measure.unit, measure.of(figures), Units::Si);
                    let both = if shown == si {
                        escaped(&shown)
                    } else {
                        format!("{}<br/>{}", escaped(&shown), escaped(&si))
                    };
                    write!(page, "<td class=\"num\">{both}</td>")?;
                }
                match n_missed.unwrap_or(0) {
                    0 => page.push_str("<td>kept</td>"),
                    n => write!(page, "<td class=\"stand\">{n} missed</td>")?,
                }
            }
            Outcome::Refused(why) => write!(
                page,
                "<td class=\"why\" colspan=\"{}\">not possible: {}</td>",
                MEASURES.len() + 1,
                escaped(why)
            )?,
        }
        page.push_str("</tr>\n");
    }
    page.push_str("</tbody></table></div>\n");
    if order.len() > MAX_ROWS {
        writeln!(
            page,
            "<p class=\"note\">{} more are in results.csv.</p>",
            order.len() - MAX_ROWS
        )?;
    }
    page.push_str("</section>\n");
    Ok(())
}

/// A head of a column that may break where a comma stands.
fn heading(label: &str) -> String {
    escaped(label)
        .replace(", ", ",<br/>")
        .replacen(" at an", "<br/>at an", 1)
}

fn site(page: &mut String, done: &Done<'_>) -> Result<()> {
    let site = &done.study.site;
    let switch = &site.wall.pressure_switch;
    let pressure = |pa: f64| words::measured_in_both(MeasureUnit::Pressure, Some(pa));
    let volume = |m3: f64| words::measured_in_both(MeasureUnit::Volume, Some(m3));
    let length = |m: f64| format!("{} ft ({} m)", fixed(m / FOOT, 0), fixed(m, 1));
    let source = match &site.source {
        SourceSpec::Cistern { .. } => "cistern",
        SourceSpec::Well { .. } => "drilled well",
    };
    let pump = match site.pump.placement {
        PumpPlacement::Submersible => "submersible",
        PumpPlacement::SuctionLift => "above the water, with suction",
    };
    let run_m: f64 = site.run.iter().map(|pipe| pipe.length.si()).sum();
    writeln!(
        page,
        "<section><h2>The site before anything is varied</h2><p>{}</p><dl class=\"facts\">",
        escaped(&site.title)
    )?;
    for (name, shown) in [
        ("source", source.to_owned()),
        ("pump", pump.to_owned()),
        (
            "motor",
            format!(
                "{} hp ({} W), {} V",
                words::four_digits(site.motor.rated_power.si() / HORSEPOWER),
                fixed(site.motor.rated_power.si(), 0),
                fixed(site.motor.rated_voltage.si(), 0)
            ),
        ),
        ("pump against a shut valve", pressure(shut_off_pa(site))),
        ("pipe to the tank", length(run_m)),
        ("altitude", length(site.altitude.si())),
        ("cut-in", pressure(switch.cut_in.si())),
        ("cut-out", pressure(switch.cut_out.si())),
        (
            "tank, air at precharge",
            volume(site.tank.shell_volume.si()),
        ),
        ("precharge", pressure(site.tank.precharge.si())),
        (
            "tank's rated pressure",
            pressure(site.tank.rated_pressure.si()),
        ),
        ("drawdown by the gas law", volume(drawdown_m3(site))),
    ] {
        writeln!(
            page,
            "<div><dt>{name}</dt><dd>{}</dd></div>",
            escaped(&shown)
        )?;
    }
    page.push_str("</dl></section>\n");
    Ok(())
}

fn demand(page: &mut String, done: &Done<'_>) -> Result<()> {
    let study = done.study;
    let per_day = |m3_per_s: f64| {
        let m3 = m3_per_s * 86_400.0;
        format!(
            "{} gal ({} L) a day",
            fixed(m3 / US_GALLON, 0),
            fixed(m3 / LITER, 0)
        )
    };
    page.push_str("<section><h2>What is drawn</h2><ul>\n");
    match &study.demand {
        Demand::Nothing => page.push_str("<li>Nothing but what faults draw.</li>\n"),
        Demand::Measured { file, .. } => writeln!(
            page,
            "<li>Measured draws from {}, repeated until the days are over.</li>",
            escaped(file)
        )?,
        Demand::Household(home) => {
            writeln!(
                page,
                "<li>A made-up household of {} people, {} of them, seeds 1 to {}.</li>",
                words::four_digits(home.occupants),
                study.seeds.len(),
                study.seeds.len()
            )?;
            if home.garden_m3_per_s > 0.0 {
                writeln!(page, "<li>Garden: {}.</li>", per_day(home.garden_m3_per_s))?;
            }
            for animals in &home.livestock {
                writeln!(
                    page,
                    "<li>{} {}: {} each.</li>",
                    words::four_digits(animals.head),
                    escaped(&animals.name),
                    per_day(animals.each_m3_per_s)
                )?;
            }
            if home.leak_m3_per_s > 0.0 {
                writeln!(
                    page,
                    "<li>A leak of {} gpm ({} L/min) at 50 psi.</li>",
                    words::four_digits(home.leak_m3_per_s / US_GPM),
                    words::four_digits(home.leak_m3_per_s / (LITER / 60.0))
                )?;
            }
        }
    }
    for fault in &study.faults {
        let info = fault.info();
        writeln!(
            page,
            "<li>Fault: {}, {} {}.</li>",
            escaped(info.name),
            words::four_digits(fault.severity / info.si_per_unit),
            escaped(info.unit)
        )?;
    }
    page.push_str("</ul></section>\n");
    Ok(())
}

fn notes(page: &mut String, done: &Done<'_>) -> Result<()> {
    for (head, notes) in [
        ("Assumptions", &done.study.assumptions),
        ("Sources", &done.study.sources),
    ] {
        if notes.is_empty() {
            continue;
        }
        write!(page, "<section><h2>{head}</h2><ul>")?;
        for note in notes {
            write!(page, "<li>{}</li>", escaped(note))?;
        }
        page.push_str("</ul></section>\n");
    }
    Ok(())
}
