//! Every setting as a sheet of columns, for tables that are taken elsewhere: parameters in
//! the units of the study file, results in SI units, the unit in the column's name.

use anyhow::Result;

use super::{Done, table};
use crate::study::{Figures, FixtureFigures, MEASURES, MeasureUnit, Outcome, Standing, Study};

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sort {
    Whole,
    Number,
    Text,
}

/// A column.
#[derive(Debug, Clone)]
pub(super) struct Column {
    pub(super) name: String,
    pub(super) sort: Sort,
}

/// A cell; what a setting does not have is none.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Cell {
    Whole(i64),
    Number(f64),
    Text(String),
    None,
}

fn whole(n: usize) -> Cell {
    i64::try_from(n).map_or(Cell::None, Cell::Whole)
}

fn number(n: Option<f64>) -> Cell {
    n.map_or(Cell::None, Cell::Number)
}

/// The columns.
pub(super) fn columns(study: &Study) -> Vec<Column> {
    let mut columns = Vec::new();
    let mut add = |name: String, sort| columns.push(Column { name, sort });
    add("setting".to_owned(), Sort::Whole);
    add("rank".to_owned(), Sort::Whole);
    for (idx, parameter) in study.parameters.iter().enumerate() {
        let sort = sort_of(study, idx);
        let unit = parameter.unit.as_str();
        match sort {
            Sort::Number if !unit.is_empty() => add(format!("{} [{unit}]", parameter.path), sort),
            _ => add(parameter.path.clone(), sort),
        }
    }
    for measure in MEASURES {
        add(
            format!("{}{}", measure.name, suffix(measure.unit)),
            Sort::Number,
        );
    }
    for fixture in &study.site.house.fixtures {
        add(format!("{}_lowest_pa", fixture.name), Sort::Number);
        add(format!("{}_median_pa", fixture.name), Sort::Number);
    }
    add("days".to_owned(), Sort::Number);
    add("hand_overs".to_owned(), Sort::Whole);
    add("limits_missed".to_owned(), Sort::Whole);
    add("refused".to_owned(), Sort::Text);
    columns
}

/// Numbers in the unit of the parameter's first value, or texts where it has choices or
/// several units; what is computed always has that unit.
fn sort_of(study: &Study, parameter: usize) -> Sort {
    let Some(axis) = study.axes().iter().find(|axis| axis.parameter == parameter) else {
        return Sort::Number;
    };
    let unit = study.parameters[parameter].unit.as_str();
    let is_number = (0..axis.n_values()).all(|idx| {
        let Some((text, Some(_))) = axis.value(idx) else {
            return false;
        };
        let (number, written) = text.split_once(' ').unwrap_or((text, ""));
        written == unit && number.parse::<f64>().is_ok()
    });
    if is_number { Sort::Number } else { Sort::Text }
}

/// Hands out the rows in the order of the settings.
pub(super) fn rows(done: &Done<'_>, each: &mut dyn FnMut(Vec<Cell>) -> Result<()>) -> Result<()> {
    let mut rank_of = vec![0_u32; done.rows.len()];
    for (rank, row) in table::order(done).into_iter().enumerate() {
        rank_of[row] = rank as u32 + 1;
    }
    let study = done.study;
    let sorts: Vec<Sort> = (0..study.parameters.len())
        .map(|idx| sort_of(study, idx))
        .collect();
    for (idx, row) in done.rows.iter().enumerate() {
        let row = row?;
        let figures = row.figures();
        let mut cells = vec![whole(row.setting), Cell::Whole(rank_of[idx].into())];
        for (sort, value) in sorts.iter().zip(study.values(row.setting)) {
            cells.push(match sort {
                Sort::Text => Cell::Text(value.text),
                Sort::Whole | Sort::Number => number(
                    value
                        .text
                        .split(' ')
                        .next()
                        .and_then(|number| number.parse().ok()),
                ),
            });
        }
        for measure in MEASURES {
            cells.push(number(figures.and_then(|f| measure.of(f))));
        }
        for idx in 0..study.site.house.fixtures.len() {
            let of = |pick: fn(&FixtureFigures) -> Option<f64>| {
                number(figures.and_then(|f: &Figures| pick(f.fixtures.get(idx)?)))
            };
            cells.push(of(|f| f.lowest_pa));
            cells.push(of(|f| f.median_pa));
        }
        cells.push(number(figures.map(|f| f.days)));
        cells.push(figures.map_or(Cell::None, |f| whole(f.hand_overs as usize)));
        cells.push(match done.standings[idx] {
            Standing::Keeps => Cell::Whole(0),
            Standing::Misses(n) => Cell::Whole(n.into()),
            Standing::Refused => Cell::None,
        });
        cells.push(match row.outcome {
            Outcome::Refused(why) => Cell::Text(why),
            Outcome::Figures(_) => Cell::None,
        });
        each(cells)?;
    }
    Ok(())
}

fn suffix(unit: MeasureUnit) -> &'static str {
    match unit {
        MeasureUnit::Count | MeasureUnit::Share => "",
        MeasureUnit::Seconds => "_s",
        MeasureUnit::Volume => "_m3",
        MeasureUnit::Pressure => "_pa",
        MeasureUnit::EnergyPerVolume => "_j_per_m3",
    }
}
