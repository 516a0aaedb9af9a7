//! One state of the house's outlets: settled quantities with the pump off and on.

use super::manifold::{Branch, Point, QUICK};
use super::sheet::{B, LANES, N, PUMPED_LAG, SHAFT_LAG, SUPPLY_LAG, Sheet, TEE_LAG};
use super::tables::Grounds;
use crate::plant::model::OutletClass;
use crate::plant::state::{N_STATES, SOURCE_WATER};

/// Change of the source's surface after which the sheets are laid anew [m].
const FRESH_M: f64 = 0.5;
/// Flow into the tank that a shut house's rounding may leave [m³/s].
const ROUNDING_FLOW: f64 = 1e-7;

/// Sheets of one state of the outlets.
#[derive(Debug, Clone)]
pub(super) struct Config {
    pub(super) openings: Vec<f64>,
    pub(super) off: Sheet,
    off_points: Vec<Switch>,
    pub(super) on: OnSheets,
    on_points: Vec<Switch>,
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

/// Sheets with the pump on: quadratic in the height of the source's surface, straightened
/// about the present one.
#[derive(Debug, Clone)]
pub(super) struct OnSheets {
    quadratics: Vec<[[f64; LANES]; 3]>,
    at_m: f64,
    now: Sheet,
    slope: Sheet,
    scratch: Vec<[f64; LANES]>,
}

impl OnSheets {
    /// Through nodes at the lowest, middle and highest surface.
    fn through(grounds: &Grounds<'_>, nodes: &[Point], bends: &[Bend]) -> Self {
        let [_, middle_m, _] = grounds.surfaces_m;
        let quadratics: Vec<_> = nodes
            .iter()
            .zip(bends)
            .map(|(node, bend)| {
                let mut quadratic = [[0.0; LANES]; 3];
                for lane in 0..LANES {
                    // What the source does to a lag is taken from the shut house.
                    let slope = if bend.is_lag(lane) {
                        bend.slope[lane]
                    } else {
                        node.per_content[lane] * grounds.area_m2
                    };
                    quadratic[0][lane] = node.lanes[lane];
                    quadratic[1][lane] = slope;
                    quadratic[2][lane] = bend.second[lane];
                }
                quadratic
            })
            .collect();
        let scratch = vec![[0.0; LANES]; quadratics.len()];
        let empty = Sheet::through(grounds.low_pa, grounds.high_pa, &scratch);
        let mut sheets = Self {
            quadratics,
            at_m: f64::NAN,
            now: empty.clone(),
            slope: empty,
            scratch,
        };
        sheets.lay(middle_m, middle_m);
        sheets
    }

    fn lay(&mut self, surface_m: f64, middle_m: f64) {
        let s = surface_m - middle_m;
        for (out, q) in self.scratch.iter_mut().zip(&self.quadratics) {
            for lane in 0..LANES {
                out[lane] = q[0][lane] + s * (q[1][lane] + s * q[2][lane]);
            }
        }
        self.now.refill(&self.scratch);
        for (out, q) in self.scratch.iter_mut().zip(&self.quadratics) {
            for lane in 0..LANES {
                out[lane] = q[1][lane] + 2.0 * s * q[2][lane];
            }
        }
        self.slope.refill(&self.scratch);
        self.at_m = surface_m;
    }

    /// Lays the sheets anew when the surface has moved away.
    #[inline]
    pub(super) fn freshen(&mut self, surface_m: f64, middle_m: f64) {
        if self.at_m.is_nan() || (surface_m - self.at_m).abs() > FRESH_M {
            self.lay(surface_m, middle_m);
        }
    }

    /// Quantities at a pressure and a surface near that of the sheets.
    #[inline]
    pub(super) fn at(&self, pressure_pa: f64, surface_m: f64) -> [f64; LANES] {
        let place = self.now.place(pressure_pa);
        let mut values = self.now.at(place);
        let slopes = self.slope.at(place);
        let shift = surface_m - self.at_m;
        for lane in 0..LANES {
            values[lane] += shift * slopes[lane];
        }
        values
    }
}

impl Config {
    /// Settles everything at every node; none where something does not settle.
    pub(super) fn build(grounds: &Grounds<'_>, openings: Vec<f64>) -> Option<Self> {
        let mut controls = grounds.controls.clone();
        controls.fixture_openings.clone_from(&openings);
        let bends = grounds.bends;
        let off_branch = Branch::new(grounds.model, grounds.off_modes, &controls)?;
        let on_branch = Branch::new(grounds.model, grounds.on_modes, &controls)?;
        let off = nodes(grounds, &off_branch, grounds.off_state, grounds.sources[1])?;
        let on = nodes(grounds, &on_branch, grounds.on_state, grounds.sources[1])?;
        let lanes: Vec<_> = off.iter().map(|point| point.lanes).collect();
        let by_itself = |class| matches!(class, OutletClass::Leak | OutletClass::Draw);
        let is_idle = openings.iter().all(|&opening| opening <= 0.0)
            && !grounds.model.outlets.iter().any(|o| by_itself(o.class))
            && lanes.iter().all(|l| l[N].abs() < ROUNDING_FLOW);
        Some(Self {
            off: Sheet::through(grounds.low_pa, grounds.high_pa, &lanes),
            off_points: off.iter().map(Switch::from).collect(),
            on: OnSheets::through(grounds, &on, bends),
            on_points: on.iter().map(Switch::from).collect(),
            is_idle,
            open: (0..openings.len()).filter(|&i| openings[i] > 0.0).collect(),
            openings,
        })
    }

    /// Water that the tank takes more when the outlets change from `before` to these, at a
    /// tank pressure [m³].
    pub(super) fn change_from(&self, before: &Self, pressure_pa: f64, is_on: bool) -> f64 {
        let (cell, u) = self.off.place(pressure_pa);
        let u = u.clamp(0.0, 1.0);
        let (new, old) = if is_on {
            (&self.on_points, &before.on_points)
        } else {
            (&self.off_points, &before.off_points)
        };
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
fn nodes(
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
        points.push(branch.settle(&mut y)?);
    }
    Some(points)
}

/// How the quantities of a running pump bend with the surface of the source, at one tank
/// pressure: found for the shut house and near enough for all.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bend {
    slope: [f64; LANES],
    second: [f64; LANES],
}

impl Bend {
    pub(super) fn none() -> Self {
        Self {
            slope: [0.0; LANES],
            second: [0.0; LANES],
        }
    }

    fn is_lag(&self, lane: usize) -> bool {
        matches!(lane, B | SUPPLY_LAG | SHAFT_LAG | TEE_LAG | PUMPED_LAG)
    }

    /// Bends from settled points at three surfaces with the house shut.
    pub(super) fn find(grounds: &Grounds<'_>) -> Option<Vec<Self>> {
        let branch = Branch::new(grounds.model, grounds.on_modes, grounds.controls)?;
        let mut points = Vec::with_capacity(3);
        for source in grounds.sources {
            points.push(nodes(grounds, &branch, grounds.on_state, source)?);
        }
        let [low_m, middle_m, high_m] = grounds.surfaces_m;
        let (down, up) = (middle_m - low_m, high_m - middle_m);
        let bends = (0..grounds.n_nodes).map(|i| {
            let mut bend = Self::none();
            for lane in 0..LANES {
                let [a, b, c] = [0, 1, 2].map(|s: usize| points[s][i].lanes[lane]);
                let (first, last) = ((b - a) / down, (c - b) / up);
                bend.slope[lane] = (first * up + last * down) / (up + down);
                bend.second[lane] = (last - first) / (up + down);
            }
            bend
        });
        Some(bends.collect())
    }
}
