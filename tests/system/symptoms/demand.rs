//! What the house asks: things that run, drip, draw, stand too high or get hot.

use super::laws::{atmosphere_psi, column_psi, drawdown_l, leak_interval_s};
use super::rig::{Rig, TAP, assert_near, assert_rising, sites};
use crate::support::sites::shipped;
use sim_core::plant::{EventKind, Tick};
use sim_core::site::SiteSpec;
use sim_core::units::convert::{LITER, PSI, US_GPM};

fn highest(site: &SiteSpec) -> String {
    let by_height = |a: &&sim_core::parts::FixtureSpec, b: &&sim_core::parts::FixtureSpec| {
        a.elevation.si().total_cmp(&b.elevation.si())
    };
    let fixture = site.house.fixtures.iter().max_by(by_height).unwrap();
    fixture.name.clone()
}

#[test]
fn a_running_toilet_starts_the_pump_and_bleeds_the_line_to_its_own_height() {
    for (name, fixture) in [
        ("hill-farm", "toilet"),
        // No fixture of that name: the highest counts.
        ("garden-shed", "greenhouse-sprinkler"),
    ] {
        let site = shipped(name);
        let fixtures = &site.house.fixtures;
        let toilet = fixtures.iter().find(|f| f.name == fixture).unwrap();
        let height_psi = column_psi(toilet.elevation.si() - site.wall.elevation.si());
        let mut rig = Rig::charged(&site, &["toilet.running"]);
        let start = rig.wait_for(EventKind::PumpStarted, 1e5).unwrap();
        assert_near(
            start.time_s,
            leak_interval_s(&site, 0.5, -height_psi),
            0.06,
            name,
        );
        rig.breaker(false);
        rig.wait(6.0 * 3_600.0);
        let floor = rig.tee_psi();
        assert!(
            (floor - height_psi).abs() < 0.15,
            "{name}: {floor} {height_psi}"
        );
        let mut shut = Rig::charged(&site, &["toilet.running"]);
        shut.house_valve(0.0);
        shut.wait(3_600.0);
        assert_near(shut.tee_psi(), shut.setting_psi().1, 1e-3, name);
    }
}

#[test]
fn a_steady_draw_of_half_the_pumps_flow_starts_it_most_often() {
    for site in sites() {
        let starts = |gpm: f64| {
            let mut rig = Rig::charged(&site, &[&format!("house.steady_draw={gpm}")]);
            rig.wait(2.0 * 3_600.0);
            rig.plant.totals().pump_starts
        };
        // Flow half-way between cut-in and cut-out, as the healthy pump fills its tank.
        let mut rig = Rig::charged(&site, &[]);
        rig.drain(1.0);
        rig.wait_for(EventKind::PumpStarted, 600.0).unwrap();
        rig.drain(0.0);
        let (low, high) = rig.setting_psi();
        while rig.tee_psi() < 0.5 * (low + high) {
            rig.wait(0.2);
        }
        let whole = rig.value("pump_flow") / US_GPM;
        // A draw is named by its flow at 50 psi.
        let at_50 = (50.0 / (0.5 * (low + high))).sqrt();
        let [little, half, much] = [0.15, 0.5, 0.85].map(|s| starts(s * whole * at_50));
        assert!(
            half > little && half > much && little > 0 && much > 0,
            "{}: {little} {half} {much}",
            site.name
        );
    }
}

#[test]
fn a_steady_draw_is_used_and_not_leaked_and_ends_at_the_house_valve() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &["house.steady_draw"]);
        rig.wait(600.0);
        let totals = rig.plant.totals();
        assert!(totals.used_m3 > 0.0 && totals.leaked_m3 == 0.0);
        assert!(totals.lowest_house_pressure_pa.is_some());
        rig.house_valve(0.0);
        rig.wait(120.0);
        let starts = rig.plant.totals().pump_starts;
        rig.wait(3_600.0);
        assert_eq!(rig.plant.totals().pump_starts, starts, "{}", site.name);
    }
}

#[test]
fn a_heavy_draw_keeps_the_pump_from_cut_out_until_the_house_valve_is_shut() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &["house.heavy_draw"]);
        rig.wait(1_800.0);
        assert!(rig.is_running() && rig.plant.totals().pump_starts == 1);
        assert!(rig.tee_psi() < rig.setting_psi().1);
        rig.house_valve(0.0);
        let stop = rig.wait_for(EventKind::PumpStopped, 120.0);
        assert!(stop.is_some(), "{}: the pump is sound", site.name);
    }
}

#[test]
fn small_draws_come_by_the_clock_and_look_like_a_leak() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &["house.small_draws"]);
        // Twelve an hour of nine seconds each: the first ends with the first five minutes.
        rig.wait(290.9);
        assert_eq!(rig.bucket_l(), 0.0);
        rig.wait(9.2);
        let glass = rig.bucket_l();
        assert!((0.25..0.36).contains(&glass), "{}: {glass}", site.name);
        let start = rig.wait_for(EventKind::PumpStarted, 1e5).unwrap();
        // As many as empty the tank by Boyle's law, each between what it takes at
        // cut-out and at cut-in.
        let draws = (start.time_s / 300.0).ceil();
        let by_law = drawdown_l(&site) / (0.9 * glass);
        assert_near(draws, by_law, 0.1, &site.name);
        let mut shut = Rig::charged(&site, &["house.small_draws"]);
        shut.house_valve(0.0);
        shut.wait(8.0 * 3_600.0);
        assert!(!shut.has_seen(EventKind::PumpStarted), "{}", site.name);
    }
}

#[test]
fn small_draws_are_the_same_bits_in_one_call_or_in_many() {
    for site in sites() {
        let end = Tick(7_200 * Tick::PER_SECOND);
        let mut once = Rig::charged(&site, &["house.small_draws=40"]);
        once.plant.advance_to(end).unwrap();
        let mut often = Rig::charged(&site, &["house.small_draws=40"]);
        for tick in (0..=end.0).step_by(777) {
            often.plant.advance_to(Tick(tick)).unwrap();
        }
        often.plant.advance_to(end).unwrap();
        assert_eq!(once.plant.digest(), often.plant.digest(), "{}", site.name);
        // A saved plant goes on alike.
        let mut saved = Rig::charged(&site, &["house.small_draws=40"]);
        saved.plant.advance_to(Tick(end.0 / 3)).unwrap();
        let text = serde_json::to_string(&saved.plant.snapshot()).unwrap();
        let mut other = Rig::charged(&site, &["house.small_draws=40"]);
        other.plant.restore(serde_json::from_str(&text).unwrap());
        other.plant.advance_to(end).unwrap();
        assert_eq!(once.plant.digest(), other.plant.digest(), "{}", site.name);
    }
}

#[test]
fn an_outlet_too_high_is_weak_by_its_height_alone() {
    for site in sites() {
        let tap = highest(&site);
        let flow = |faults: &[&str]| {
            let mut rig = Rig::charged(&site, faults);
            rig.tap(&tap, 1.0);
            rig.tap_flow_l_per_min(20.0)
        };
        let heights = [
            "fixture.too_high=20",
            "fixture.too_high=12",
            "fixture.too_high",
        ];
        let [highest, higher, high] = heights.map(|f| flow(&[f]));
        assert_rising(&[highest, higher, high, flow(&[])], &site.name);
        // As high as the column that cut-out holds up nothing comes, and the gauge is none
        // the wiser.
        let fixtures = &site.house.fixtures;
        let now_m = fixtures
            .iter()
            .find(|f| f.name == tap)
            .unwrap()
            .elevation
            .si();
        let column_m = site.wall.pressure_switch.cut_out.si() / PSI / column_psi(1.0);
        let raised_m = site.wall.elevation.si() + column_m - now_m;
        let mut dry = Rig::charged(&site, &[&format!("fixture.too_high={raised_m}")]);
        dry.tap(&tap, 1.0);
        dry.wait(60.0);
        assert!(dry.bucket_l() < 0.1, "{}: {}", site.name, dry.bucket_l());
        assert_near(dry.tee_psi(), dry.setting_psi().1, 0.005, &site.name);
        // Other outlets give what they gave.
        let other = |faults: &[&str]| {
            let mut rig = Rig::charged(&site, faults);
            rig.tap(TAP, 1.0);
            rig.tap_flow_l_per_min(20.0)
        };
        assert_near(other(&["fixture.too_high"]), other(&[]), 1e-3, &site.name);
    }
}

#[test]
fn heated_water_lifts_the_gauge_above_cut_out_with_no_pump_running() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &["heater.expansion"]);
        rig.wait(3_600.0);
        assert!(!rig.has_seen(EventKind::PumpStarted));
        // Boyle's law with a litre less room for the air.
        let (atmosphere, cut_out) = (atmosphere_psi(&site), rig.setting_psi().1);
        let precharge = site.tank.precharge.si() / PSI + atmosphere;
        let gas = site.tank.shell_volume.si() / LITER * precharge / (cut_out + atmosphere);
        let by_law = (cut_out + atmosphere) * gas / (gas - 1.0) - atmosphere;
        assert_near(rig.tee_psi(), by_law, 0.005, &site.name);
        assert!(rig.gauge_psi() > cut_out + 0.5, "{}", site.name);
        assert!(
            rig.plant.totals().drawn_m3.abs() < 1e-9,
            "none from the pump"
        );
    }
}

#[test]
fn a_check_valve_held_open_leaves_hot_water_its_way_back() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &["heater.expansion", "check_valve.stuck_open"]);
        rig.breaker(false);
        rig.wait(3_600.0);
        assert!(rig.tee_psi() < rig.setting_psi().1, "{}", site.name);
    }
}

#[test]
fn hot_water_shut_in_rises_to_the_heaters_own_valve_and_no_further() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &["heater.expansion=5"]);
        rig.house_valve(0.0);
        rig.wait(3_600.0);
        let house = rig.value("house_pressure") / PSI;
        assert!((150.0..=165.1).contains(&house), "{}: {house}", site.name);
        assert_near(rig.tee_psi(), rig.setting_psi().1, 1e-3, &site.name);
        // A tap opened lets it off.
        rig.tap(TAP, 1.0);
        rig.wait(10.0);
        assert!(rig.value("house_pressure") / PSI < 5.0, "{}", site.name);
    }
}
