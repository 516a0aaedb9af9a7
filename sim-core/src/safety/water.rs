//! Drinking water and pressure: doses and limits.
//!
//! Doses differ between rules; a close-out asks for the user's own authority's figure and
//! never offers one of these as the answer.

/// Free chlorine left at the end of retention, tank filled with chlorinated water, at
/// least [mg/L] (ANSI/AWWA C652-11, 4.3).
pub const FULL_TANK_RESIDUAL_MG_PER_L: f64 = 10.0;

/// Available chlorine of a solution sprayed on the surfaces [mg/L] (ANSI/AWWA C652-11, 4.3).
pub const SPRAY_DISINFECTION_MG_PER_L: f64 = 200.0;

/// Two steps: dose at the bottom, then residual after filling and 24 h [mg/L]
/// (ANSI/AWWA C652-11, 4.3).
pub const TWO_STEP_DISINFECTION_MG_PER_L: [f64; 2] = [50.0, 2.0];

/// Least doses for wells in two sets of local rules [mg/L] (COMAR 26.04.04.24; San
/// Bernardino County code 13.24.350): they differ by a factor of two.
pub const WELL_DOSES_MG_PER_L: [f64; 2] = [100.0, 50.0];

/// Static pressure in a building above which a regulator is required [psi] (UPC 608.2,
/// IPC 604.8).
pub const BUILDING_STATIC_LIMIT_PSI: f64 = 80.0;

/// Highest setting of a relief valve used in place of an expansion tank [psi] (UPC 608.2).
pub const RELIEF_LIMIT_PSI: f64 = 100.0;

/// Volume of hypochlorite solution that gives a dose to a body of water [m³], without
/// demand (mass balance; both concentrations in the same unit).
#[must_use]
pub fn hypochlorite_volume_m3(dose_mg_per_l: f64, water_m3: f64, solution_mg_per_l: f64) -> f64 {
    dose_mg_per_l * water_m3 / solution_mg_per_l
}
