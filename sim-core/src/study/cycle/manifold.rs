//! The plant's quick part, settled: pressures, pump flow and shaft speed that belong to a
//! slowly changing tank.
//!
//! With the tank at pressure p, the quick components z (water at the tee, in the house and
//! in the run, pump flow, shaft speed) obey z' = g(z, p).  They settle where g = 0; while p
//! changes at a rate p', they lag behind by J⁻¹·z_p·p' with J = ∂g/∂z and z_p = −J⁻¹·∂g/∂p
//! (first order of the slow manifold).  Whatever depends on z is corrected by that:
//! the flow into the tank is N − B·p'.
//!
//! After a sudden change of demand z starts off its new settled place by Δz; until it is
//! there the tank takes ∫n·e^(Jt)Δz dt = −n·J⁻¹·Δz more, with n = ∂N/∂z.
//!
//! All of it is the plant's own equations and derivatives; nothing is modelled twice.

use super::sheet::{
    B, HOUSE, LANES, N, PUMPED, PUMPED_LAG, SHAFT, SHAFT_LAG, SUPPLY, SUPPLY_LAG, TEE, TEE_LAG,
    USED,
};
use crate::plant::model::Model;
use crate::plant::rosenbrock::{MAX_COUPLED, Structure, System};
use crate::plant::state::{
    DRAWN, HOUSE_AIR, HOUSE_WATER, LINE_AIR, LINE_WATER, N_STATES, SHAFT_SPEED, SHAFT_WORK,
    SOURCE_WATER, SUPPLY_WORK, TANK_CHARGE, TANK_TEMPERATURE, TANK_WATER, TEE_AIR, TEE_WATER,
    TRUNK_FLOW, USED as USED_WATER,
};
use crate::plant::system::{PlantSystem, structure};
use crate::plant::{Controls, Modes, Shaft, Trunk};

/// Most quick components: tee, house, run, pump flow, shaft speed.
pub(super) const QUICK: usize = 5;

/// Places of the quick components in the plant's state.
pub(super) const QUICK_STATES: [usize; QUICK] =
    [TEE_WATER, HOUSE_WATER, LINE_WATER, TRUNK_FLOW, SHAFT_SPEED];

const MOST_ITERATIONS: usize = 40;

/// A settled point.
#[derive(Debug, Clone, Copy)]
pub(super) struct Point {
    pub(super) lanes: [f64; LANES],
    /// The quick components.
    pub(super) quick: [f64; QUICK],
    /// What of a deviation of each goes out of the tank again: n·J⁻¹.
    pub(super) settling: [f64; QUICK],
    /// Lag of each behind its settled place per rate of tank pressure.
    pub(super) lag: [f64; QUICK],
    /// How far each moves per tank pressure.
    per_pa: [f64; QUICK],
    /// How the quantities change with the content of the source [1/m³], those of the lags
    /// left at nought.
    pub(super) per_content: [f64; LANES],
}

/// One set of modes and openings.
#[derive(Debug)]
pub(super) struct Branch<'a> {
    model: &'a Model,
    modes: Modes,
    controls: &'a Controls,
    structure: Structure<N_STATES>,
    /// Quick components at work: place in [`QUICK_STATES`], lane of the derivatives.
    quick: Vec<(usize, usize)>,
    /// None where the tank takes no part.
    tank_lane: Option<usize>,
    source_lane: Option<usize>,
    /// A run that empties into the tee as the pressure falls, without being followed.
    trailing_run: bool,
}

impl<'a> Branch<'a> {
    /// None when nothing in the pipes can move.
    pub(super) fn new(model: &'a Model, modes: Modes, controls: &'a Controls) -> Option<Self> {
        let structure = structure(model, &modes, controls);
        let lane_of = |state: usize| structure.coupled.iter().position(|&c| c == state);
        let tank_lane = lane_of(TANK_WATER);
        let is_off = modes.shaft == Shaft::Resting && modes.trunk == Trunk::Shut;
        let leaves_run = is_off
            && model
                .wall_check
                .as_ref()
                .is_some_and(|check| check.backward.is_none());
        let quick: Vec<_> = QUICK_STATES
            .iter()
            .enumerate()
            .filter(|&(_, &state)| !(leaves_run && state == LINE_WATER))
            .filter_map(|(i, &state)| lane_of(state).map(|lane| (i, lane)))
            .collect();
        if quick.is_empty() {
            return None;
        }
        Some(Self {
            model,
            modes,
            controls,
            quick,
            tank_lane,
            source_lane: if is_off { None } else { lane_of(SOURCE_WATER) },
            structure,
            trailing_run: leaves_run,
        })
    }

    /// Puts the tank at a pressure [Pa, absolute].
    pub(super) fn set_tank(&self, y: &mut [f64; N_STATES], pressure_pa: f64) {
        let charge = y[TANK_CHARGE] * y[TANK_TEMPERATURE] * self.model.gas_constant;
        y[TANK_WATER] = self.model.tank_shell - charge / pressure_pa;
    }

    /// Moves the quick components of `y` on from a settled point, by their slopes.
    pub(super) fn move_on(&self, y: &mut [f64; N_STATES], from: &Point, rise_pa: f64) {
        for &(i, _) in &self.quick {
            y[QUICK_STATES[i]] += from.per_pa[i] * rise_pa;
        }
    }

    /// Settles the quick components of `y`; none when they do not settle.
    pub(super) fn settle(&self, y: &mut [f64; N_STATES]) -> Option<Point> {
        let system = PlantSystem::new(self.model, self.modes, self.controls, &self.structure);
        let n = self.quick.len();
        let mut rates = [0.0; N_STATES];
        let mut jacobian = [[0.0; MAX_COUPLED]; N_STATES];
        let scales = self.scales();
        let mut settled = false;
        if let (true, Some(line)) = (self.trailing_run, &self.model.line) {
            // Held back by the check at the wall, or it would feed the tee without end.
            y[LINE_WATER] = self
                .model
                .excess_at(line, self.model.atmosphere_pa, y[LINE_AIR]);
        }
        for _ in 0..MOST_ITERATIONS {
            system.linearize(y, &mut rates, &mut jacobian);
            if settled {
                break;
            }
            let matrix = self.matrix(&jacobian, false);
            let mut step = [0.0; QUICK];
            for (row, &(i, _)) in self.quick.iter().enumerate() {
                step[row] = -rates[QUICK_STATES[i]];
            }
            if !solve(matrix, &mut step, n) {
                return None;
            }
            // A long way off only part of the way at once: roots bend.
            let mut size: f64 = 0.0;
            for (row, &(i, _)) in self.quick.iter().enumerate() {
                size = size.max((step[row] / scales[i]).abs());
            }
            if !size.is_finite() {
                return None;
            }
            let share = if size > 1.0 { 1.0 / size } else { 1.0 };
            for (row, &(i, _)) in self.quick.iter().enumerate() {
                y[QUICK_STATES[i]] += share * step[row];
            }
            // What is left after a step this small is its square.
            settled = size < 2e-4;
        }
        if !settled {
            return None;
        }
        let point = self.point(y, &rates, &jacobian);
        if self.trailing_run {
            y[LINE_WATER] = point.quick[2];
        }
        Some(point)
    }

    /// Steps of one iteration that are taken whole.
    fn scales(&self) -> [f64; QUICK] {
        let pressure = 1.0e5;
        [
            self.model.tee.capacity * pressure,
            self.model.house.capacity * pressure,
            self.model.run_end().capacity * pressure,
            3.0e-4,
            30.0,
        ]
    }

    fn matrix(
        &self,
        jacobian: &[[f64; MAX_COUPLED]; N_STATES],
        turned: bool,
    ) -> [[f64; QUICK]; QUICK] {
        let mut matrix = [[0.0; QUICK]; QUICK];
        for (row, &(i, _)) in self.quick.iter().enumerate() {
            for (column, &(_, lane)) in self.quick.iter().enumerate() {
                let value = jacobian[QUICK_STATES[i]][lane];
                if turned {
                    matrix[column][row] = value;
                } else {
                    matrix[row][column] = value;
                }
            }
        }
        matrix
    }

    fn point(
        &self,
        y: &[f64; N_STATES],
        rates: &[f64; N_STATES],
        jacobian: &[[f64; MAX_COUPLED]; N_STATES],
    ) -> Point {
        let model = self.model;
        let n = self.quick.len();
        let gas_volume = model.tank_shell - y[TANK_WATER];
        let pressure = y[TANK_CHARGE] * y[TANK_TEMPERATURE] * model.gas_constant / gas_volume;
        let volume_per_pa = gas_volume / pressure;

        // z_p, then the lag J⁻¹·z_p.
        let matrix = self.matrix(jacobian, false);
        let mut with_pressure = [0.0; QUICK];
        for (row, &(i, _)) in self.quick.iter().enumerate() {
            with_pressure[row] = self
                .tank_lane
                .map_or(0.0, |lane| -jacobian[QUICK_STATES[i]][lane] * volume_per_pa);
        }
        solve(matrix, &mut with_pressure, n);
        let mut lag = with_pressure;
        solve(matrix, &mut lag, n);
        let mut settling = [0.0; QUICK];
        for (row, &(_, lane)) in self.quick.iter().enumerate() {
            settling[row] = jacobian[TANK_WATER][lane];
        }
        solve(self.matrix(jacobian, true), &mut settling, n);

        let lagging = |state: usize| -> f64 {
            self.quick
                .iter()
                .enumerate()
                .map(|(row, &(_, lane))| jacobian[state][lane] * lag[row])
                .sum()
        };
        let node = |state: usize, air: usize, node| {
            let found = model.node(node, y[state], y[air]);
            (found.pressure - model.atmosphere_pa, found.storage)
        };
        let (tee_pa, tee_storage) = node(TEE_WATER, TEE_AIR, &model.tee);
        let (house_pa, house_storage) = node(HOUSE_WATER, HOUSE_AIR, &model.house);
        let port_s = if model.port_rate > 0.0 {
            1.0 / model.port_rate
        } else {
            0.0
        };

        let mut all = Point {
            lanes: [0.0; LANES],
            quick: QUICK_STATES.map(|state| y[state]),
            settling: [0.0; QUICK],
            lag: [0.0; QUICK],
            per_pa: [0.0; QUICK],
            per_content: [0.0; LANES],
        };
        for (row, &(i, _)) in self.quick.iter().enumerate() {
            all.settling[i] = settling[row];
            all.lag[i] = lag[row];
            all.per_pa[i] = with_pressure[row];
        }
        let mut trailing = 0.0;
        if self.trailing_run
            && let Some(line) = &model.line
        {
            trailing = line.capacity;
            // The run hangs on the tee, above it by what lifts the check at the wall.
            let lift_pa = model.wall_check.as_ref().map_or(0.0, |c| c.lift_off_pa);
            let hangs_pa = tee_pa + model.atmosphere_pa + lift_pa;
            all.quick[2] = model.excess_at(line, hangs_pa, y[LINE_AIR]);
            all.settling[2] = all.settling[0];
        }
        let lanes = &mut all.lanes;
        lanes[N] = rates[TANK_WATER];
        lanes[B] = trailing - lagging(TANK_WATER);
        lanes[SUPPLY] = rates[SUPPLY_WORK];
        lanes[SUPPLY_LAG] = lagging(SUPPLY_WORK);
        lanes[SHAFT] = rates[SHAFT_WORK];
        lanes[SHAFT_LAG] = lagging(SHAFT_WORK);
        lanes[PUMPED] = rates[DRAWN];
        lanes[PUMPED_LAG] = lagging(DRAWN);
        lanes[USED] = rates[USED_WATER];
        lanes[TEE] = tee_pa;
        lanes[TEE_LAG] = (lag[0] - port_s * with_pressure[0]) / tee_storage;
        lanes[HOUSE] = house_pa;
        if let Some(source) = self.source_lane {
            let mut with_content = [0.0; QUICK];
            for (row, &(i, _)) in self.quick.iter().enumerate() {
                with_content[row] = -jacobian[QUICK_STATES[i]][source];
            }
            solve(matrix, &mut with_content, n);
            let slope = |state: usize| -> f64 {
                let moved: f64 = self
                    .quick
                    .iter()
                    .enumerate()
                    .map(|(row, &(_, lane))| jacobian[state][lane] * with_content[row])
                    .sum();
                jacobian[state][source] + moved
            };
            let slopes = &mut all.per_content;
            slopes[N] = slope(TANK_WATER);
            slopes[SUPPLY] = slope(SUPPLY_WORK);
            slopes[SHAFT] = slope(SHAFT_WORK);
            slopes[PUMPED] = slope(DRAWN);
            slopes[USED] = slope(USED_WATER);
            slopes[TEE] = with_content[0] / tee_storage;
            slopes[HOUSE] = with_content[1] / house_storage;
        }
        all
    }
}

/// Solves a small system by elimination with pivots; false when it cannot be solved.
fn solve(mut matrix: [[f64; QUICK]; QUICK], right: &mut [f64; QUICK], n: usize) -> bool {
    for column in 0..n {
        let mut pivot = column;
        for row in column + 1..n {
            if matrix[row][column].abs() > matrix[pivot][column].abs() {
                pivot = row;
            }
        }
        let largest = matrix[pivot][column];
        // Also turns away a NaN.
        if largest == 0.0 || largest.is_nan() {
            return false;
        }
        matrix.swap(column, pivot);
        right.swap(column, pivot);
        for row in column + 1..n {
            let factor = matrix[row][column] / largest;
            if factor != 0.0 {
                let upper = matrix[column];
                for (value, above) in matrix[row].iter_mut().zip(upper).skip(column) {
                    *value -= factor * above;
                }
                right[row] -= factor * right[column];
            }
        }
    }
    for row in (0..n).rev() {
        let mut sum = right[row];
        for column in row + 1..n {
            sum -= matrix[row][column] * right[column];
        }
        right[row] = sum / matrix[row][row];
    }
    true
}
