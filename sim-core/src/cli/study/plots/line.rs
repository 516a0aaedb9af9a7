//! One parameter against starts a day: a line for a grid, a cloud for samples.

use anyhow::Result;

use super::Picture;
use super::field::{
    FOOT, LEFT, RIGHT, edge, ground, legend, level_axis, level_name, marks, sheet, text,
    upright_axis, x_of, y_of,
};
use crate::cli::display::Units;
use crate::cli::palette::{INK2, WATER_INK};
use crate::cli::plot::Scale;
use crate::cli::plot::figure::{Anchor, Face};
use crate::cli::study::{Done, words};
use crate::study::Spread;

/// The picture, where something varies that is a number.
pub(super) fn picture(done: &Done<'_>, _units: Units) -> Result<Option<Picture>> {
    let study = done.study;
    let varying = study.axes().iter().find(|axis| axis.n_values() > 1);
    let sampled = study
        .parameters
        .iter()
        .position(|p| !matches!(p.spread, Spread::Values | Spread::Tied { .. }));
    let Some(parameter) = varying.map(|axis| axis.parameter).or(sampled) else {
        return Ok(None);
    };
    let measure = words::measure("starts_per_day_mean");
    let mut points: Vec<(usize, f64, f64)> = Vec::new();
    for row in done.rows.iter() {
        let row = row?;
        let value = study.values(row.setting).swap_remove(parameter);
        let number = value.text.split(' ').next().and_then(|n| n.parse().ok());
        let starts = row.figures().and_then(|figures| measure.of(figures));
        if let (Some(number), Some(_), Some(starts)) = (number, value.si, starts) {
            points.push((row.setting, number, starts));
        }
    }
    if points.len() < 2 {
        return Ok(None);
    }
    let names = words::short_names(study);
    let unit = &study.parameters[parameter].unit;
    let name = if unit.is_empty() {
        names[parameter].clone()
    } else {
        format!("{} [{unit}]", names[parameter])
    };
    let mut figure = sheet("Starts a day, mean", &study.title)?;
    ground(&mut figure);
    let up = Scale::holding(points.iter().map(|p| p.2), 6.0);
    let along = Scale::holding(points.iter().map(|p| p.1), 10.0);
    upright_axis(&mut figure, &up, "starts a day");
    level_axis(&mut figure, &along, &name);
    let place = |p: &(usize, f64, f64)| (x_of(&along, p.1), y_of(&up, p.2));
    let is_line = study.sampling.is_none()
        && study
            .axes()
            .iter()
            .filter(|axis| axis.n_values() > 1)
            .count()
            == 1;
    if is_line {
        let path = points.iter().map(place).collect();
        figure.path(path, 2.0, WATER_INK, None);
    }
    marks(&mut figure, done, points.iter().map(|p| (p.0, place(p))));
    edge(&mut figure);
    legend(&mut figure);
    if points.iter().all(|p| p.1 == points[0].1) {
        level_name(&mut figure, &name);
        let style = (13.0, Face::Regular, Anchor::End, INK2);
        text(
            &mut figure,
            (RIGHT.max(LEFT), FOOT - 8.0),
            "one value only",
            style,
        );
    }
    Ok(Some(Picture {
        name: "starts",
        caption: format!("Starts a day, mean, against {name}."),
        figure,
    }))
}
