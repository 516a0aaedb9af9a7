//! Published rules of safe work that readings, hazards and marks are judged by.
//!
//! These are what public texts say; what applies on a real site is for local codes,
//! nameplates and licensed practice to decide.  Sources stand beside each value, and
//! `docs/validation.md` lists how far each was read.

mod water;
mod work;

pub use water::{
    BUILDING_STATIC_LIMIT_PSI, FULL_TANK_RESIDUAL_MG_PER_L, RELIEF_LIMIT_PSI,
    SPRAY_DISINFECTION_MG_PER_L, TWO_STEP_DISINFECTION_MG_PER_L, WELL_DOSES_MG_PER_L,
    hypochlorite_volume_m3,
};
pub use work::{
    ABSENCE_OF_VOLTAGE_TEST, AIR_TEST_ORDER, AbsenceStep, AirTest, TESTER_CHECK_MANDATORY_ABOVE_V,
    air_tests_in_words, electrical_lockout_rule, procedure_in_words,
};
