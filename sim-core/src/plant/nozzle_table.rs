//! Air through an opening, without a power function in the inner loop.
//!
//! ṁ = C_d·A·p_up·ψ(p_down/p_up)/√(R·T); the square of ψ is smooth and is tabulated
//! from [`flow_function`], which holds the source.

use crate::air::gas::AIR;
use crate::air::nozzle::{critical_pressure_ratio, flow_function};
use crate::math::{MonotoneTable, Scalar};

/// Softening of √ψ² near equal pressures, where a square root would be vertical.
const SOFTENING: f64 = 1e-5;

/// Tabulated ψ².
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct NozzleTable {
    square: MonotoneTable,
    critical: f64,
}

impl NozzleTable {
    pub(crate) fn new() -> Self {
        let gamma = AIR.heat_capacity_ratio;
        let critical = critical_pressure_ratio(gamma);
        let cells = 32_u32;
        let (x, y) = (0..=cells)
            .map(|i| {
                let r = critical + (1.0 - critical) * f64::from(i) / f64::from(cells);
                let psi = flow_function(r, gamma);
                (r, psi * psi)
            })
            .unzip();
        Self {
            square: MonotoneTable::through(x, y),
            critical,
        }
    }

    /// Mass flow [kg/s] from `up` to `down` [Pa]; none when `down` is not lower.
    #[inline]
    pub(crate) fn mass_flow<S: Scalar>(&self, up: S, down: S, area: f64, rt: f64) -> S {
        let ratio = (down / up).max_of(S::constant(self.critical));
        let square = self.square.at(ratio).max_of(S::constant(0.0));
        let psi = square / (square + SOFTENING).sqrt();
        up * psi * (area / rt.sqrt())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::air::nozzle::{GasSide, nozzle_mass_flow_kg_per_s};

    #[test]
    fn agrees_with_the_nozzle_law() {
        let table = NozzleTable::new();
        let rt = AIR.gas_constant_j_per_kg_k * 293.15;
        let side = |pressure_pa| GasSide {
            pressure_pa,
            temperature_k: 293.15,
        };
        for down in [20_000.0, 60_000.0, 110_000.0, 150_000.0, 190_000.0] {
            let exact = nozzle_mass_flow_kg_per_s(AIR, 1e-6, side(200_000.0), side(down));
            let ours = table.mass_flow(200_000.0, down, 1e-6, rt);
            assert!((ours / exact - 1.0).abs() < 2e-3, "{down}: {ours} {exact}");
        }
    }
}
