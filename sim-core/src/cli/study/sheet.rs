//! Every setting as a sheet of columns, for tables that are taken elsewhere: parameters in
//! the units of the study file, results in SI units, the unit in the column's name.

use super::{Done, table};
use crate::study::{MEASURES, MeasureUnit, Outcome, judge};

/// A column.
pub(super) struct Column {
    pub(super) name: String,
    pub(super) cells: Cells,
}

/// Cells of one sort; what a setting does not have is none.
pub(super) enum Cells {
    Whole(Vec<Option<i64>>),
    Number(Vec<Option<f64>>),
    Text(Vec<Option<String>>),
}

/// The columns, settings in their order.
pub(super) fn columns(done: &Done<'_>) -> Vec<Column> {
    let mut columns = Vec::new();
    let mut add = |name: String, cells: Cells| columns.push(Column { name, cells });
    let rows = done.rows;
    let whole = |n: usize| i64::try_from(n).ok();
    let setting = rows.iter().map(|row| whole(row.setting)).collect();
    add("setting".to_owned(), Cells::Whole(setting));
    let mut rank_of = vec![None; rows.len()];
    for (rank, row) in table::order(done).into_iter().enumerate() {
        rank_of[row] = whole(rank + 1);
    }
    add("rank".to_owned(), Cells::Whole(rank_of));
    parameters(done, &mut add);
    let figures: Vec<_> = rows.iter().map(|row| row.figures()).collect();
    for measure in MEASURES {
        let cells = figures.iter().map(|f| measure.of((*f)?)).collect();
        add(
            format!("{}{}", measure.name, suffix(measure.unit)),
            Cells::Number(cells),
        );
    }
    for (idx, fixture) in done.study.site.house.fixtures.iter().enumerate() {
        let of = |pick: fn(&crate::study::FixtureFigures) -> Option<f64>| {
            let cells = figures.iter();
            Cells::Number(cells.map(|f| pick((*f)?.fixtures.get(idx)?)).collect())
        };
        add(format!("{}_lowest_pa", fixture.name), of(|f| f.lowest_pa));
        add(format!("{}_median_pa", fixture.name), of(|f| f.median_pa));
    }
    let days = figures.iter().map(|f| Some((*f)?.days)).collect();
    add("days".to_owned(), Cells::Number(days));
    let hand_overs = figures.iter();
    let hand_overs = hand_overs.map(|f| i64::try_from((*f)?.hand_overs).ok());
    add("hand_overs".to_owned(), Cells::Whole(hand_overs.collect()));
    let missed = figures.iter().map(|f| {
        let kept = judge(&done.study.limits, (*f)?);
        whole(kept.into_iter().flatten().filter(|k| !k.is_kept()).count())
    });
    add("limits_missed".to_owned(), Cells::Whole(missed.collect()));
    let refused = rows.iter().map(|row| match &row.outcome {
        Outcome::Refused(why) => Some(why.clone()),
        Outcome::Figures(_) => None,
    });
    add("refused".to_owned(), Cells::Text(refused.collect()));
    columns
}

/// One column for each parameter: numbers in the unit of its first value, or texts where it
/// has choices or several units.
fn parameters(done: &Done<'_>, add: &mut impl FnMut(String, Cells)) {
    let values: Vec<_> = done
        .rows
        .iter()
        .map(|row| done.study.values(row.setting))
        .collect();
    for (idx, parameter) in done.study.parameters.iter().enumerate() {
        let unit = parameter.unit.as_str();
        let numbers: Option<Vec<Option<f64>>> = values
            .iter()
            .map(|row| {
                let value = row.get(idx)?;
                value.si?;
                let (number, written) = value.text.split_once(' ').unwrap_or((&value.text, ""));
                let number = number.parse::<f64>().ok()?;
                (written == unit).then_some(Some(number))
            })
            .collect();
        match numbers {
            Some(numbers) if unit.is_empty() => {
                add(parameter.path.clone(), Cells::Number(numbers));
            }
            Some(numbers) => add(
                format!("{} [{unit}]", parameter.path),
                Cells::Number(numbers),
            ),
            None => {
                let texts = values.iter().map(|row| Some(row.get(idx)?.text.clone()));
                add(parameter.path.clone(), Cells::Text(texts.collect()));
            }
        }
    }
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
