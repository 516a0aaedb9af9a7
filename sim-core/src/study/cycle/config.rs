//! One state of the house's outlets: settled quantities with the pump off and on.

use std::sync::Arc;

use super::manifold::{Branch, Point, QUICK};
use super::sheet::{LANES, Lanes, N, Sheet};
use super::surfaces::Knot;
use super::tables::Grounds;
use crate::plant::model::OutletClass;
use crate::plant::state::{N_STATES, SOURCE_WATER};

/// Flow into the tank that a shut house's rounding may leave [m³/s].
const ROUNDING_FLOW: f64 = 1e-7;

/// Sheets of one state of the outlets.
#[derive(Debug, Clone)]
pub(super) struct Config {
    pub(super) openings: Vec<f64>,
    pub(super) off: Sheet,
    off_points: Vec<Switch>,
    /// With the pump on, about each knot of the source's surface; none until it is needed.
    on: Vec<Option<OnSheets>>,
    /// Nothing leaves the tank while the pump is off.
    pub(super) is_idle: bool,
    /// Places of the open outlets.
    pub(super) open: Vec<usize>,
}

/// What a change of demand needs at one pressure.
#[derive(Debug, Clone, Copy)]
struct Switch {
    quick: [f64; QUICK],
    settling: [f64; QUICK],
}

impl From<&Point> for Switch {
    fn from(point: &Point) -> Self {
        Self {
            quick: point.quick,
            settling: point.settling,
        }
    }
}

/// Sheets with the pump on: quadratic in the height of the source's surface about a knot.
#[derive(Debug, Clone)]
pub(super) struct OnSheets {
    at_m: f64,
    /// Values and slopes.
    orders: [Sheet; 2],
    /// Half the second derivatives: the same for every state of the outlets.
    second: Arc<Sheet>,
    points: Vec<Switch>,
}

impl OnSheets {
    fn through(grounds: &Grounds<'_>, nodes: &[Point], knot: &Knot) -> Self {
        let mut quadratics = [(); 2].map(|()| vec![[0.0; LANES]; nodes.len()]);
        for (i, (node, bend)) in nodes.iter().zip(&knot.bends).enumerate() {
            quadratics[0][i] = node.lanes;
            quadratics[1][i] = bend.slopes(node, knot.area_m2);
        }
        Self {
            at_m: knot.at_m,
            orders: quadratics.map(|q| Sheet::through(grounds.low_pa, grounds.high_pa, &q)),
            second: knot.second.clone(),
            points: nodes.iter().map(Switch::from).collect(),
        }
    }
}

impl Lanes for OnSheets {
    #[inline(always)]
    fn at<const L: usize>(&self, pressure_pa: f64, surface_m: f64) -> [f64; L] {
        let place = self.orders[0].place(pressure_pa);
        let mut values = self.orders[0].first::<L>(place);
        let slopes = self.orders[1].first::<L>(place);
        let seconds = self.second.first::<L>(place);
        let shift = surface_m - self.at_m;
        for lane in 0..L {
            values[lane] += shift * (slopes[lane] + shift * seconds[lane]);
        }
        values
    }
}

impl Config {
    /// Settles everything at every node with the pump off; none where something does not
    /// settle.
    pub(super) fn build(grounds: &Grounds<'_>, openings: Vec<f64>) -> Option<Self> {
        let mut controls = grounds.controls.clone();
        controls.fixture_openings.clone_from(&openings);
        let branch = Branch::new(grounds.model, grounds.off_modes, &controls)?;
        let off = nodes(grounds, &branch, grounds.off_state, grounds.middle_m3)?;
        let lanes: Vec<_> = off.iter().map(|point| point.lanes).collect();
        let by_itself = |class| matches!(class, OutletClass::Leak | OutletClass::Draw);
        let is_idle = openings.iter().all(|&opening| opening <= 0.0)
            && !grounds.model.outlets.iter().any(|o| by_itself(o.class))
            && lanes.iter().all(|l| l[N].abs() < ROUNDING_FLOW);
        Some(Self {
            off: Sheet::through(grounds.low_pa, grounds.high_pa, &lanes),
            off_points: off.iter().map(Switch::from).collect(),
            on: vec![None; grounds.knots.len()],
            is_idle,
            open: (0..openings.len()).filter(|&i| openings[i] > 0.0).collect(),
            openings,
        })
    }

    /// Settles everything with the pump on about a knot, unless that has been done; false
    /// where something does not settle.
    pub(super) fn switch_on(&mut self, grounds: &Grounds<'_>, knot: usize) -> bool {
        if self.on[knot].is_some() {
            return true;
        }
        let mut controls = grounds.controls.clone();
        controls.fixture_openings.clone_from(&self.openings);
        let about = &grounds.knots[knot];
        self.on[knot] = Branch::new(grounds.model, grounds.on_modes, &controls)
            .and_then(|branch| nodes(grounds, &branch, grounds.on_state, about.content_m3))
            .map(|points| OnSheets::through(grounds, &points, about));
        self.on[knot].is_some()
    }

    /// Sheets with the pump on; none unless [`Config::switch_on`] found some.
    #[inline]
    pub(super) fn on(&self, knot: usize) -> Option<&OnSheets> {
        self.on[knot].as_ref()
    }

    /// Water that the tank takes more when the outlets change from `before` to these, at a
    /// tank pressure, with the pump off or on about a knot [m³].
    pub(super) fn change_from(&self, before: &Self, pressure_pa: f64, on: Option<usize>) -> f64 {
        let (cell, u) = self.off.place(pressure_pa);
        let u = u.clamp(0.0, 1.0);
        let (mut new, mut old) = (&self.off_points, &before.off_points);
        if let Some(knot) = on
            && let (Some(now), Some(then)) = (self.on(knot), before.on(knot))
        {
            (new, old) = (&now.points, &then.points);
        }
        let mut sum = 0.0;
        for i in 0..QUICK {
            let between = |a: f64, b: f64| a + u * (b - a);
            let settling = between(new[cell].settling[i], new[cell + 1].settling[i]);
            let now = between(new[cell].quick[i], new[cell + 1].quick[i]);
            let then = between(old[cell].quick[i], old[cell + 1].quick[i]);
            sum -= settling * (then - now);
        }
        sum
    }
}

/// Settled points at every pressure of the grid, at one content of the source.
pub(super) fn nodes(
    grounds: &Grounds<'_>,
    branch: &Branch<'_>,
    guess: &[f64; N_STATES],
    source_m3: f64,
) -> Option<Vec<Point>> {
    let mut y = *guess;
    y[SOURCE_WATER] = source_m3;
    let rise_pa = (grounds.high_pa - grounds.low_pa) / (grounds.n_nodes - 1) as f64;
    let mut points: Vec<Point> = Vec::with_capacity(grounds.n_nodes);
    for i in 0..grounds.n_nodes {
        if let Some(last) = points.last() {
            branch.move_on(&mut y, last, rise_pa);
        }
        branch.set_tank(&mut y, grounds.low_pa + i as f64 * rise_pa);
        if i == 0 {
            // The first comes from afar and is left with what Newton's method leaves.
            branch.settle(&mut y)?;
        }
        points.push(branch.settle(&mut y)?);
    }
    Some(points)
}
