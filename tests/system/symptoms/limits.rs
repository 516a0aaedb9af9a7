//! Settings past what the pump or the relief valve allows.

use super::laws::{boyle_drawdown_l, column_psi};
use super::rig::{Rig, TAP, sites};
use sim_core::parts::PumpMap;
use sim_core::plant::{Command, EventKind};
use sim_core::site::SiteSpec;
use sim_core::units::Pascals;
use sim_core::units::convert::{LITER, PSI};

/// A charged rig whose cut-out has been set anew, the pump started and the tap shut.
fn set_to(site: &SiteSpec, cut_out_psi: f64) -> Rig {
    let mut rig = Rig::charged(site, &[]);
    rig.command(Command::AdjustSwitch {
        cut_in: site.wall.pressure_switch.cut_in,
        cut_out: Pascals(cut_out_psi * PSI),
    });
    rig.tap(TAP, 1.0);
    rig.wait_for(EventKind::PumpStarted, 3_600.0).unwrap();
    rig.tap(TAP, 0.0);
    rig
}

#[test]
fn a_cut_out_above_the_relief_valve_makes_it_lift_and_the_pump_run_on() {
    for site in sites() {
        let relief = site.wall.relief_valve.as_ref().unwrap().set_pressure.si() / PSI;
        let mut rig = set_to(&site, relief + 12.0);
        rig.wait(1_800.0);
        assert!(rig.is_running(), "{}", site.name);
        // Between its set pressure and the ten per cent above at which it is full open.
        assert!(
            (relief..1.1 * relief).contains(&rig.tee_psi()),
            "{}",
            rig.tee_psi()
        );
        assert!(rig.plant.totals().relieved_m3 / LITER > 100.0);
        let mut healthy = set_to(&site, rig.site.wall.pressure_switch.cut_out.si() / PSI);
        healthy.wait(1_800.0);
        assert!(!healthy.is_running());
        assert_eq!(healthy.plant.totals().relieved_m3, 0.0);
    }
}

#[test]
fn a_cut_out_above_shut_off_is_never_reached() {
    for mut site in sites() {
        site.wall.relief_valve = None;
        // Shut-off by the pump's curve at the speed it then has, from the water up.
        let mut rig = set_to(&site, 140.0);
        rig.wait(1_200.0);
        assert!(rig.is_running(), "{}", site.name);
        assert!(!rig.has_seen(EventKind::PumpStopped), "{}", site.name);
        let head_m = PumpMap::new(&site.pump).head_m(0.0, rig.value("shaft_speed"));
        let surface = site.source.bottom_elevation_m() + rig.value("source_level");
        let shut_off = column_psi(head_m - (site.wall.elevation.si() - surface));
        // A column brought to rest by a full tank overshoots a little, and the check
        // valve keeps what it got.
        assert!(
            (0.98 * shut_off..1.08 * shut_off).contains(&rig.tee_psi()),
            "{}: {} {shut_off}",
            site.name,
            rig.tee_psi()
        );
        // Nothing moves, and the water in the pump heats.
        assert!(rig.value("pump_flow") < 1e-9);
        assert!(rig.value("pump_water_temperature") > 333.0, "{}", site.name);
    }
}

#[test]
fn hours_of_that_spoil_the_impellers() {
    for mut site in sites() {
        site.wall.relief_valve = None;
        let mut rig = set_to(&site, 140.0);
        rig.wait(2.0 * 3_600.0);
        let warped = rig.when(EventKind::ImpellersWarped).unwrap();
        assert!((600.0..7_200.0).contains(&warped), "{warped}");
    }
}

#[test]
fn raising_cut_out_makes_runs_longer_by_more_than_the_water() {
    // Boyle's law gives the water; the pump gives less of it at every psi more.
    for mut site in sites() {
        site.wall.relief_valve = None;
        let usual = site.wall.pressure_switch.cut_out.si() / PSI;
        let cut_in = site.wall.pressure_switch.cut_in.si() / PSI;
        let run_s = |cut_out: f64| {
            let mut rig = set_to(&site, cut_out);
            let begin = rig.now();
            rig.wait_for(EventKind::PumpStopped, 3_600.0)
                .unwrap()
                .time_s
                - begin
        };
        let water_l = |cut_out: f64| {
            let shell = site.tank.shell_volume.si() / LITER;
            boyle_drawdown_l(
                &site,
                shell,
                site.tank.precharge.si() / PSI,
                (cut_out, cut_in),
            )
        };
        let longer = run_s(1.35 * usual) / run_s(usual);
        let more_water = water_l(1.35 * usual) / water_l(usual);
        assert!(
            longer > 1.05 * more_water,
            "{}: {longer} {more_water}",
            site.name
        );
    }
}
