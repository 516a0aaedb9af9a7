//! The wiring drawn with characters: station, first conductor, second conductor, earth,
//! from the panel down to the motor.

use super::plan::Plan;

/// Columns of the three conductors.
const AT: [usize; 3] = [8, 30, 55];

/// The drawing, line by line.
pub(super) fn ladder(plan: &Plan) -> Vec<String> {
    let mut rows = Vec::new();
    let mut row = |station: &str, cells: [&str; 3]| {
        let mut line = format!("{station:<width$}", width = AT[0]);
        for (cell, at) in cells.iter().zip(AT) {
            let missing = at.saturating_sub(line.chars().count());
            line += &" ".repeat(missing);
            line += cell;
        }
        rows.push(line.trim_end().to_owned());
    };
    row("", ["line 1", plan.second_name(), "earth"]);
    if plan.has_spare_leg {
        row("panel", ["o panel.line2 (house)", "", ""]);
        row("", ["", "", ""]);
    }
    let station = if plan.has_spare_leg { "" } else { "panel" };
    let feed = |i: usize| format!("o {}", plan.feeds[i]);
    let (first, second) = (feed(0), feed(1));
    let breaker = format!("/ breaker {}", plan.breaker);
    if plan.has_two_legs {
        row(station, [&first, &second, "o panel.earth"]);
        row(
            "",
            [&breaker, "/ its second pole", "+-bond-o panel.neutral"],
        );
    } else {
        let bonded = format!("{second} ---bond--");
        row(station, [&first, &bonded, "o panel.earth"]);
        row("", [&breaker, "|", "|"]);
    }
    row("", ["o breaker.load1", "o breaker.load2", "|"]);
    let cable = |row: &mut dyn FnMut(&str, [&str; 3]), i: usize| {
        let [length, size] = &plan.cables[i];
        row("", [&format!("|  {length}"), &format!("|  {size}"), "|"]);
    };
    cable(&mut row, 0);
    row(
        "wall",
        ["o switch.line1", "o switch.line2", "o switch.frame"],
    );
    row("", ["/ contact", "/ contact", "|"]);
    row("", ["o switch.load1", "o switch.load2", "|"]);
    cable(&mut row, 1);
    row(
        "splice",
        ["o splice.line1", "o splice.line2", "o splice.earth"],
    );
    row("", ["+ joint", "+ joint", "|"]);
    row("", ["o splice.pump1", "o splice.pump2", "|"]);
    if plan.has_float {
        row("source", ["/ float switch", "|", "|"]);
        row("", ["o float.load1", "|", "|"]);
    }
    cable(&mut row, 2);
    let station = if plan.has_float { "" } else { "source" };
    row(station, ["o pump.lead1", "o pump.lead2", "o pump.frame"]);
    row("", ["+- protector - motor -", "+", ""]);
    rows
}
