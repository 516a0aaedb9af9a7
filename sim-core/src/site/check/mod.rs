//! Checks across fields: small functions, one rule each, that report on what was read.
//!
//! A rule says something only when everything it compares was read.  What is
//! merely badly set (precharge above cut-in, cut-out beyond the pump's reach, a
//! motor on the wrong voltage) is legal: it is what the trade is called out for.
//! What cannot be built, or would burst, is not.

mod heights;
mod names;
mod pressures;
mod pump;
mod wiring;

use super::draft::SiteDraft;
use crate::file::problem::Problems;

/// Runs every check.
pub(super) fn check_site(site: &SiteDraft, file_name: &str, problems: &Problems) {
    names::check_version(site, problems);
    names::check_site_name(site, file_name, problems);
    names::check_title(site, problems);
    names::check_fixture_names(site, problems);

    heights::check_water_depth(site, problems);
    heights::check_well_levels(site, problems);
    heights::check_floating_intake(site, problems);
    heights::check_fixed_intake(site, problems);
    heights::check_pump_in_source(site, problems);
    heights::check_pipe_rises(site, problems);
    heights::check_suction_rise(site, problems);
    heights::check_run_rise(site, problems);

    pump::check_suction_parts(site, problems);
    pump::check_curve_order(site, problems);
    pump::check_curve_efficiency(site, problems);
    pump::check_poles(site, problems);
    pump::check_full_load_speed(site, problems);

    pressures::check_switch(site, problems);
    pressures::check_relief_valve(site, problems);
    pressures::check_precharge(site, problems);
    pressures::check_acceptance(site, problems);

    wiring::check_float_switch(site, problems);
    wiring::check_cut_off(site, problems);
}
