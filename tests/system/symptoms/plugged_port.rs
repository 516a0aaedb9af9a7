//! A plugged sensing port: the switch hears of the pressure too late.

use super::rig::{Rig, TAP, assert_rising, sites};
use sim_core::site::SiteSpec;
use sim_core::units::convert::PSI;

/// Lowest and highest pressure at the tee, and the most by which gauge and switch
/// disagree [psi], over half an hour of one open tap.
fn swing(site: &SiteSpec, lag_s: f64) -> (f64, f64, f64) {
    let fault = format!("pressure_switch.plugged_port={lag_s}");
    let mut rig = Rig::charged(site, &[&fault]);
    rig.tap(TAP, 1.0);
    rig.next_run(3_600.0).unwrap();
    let (mut low, mut high, mut apart) = (f64::MAX, f64::MIN, 0.0_f64);
    for _ in 0..9_000 {
        rig.wait(0.2);
        low = low.min(rig.tee_psi());
        high = high.max(rig.tee_psi());
        let felt = rig.value("switch_pressure") / PSI;
        apart = apart.max((felt - rig.gauge_psi()).abs());
    }
    (low, high, apart)
}

#[test]
fn the_more_it_is_plugged_the_wider_the_pressure_swings() {
    for site in sites() {
        let (mut below, mut above, mut apart) = (vec![], vec![], vec![]);
        for lag_s in [0.05, 1.0, 5.0, 20.0, 60.0] {
            let (low, high, difference) = swing(&site, lag_s);
            below.push(-low);
            above.push(high);
            apart.push(difference);
        }
        assert_rising(&below, "undershoot");
        assert_rising(&above, "overshoot");
        assert_rising(&apart, "gauge against switch");
        let setting = &site.wall.pressure_switch;
        let (cut_in, cut_out) = (setting.cut_in.si() / PSI, setting.cut_out.si() / PSI);
        // A clean port keeps its settings; a minute of lag is past all reason.
        assert!(-below[0] > cut_in - 0.5 && above[0] < cut_out + 0.5);
        assert!(above[4] > cut_out + 15.0, "{}: {above:?}", site.name);
        assert!(
            apart[0] < 2.0 && apart[4] > 20.0,
            "{}: {apart:?}",
            site.name
        );
    }
}

#[test]
fn overshoot_is_the_lag_times_the_rate_while_that_is_small() {
    // A first-order lag follows a ramp at a distance of lag × rate.
    for site in sites() {
        let mut rig = Rig::charged(&site, &["pressure_switch.plugged_port=2"]);
        rig.tap(TAP, 1.0);
        rig.wait_for(sim_core::plant::EventKind::PumpStarted, 3_600.0)
            .unwrap();
        rig.tap(TAP, 0.0);
        rig.wait(15.0);
        let rise = rig.watch("tee_pressure", 1.0, 1.0);
        let rate = (rise[1].1 - rise[0].1) / PSI;
        let behind = (rig.value("tee_pressure") - rig.value("switch_pressure")) / PSI;
        super::rig::assert_near(behind, 2.0 * rate, 0.05, &site.name);
    }
}
