//! Settings of switch, tank and relief valve against one another.

use crate::file::problem::Problems;
use crate::site::draft::SiteDraft;
use crate::units::Pascals;

/// Cut-out lies above cut-in and within what the tank may bear.
pub(super) fn check_switch(site: &SiteDraft, problems: &Problems) {
    let switch = &site.wall.pressure_switch;
    let Some(cut_out) = &switch.cut_out else {
        return;
    };
    let rated = site.tank.rated_pressure.as_ref();
    let at_most = rated.map_or_else(String::new, |rated| {
        format!(" and at most the tank's rated pressure {}", rated.plain())
    });
    if let Some(cut_in) = &switch.cut_in
        && cut_out.value <= cut_in.value
    {
        problems.report_spot(
            &cut_out.spot,
            format!("{} is not above cut_in {}", cut_out.written, cut_in.written),
            format!("more than {}{at_most}", cut_in.plain()),
        );
    } else if let Some(rated) = rated
        && cut_out.value > rated.value
    {
        problems.report_spot(
            &cut_out.spot,
            format!(
                "{} is above the tank's rated pressure {}",
                cut_out.written, rated.written
            ),
            match &switch.cut_in {
                Some(cut_in) => format!("more than {}{at_most}", cut_in.plain()),
                None => format!("at most {}", rated.plain()),
            },
        );
    }
}

/// The relief valve opens above cut-out, and before the tank is overstrained.
pub(super) fn check_relief_valve(site: &SiteDraft, problems: &Problems) {
    let Some(set) = site
        .wall
        .relief_valve
        .as_ref()
        .and_then(|relief| relief.set_pressure.as_ref())
    else {
        return;
    };
    let accepted = match (
        &site.wall.pressure_switch.cut_out,
        &site.tank.rated_pressure,
    ) {
        (Some(cut_out), Some(rated)) => format!(
            "more than cut_out {} and at most the tank's rated pressure {}",
            cut_out.plain(),
            rated.plain()
        ),
        _ => "more than cut_out and at most the tank's rated pressure".to_owned(),
    };
    // A cut-out beyond the tank's rating leaves no room between; that is told there.
    let cut_out_is_possible = |cut_out: &Pascals| {
        site.tank
            .rated_pressure
            .as_ref()
            .is_none_or(|rated| *cut_out <= rated.value)
    };
    if let Some(cut_out) = &site.wall.pressure_switch.cut_out
        && set.value <= cut_out.value
        && cut_out_is_possible(&cut_out.value)
    {
        problems.report_spot(
            &set.spot,
            format!("{} is not above cut_out {}", set.written, cut_out.written),
            accepted,
        );
    } else if let Some(rated) = &site.tank.rated_pressure
        && set.value > rated.value
    {
        problems.report_spot(
            &set.spot,
            format!(
                "{} is above the tank's rated pressure {}",
                set.written, rated.written
            ),
            accepted,
        );
    }
}

/// Precharge may be set wrong, but not beyond what the shell may bear.
pub(super) fn check_precharge(site: &SiteDraft, problems: &Problems) {
    if let (Some(precharge), Some(rated)) = (&site.tank.precharge, &site.tank.rated_pressure)
        && precharge.value > rated.value
    {
        problems.report_spot(
            &precharge.spot,
            format!(
                "{} is above the tank's rated pressure {}",
                precharge.written, rated.written
            ),
            format!("{} to {}", precharge.show_si(0.0), rated.plain()),
        );
    }
}

/// The bladder takes less water than the shell holds.
pub(super) fn check_acceptance(site: &SiteDraft, problems: &Problems) {
    if let (Some(acceptance), Some(shell)) = (&site.tank.acceptance_volume, &site.tank.shell_volume)
        && acceptance.value >= shell.value
    {
        problems.report_spot(
            &acceptance.spot,
            format!(
                "{} of water does not fit into a shell of {}",
                acceptance.written, shell.written
            ),
            format!("less than {}", shell.plain()),
        );
    }
}
