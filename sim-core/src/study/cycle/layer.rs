//! What a start or a stop of the pump does beside the settled course.
//!
//! From the moment the motor gets power until the water runs as the settled sheets say,
//! less has come into the tank and more energy has gone than they would have it; after the
//! stop the column runs on a little.  The plant engine runs a few such starts and stops,
//! and what it ends with beyond the settled course is kept against the demand and the
//! height of the source's surface.

use super::gas::{Pose, Sums};

/// Offsets of one start or stop.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Offset {
    /// More water in the tank [m³].
    pub(super) water: f64,
    /// Warmer air in it [K].
    pub(super) gas_k: f64,
    /// More energy, more water.
    pub(super) sums: Sums,
    /// How far the house's pressure goes below what it was just before [Pa].
    pub(super) dip_pa: f64,
}

impl Offset {
    fn combine(&self, a: f64, other: &Self, b: f64) -> Self {
        Self {
            water: a * self.water + b * other.water,
            gas_k: a * self.gas_k + b * other.gas_k,
            sums: Sums {
                supply_j: a * self.sums.supply_j + b * other.sums.supply_j,
                shaft_j: a * self.sums.shaft_j + b * other.sums.shaft_j,
                pumped: a * self.sums.pumped + b * other.sums.pumped,
                used: a * self.sums.used + b * other.sums.used,
            },
            dip_pa: a * self.dip_pa + b * other.dip_pa,
        }
    }

    pub(super) fn apply(&self, pose: &mut Pose, sums: &mut Sums) {
        pose.water += self.water;
        pose.gas_k += self.gas_k;
        pose.source -= self.sums.pumped;
        sums.add(&self.sums);
    }
}

/// Offsets against demand and surface.
#[derive(Debug, Clone)]
pub(super) struct Layer {
    /// Demand [m³/s] and offsets there, in rising order of demand; one or more.
    pub(super) levels: Vec<(f64, Offset)>,
    /// Surface at which they were found [m].
    pub(super) surface_m: f64,
    /// Change per metre of surface.
    pub(super) per_m: Offset,
}

impl Layer {
    /// Offsets at a demand and surface: Lagrange's parabola, held at the outermost levels.
    pub(super) fn at(&self, demand: f64, surface_m: f64) -> Offset {
        let last = self.levels.len() - 1;
        let x = demand.clamp(self.levels[0].0, self.levels[last].0);
        let mut sum = Offset::default();
        for (i, (xi, offset)) in self.levels.iter().enumerate() {
            let mut weight = 1.0;
            for (j, (xj, _)) in self.levels.iter().enumerate() {
                if i != j {
                    weight *= (x - xj) / (xi - xj);
                }
            }
            sum = sum.combine(1.0, offset, weight);
        }
        sum.combine(1.0, &self.per_m, surface_m - self.surface_m)
    }
}

impl Layer {
    /// No offsets at all.
    pub(super) fn none() -> Self {
        Self {
            levels: vec![(0.0, Offset::default())],
            surface_m: 0.0,
            per_m: Offset::default(),
        }
    }
}

impl Offset {
    /// Change per unit from another offset, over `distance` units.
    pub(super) fn slope_from(&self, other: &Self, distance: f64) -> Self {
        let per = 1.0 / distance;
        self.combine(per, other, -per)
    }
}
