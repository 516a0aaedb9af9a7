//! Rules of the pump's circuit.

use crate::file::problem::Problems;
use crate::site::draft::SiteDraft;

/// A float switch must close again above where it opens.
pub(super) fn check_float_switch(site: &SiteDraft, problems: &Problems) {
    let Some(float) = site.wiring.as_ref().and_then(|w| w.float_switch.as_ref()) else {
        return;
    };
    if let (Some(stops), Some(starts)) = (&float.stops_at, &float.starts_at)
        && starts.value.si() <= stops.value.si()
    {
        problems.report_spot(
            &starts.spot,
            format!("{} is not above stops_at {}", starts.written, stops.written),
            format!("more than {}", stops.show_si(stops.value.si())),
        );
    }
}

/// A low-pressure cut-off must lie below cut-in, or the pump could never be started.
pub(super) fn check_cut_off(site: &SiteDraft, problems: &Problems) {
    let cut_off = site
        .wiring
        .as_ref()
        .and_then(|w| w.low_pressure_cut_off.as_ref())
        .and_then(Option::as_ref);
    if let (Some(cut_off), Some(cut_in)) = (cut_off, &site.wall.pressure_switch.cut_in)
        && cut_off.value.si() >= cut_in.value.si()
    {
        problems.report_spot(
            &cut_off.spot,
            format!("{} is not below cut_in {}", cut_off.written, cut_in.written),
            format!("less than {}", cut_in.show_si(cut_in.value.si())),
        );
    }
}
