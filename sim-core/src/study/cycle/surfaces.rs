//! Knots of the source's surface, about which sheets of a running pump are laid.
//!
//! About a knot every quantity is a parabola in the height of the surface.  How many knots
//! that takes is found with the house shut: where the pump gets short of suction head its
//! curve bends sharply, and one parabola does not follow.

use std::sync::Arc;

use super::checks;
use super::config::nodes;
use super::manifold::{Branch, Point};
use super::sheet::{B, LANES, N, PUMPED_LAG, SHAFT_LAG, SUPPLY_LAG, Sheet, TEE_LAG};
use super::tables::Grounds;

/// Flow by which a parabola may be wrong at its ends, over the pump's greatest.
const FLOW_ERROR: f64 = 1e-5;
/// Most knots.
const MOST_KNOTS: usize = 16;

/// One height of the source's surface.
#[derive(Debug, Clone)]
pub(super) struct Knot {
    pub(super) at_m: f64,
    pub(super) content_m3: f64,
    /// Surface per height there [m²].
    pub(super) area_m2: f64,
    /// At each node of pressure.
    pub(super) bends: Vec<Bend>,
    /// Half the second derivatives.
    pub(super) second: Arc<Sheet>,
}

/// How the quantities of a running pump bend with the surface, at one tank pressure: found
/// for the shut house and near enough for all.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bend {
    slope: [f64; LANES],
    /// Half the second derivative.
    second: [f64; LANES],
}

fn is_lag(lane: usize) -> bool {
    matches!(lane, B | SUPPLY_LAG | SHAFT_LAG | TEE_LAG | PUMPED_LAG)
}

impl Bend {
    /// From settled points below, at and above a knot, each with its surface per height.
    fn through(points: [&Point; 3], areas_m2: [f64; 3], reach_m: f64) -> Self {
        let mut bend = Self {
            slope: [0.0; LANES],
            second: [0.0; LANES],
        };
        for lane in 0..LANES {
            let [a, b, c] = points.map(|point| point.lanes[lane]);
            bend.slope[lane] = (c - a) / (2.0 * reach_m);
            bend.second[lane] = if is_lag(lane) {
                (c - 2.0 * b + a) / (2.0 * reach_m * reach_m)
            } else {
                let slope = |i: usize| points[i].per_content[lane] * areas_m2[i];
                (slope(2) - slope(0)) / (4.0 * reach_m)
            };
        }
        bend
    }

    /// Slopes at a settled point of the same pressure and surface; what the source does to
    /// a lag is taken from the shut house.
    pub(super) fn slopes(&self, point: &Point, area_m2: f64) -> [f64; LANES] {
        let mut slopes = self.slope;
        for (lane, slope) in slopes.iter_mut().enumerate() {
            if !is_lag(lane) {
                *slope = point.per_content[lane] * area_m2;
            }
        }
        slopes
    }
}

/// As many knots as it takes between the lowest and the highest surface, from below; none
/// where the pump does not settle.
pub(super) fn knots(
    grounds: &Grounds<'_>,
    [low_m, high_m]: [f64; 2],
    content: impl Fn(f64) -> f64,
) -> Option<Vec<Knot>> {
    let branch = Branch::new(grounds.model, grounds.on_modes, grounds.controls)?;
    let error = FLOW_ERROR * grounds.model.pump.max_flow_m3_per_s();
    let mut n = 1;
    loop {
        let reach_m = (high_m - low_m) / (2 * n) as f64;
        let mut rows = Vec::with_capacity(2 * n + 1);
        for i in 0..=2 * n {
            let content_m3 = content(low_m + i as f64 * reach_m);
            let points = nodes(grounds, &branch, grounds.on_state, content_m3)?;
            let area_m2 = 1.0 / checks::source_now(grounds.model, content_m3).per_volume;
            rows.push((content_m3, area_m2, points));
        }
        let mut worst: f64 = 0.0;
        let knots: Vec<Knot> = (0..n)
            .map(|k| {
                let about = &rows[2 * k..2 * k + 3];
                let areas = [about[0].1, about[1].1, about[2].1];
                let bends = (0..grounds.n_nodes).map(|i| {
                    let points = [&about[0].2[i], &about[1].2[i], &about[2].2[i]];
                    let bend = Bend::through(points, areas, reach_m);
                    let slope = bend.slopes(points[1], areas[1])[N];
                    for (end, shift) in [(0, -reach_m), (2, reach_m)] {
                        let found = points[1].lanes[N] + shift * (slope + shift * bend.second[N]);
                        worst = worst.max((found - points[end].lanes[N]).abs());
                    }
                    bend
                });
                let bends: Vec<Bend> = bends.collect();
                let second: Vec<_> = bends.iter().map(|bend| bend.second).collect();
                let second = Sheet::through(grounds.low_pa, grounds.high_pa, &second);
                Knot {
                    at_m: low_m + (2 * k + 1) as f64 * reach_m,
                    content_m3: about[1].0,
                    area_m2: areas[1],
                    bends,
                    second: Arc::new(second),
                }
            })
            .collect();
        if worst <= error || n >= MOST_KNOTS {
            return Some(knots);
        }
        n *= 2;
    }
}

/// The knot that a surface belongs to.
#[inline]
pub(super) fn knot_of(knots: &[Knot], surface_m: f64) -> usize {
    let last = knots.len() - 1;
    if last == 0 {
        return 0;
    }
    let spacing_m = knots[1].at_m - knots[0].at_m;
    let place = (surface_m - knots[0].at_m) / spacing_m + 0.5;
    (place.max(0.0) as usize).min(last)
}
