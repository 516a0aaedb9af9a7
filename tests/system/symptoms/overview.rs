//! Water-side faults on the shipped cistern and well: what comes out is what the trade
//! knows, in kind and in order of size, from parameter changes alone.  The healthy twin is
//! the control; where there is a closed form (Boyle's law, a leak emptying the drawdown)
//! the number is checked against it and not against ourselves.

use sim_core::faults::Fault;
use sim_core::plant::{Command, EventKind, Plant, Start, Tick};
use sim_core::site::SiteSpec;
use sim_core::units::Seconds;
use sim_core::units::convert::{PSI, US_GPM};

use crate::support::sites;
use crate::support::story::channel;

/// The two sites; the well's low-pressure lever and ground-fault protection are left out,
/// so that the pump answers to pressure alone.
fn two_sites() -> [SiteSpec; 2] {
    ["orchard-cottage", "hill-farm"].map(|name| {
        let mut site = sites::shipped(name);
        if let Some(wiring) = &mut site.wiring {
            wiring.low_pressure_cut_off = None;
            wiring.ground_fault_trip = None;
            wiring.float_switch = None;
        }
        site
    })
}

fn at(seconds: f64) -> Tick {
    Tick::at_or_after(Seconds(seconds))
}

struct Rig(Plant);

impl Rig {
    fn new(site: &SiteSpec, faults: &[String], start: Start) -> Self {
        let faults: Vec<Fault> = faults.iter().map(|f| Fault::parse(f).unwrap()).collect();
        Self(Plant::build(site, &faults, start).unwrap())
    }

    fn charged(site: &SiteSpec, fault: &str) -> Self {
        let faults: Vec<String> = if fault.is_empty() {
            vec![]
        } else {
            vec![fault.to_owned()]
        };
        Self::new(site, &faults, Start::Charged)
    }

    fn set(&mut self, command: Command) -> &mut Self {
        self.0.apply(command).unwrap();
        self
    }

    fn wait(&mut self, seconds: f64) -> &mut Self {
        let tick = Tick(self.0.now().0 + at(seconds).0);
        self.0.advance_to(tick).unwrap();
        self
    }

    fn now(&self) -> f64 {
        self.0.now().seconds()
    }

    fn psi(&self) -> f64 {
        channel(&self.0, "tee_pressure") / PSI
    }

    fn read(&self, name: &str) -> f64 {
        channel(&self.0, name)
    }

    /// Waits for an event; its time, none when it does not come.
    fn until(&mut self, kind: EventKind, limit_s: f64) -> Option<f64> {
        let limit = Tick(self.0.now().0 + at(limit_s).0);
        self.0
            .advance_until(limit, |e| e.kind == kind)
            .unwrap()
            .map(|e| e.time_s)
    }

    /// Draws by the drain cock until the pump starts, shuts it, and lets the pump run to
    /// its stop; length of the run.
    fn one_run(&mut self) -> f64 {
        self.set(Command::SetDrain(0.3));
        let start = self
            .until(EventKind::PumpStarted, 3_600.0)
            .expect("the pump starts");
        self.set(Command::SetDrain(0.0));
        let stop = self
            .until(EventKind::PumpStopped, 3_600.0)
            .expect("the pump stops");
        stop - start
    }
}

/// Water that a tank gives between two gauge pressures by Boyle's law [m³].
fn boyle(site: &SiteSpec, high_pa: f64, low_pa: f64) -> f64 {
    let atmosphere = sim_core::air::atmosphere::standard_pressure_pa(site.altitude.si());
    let charge = (site.tank.precharge.si() + atmosphere) * site.tank.shell_volume.si();
    charge / (low_pa + atmosphere) - charge / (high_pa + atmosphere)
}

#[test]
fn a_healthy_tank_gives_what_boyle_says() {
    for site in two_sites() {
        let mut rig = Rig::charged(&site, "");
        let (low, high) = (site.wall.pressure_switch.cut_in.si(), rig.psi() * PSI);
        let before = rig.read("tank_water");
        // Slowly, so that the air keeps its temperature.
        rig.set(Command::SetDrain(0.01));
        rig.until(EventKind::PumpStarted, 40_000.0).unwrap();
        let given = before - rig.read("tank_water");
        let boyle = boyle(&site, high, low);
        assert!(
            (given / boyle - 1.0).abs() < 0.03,
            "{} {given} {boyle}",
            site.name
        );
    }
}

#[test]
fn the_gauge_sags_after_cut_out_and_holds_while_a_leak_keeps_falling() {
    for site in two_sites() {
        let watch = |fault: &str| {
            let mut rig = Rig::charged(&site, fault);
            rig.one_run();
            rig.wait(3.0);
            let start = rig.psi();
            let after = [60.0, 240.0, 600.0, 600.0].map(|s| rig.wait(s).psi());
            (start, after)
        };
        let (start, healthy) = watch("");
        let sag = start - healthy[1];
        assert!((0.5..8.0).contains(&sag), "{} {sag}", site.name);
        // A good part of it within the first minute, next to nothing after five.
        assert!(start - healthy[0] > 0.4 * sag, "{}", site.name);
        assert!(
            healthy[2] - healthy[3] < 0.02 && healthy[1] - healthy[2] < 0.1,
            "{healthy:?}"
        );
        let (_, leaking) = watch("house.leak=0.1");
        assert!(leaking[2] - leaking[3] > 1.0, "{} {leaking:?}", site.name);
    }
}

#[test]
fn a_leak_starts_the_pump_the_more_often_the_larger_it_is() {
    for site in two_sites() {
        let mut last = f64::INFINITY;
        for gpm in [0.02, 0.1, 0.5] {
            let mut rig = Rig::charged(&site, &format!("house.leak={gpm}"));
            let starts = rig.until(EventKind::PumpStarted, 40_000.0).unwrap();
            // The drawdown through a hole: between the flows at the two set points.
            let (cut_in, cut_out) = (
                site.wall.pressure_switch.cut_in.si(),
                site.wall.pressure_switch.cut_out.si(),
            );
            let water = boyle(&site, cut_out, cut_in);
            let flow = |pa: f64| gpm * US_GPM * (pa / (50.0 * PSI)).sqrt();
            let (soonest, latest) = (water / flow(cut_out), water / flow(cut_in));
            assert!(
                (0.95 * soonest..1.05 * latest).contains(&starts),
                "{} {gpm}: {starts} not in {soonest}..{latest}",
                site.name
            );
            assert!(starts < 0.5 * last, "{} {gpm}", site.name);
            last = starts;
        }
    }
}

#[test]
fn the_house_valve_stops_a_house_leak_but_not_a_leak_of_the_run() {
    for site in two_sites() {
        let fall = |fault: &str| {
            let mut rig = Rig::charged(&site, fault);
            rig.set(Command::SetHouseValve(0.0)).wait(10.0);
            let before = rig.psi();
            before - rig.wait(300.0).psi()
        };
        assert!(fall("house.leak=0.3").abs() < 0.01, "{}", site.name);
        assert!(fall("run.leak=0.3") > 2.0, "{}", site.name);
    }
}

#[test]
fn lost_precharge_shortens_runs_and_drawdown() {
    for site in two_sites() {
        let mut runs = vec![Rig::charged(&site, "").one_run()];
        for psi in [20.0, 0.0] {
            let set = site.tank.precharge.si() / PSI;
            if psi < set - 5.0 {
                runs.push(Rig::charged(&site, &format!("tank.lost_precharge={psi}")).one_run());
            }
        }
        assert!(runs.len() >= 3, "{} {runs:?}", site.name);
        assert!(
            runs.windows(2).all(|w| w[1] < 0.95 * w[0]),
            "{} {runs:?}",
            site.name
        );
    }
}

#[test]
fn precharge_above_cut_in_lets_the_pressure_collapse_before_the_pump_helps() {
    for site in two_sites() {
        let cut_in = site.wall.pressure_switch.cut_in.si() / PSI;
        let lowest = |fault: &str| {
            let mut rig = Rig::charged(&site, fault);
            rig.set(Command::SetDrain(1.0));
            rig.until(EventKind::PumpStarted, 3_600.0).unwrap();
            let mut lowest = rig.psi();
            for _ in 0..200 {
                lowest = lowest.min(rig.wait(0.02).psi());
            }
            lowest
        };
        let healthy = lowest("");
        let over = lowest(&format!("tank.excess_precharge={}", cut_in + 6.0));
        assert!(healthy > cut_in - 4.0, "{} {healthy}", site.name);
        // How far depends on how much the pipes themselves give: long plastic ones more.
        assert!(over < healthy - 3.0, "{} {over} {healthy}", site.name);
    }
}

#[test]
fn the_less_air_a_waterlogged_tank_has_the_faster_the_pump_cycles() {
    for site in two_sites() {
        let mut last = f64::INFINITY;
        for liters in [10.0, 2.0, 0.5, 0.1] {
            let mut rig = Rig::charged(&site, &format!("tank.torn_bladder={liters}"));
            rig.set(Command::SetDrain(0.4)).wait(60.0);
            let starts = rig.0.totals().pump_starts;
            rig.wait(120.0);
            let period = 120.0 / (rig.0.totals().pump_starts - starts).max(1) as f64;
            assert!(
                period < 0.9 * last,
                "{} {liters} L: {period} after {last}",
                site.name
            );
            last = period;
        }
        assert!(last < 6.0, "{} {last}", site.name);
    }
}

#[test]
fn a_check_valve_that_lets_back_lowers_the_pressure_without_use() {
    for site in two_sites() {
        let mut times = Vec::new();
        for fault in [
            "check_valve.stuck_open",
            "check_valve.stuck_open=0.03",
            "check_valve.weeping=0.3",
        ] {
            let mut rig = Rig::charged(&site, fault);
            rig.set(Command::SetHouseValve(0.0));
            times.push(rig.until(EventKind::PumpStarted, 40_000.0).unwrap());
        }
        assert!(
            times.windows(2).all(|w| w[1] > 1.3 * w[0]),
            "{} {times:?}",
            site.name
        );
        assert!(times[0] < 120.0, "{} {times:?}", site.name);
        let mut healthy = Rig::charged(&site, "");
        healthy.set(Command::SetHouseValve(0.0));
        assert_eq!(
            healthy.until(EventKind::PumpStarted, 40_000.0),
            None,
            "{}",
            site.name
        );
        // With the power off nothing stops the fall.
        let mut off = Rig::charged(&site, "check_valve.stuck_open");
        off.set(Command::SetBreaker(false)).wait(900.0);
        assert!(off.psi() < 2.0, "{} {}", site.name, off.psi());
    }
}

#[test]
fn a_check_valve_that_does_not_lift_lets_the_pump_turn_for_nothing() {
    for site in two_sites() {
        let mut rig = Rig::new(&site, &["check_valve.stuck_shut".into()], Start::Primed);
        rig.set(Command::SetBreaker(true)).wait(60.0);
        let mut healthy = Rig::new(&site, &[], Start::Primed);
        healthy.set(Command::SetBreaker(true)).wait(3.0);
        assert!(rig.psi() < 0.5, "{} {}", site.name, rig.psi());
        assert!(rig.read("shaft_speed") > healthy.read("shaft_speed"));
        assert!(rig.read("shaft_power") < 0.8 * healthy.read("shaft_power"));
    }
}

#[test]
fn a_plugged_port_widens_the_swing_and_the_gauge_disagrees_with_the_switch() {
    for site in two_sites() {
        let mut last = 0.0;
        for lag in [0.05, 1.0, 5.0, 20.0] {
            let mut rig = Rig::charged(&site, &format!("pressure_switch.plugged_port={lag}"));
            // A steady draw that the pump can keep up with.
            rig.set(Command::SetDrain(0.25));
            rig.until(EventKind::PumpStopped, 3_600.0).unwrap();
            let (mut low, mut high, mut apart) = (f64::INFINITY, 0.0_f64, 0.0_f64);
            for _ in 0..8_000 {
                let psi = rig.wait(0.1).psi();
                low = low.min(psi);
                high = high.max(psi);
                apart = apart.max((rig.read("switch_pressure") / PSI - psi).abs());
            }
            let swing = high - low;
            assert!(swing > 1.005 * last, "{} {lag} s: {low}..{high}", site.name);
            last = swing;
            if lag >= 5.0 {
                assert!(apart > 1.0, "{} {lag} s: {apart}", site.name);
                assert!(high > site.wall.pressure_switch.cut_out.si() / PSI + 1.0);
            }
        }
    }
}

#[test]
fn an_air_locked_pump_turns_light_and_moves_nothing_until_the_column_is_let_off() {
    for site in two_sites() {
        let mut rig = Rig::charged(&site, "pump.air_lock");
        rig.set(Command::SetDrain(0.5));
        rig.until(EventKind::PumpStarted, 3_600.0).unwrap();
        rig.set(Command::SetDrain(0.0)).wait(60.0);
        let mut healthy = Rig::charged(&site, "");
        healthy.set(Command::SetDrain(0.5));
        healthy.until(EventKind::PumpStarted, 3_600.0).unwrap();
        healthy.wait(3.0);
        assert!(rig.read("pump_flow").abs() < 1e-6, "{}", site.name);
        assert!(rig.0.is_powered(), "{}", site.name);
        let power = rig.read("shaft_power") / healthy.read("shaft_power");
        assert!(power < 0.75, "{} {power}", site.name);
    }
}

#[test]
fn a_clogged_screen_lengthens_the_run_and_at_last_the_pump_never_gets_there() {
    for site in two_sites() {
        let healthy = Rig::charged(&site, "").one_run();
        let mut last = healthy;
        for share in [0.9, 0.95] {
            let mut rig = Rig::charged(&site, &format!("intake.clogged_screen={share}"));
            let run = rig.one_run();
            assert!(run > last, "{} {share}: {run} after {last}", site.name);
            last = run;
        }
        let mut rig = Rig::charged(&site, "intake.clogged_screen=0.999");
        rig.set(Command::SetDrain(0.3));
        rig.until(EventKind::PumpStarted, 3_600.0).unwrap();
        rig.set(Command::SetDrain(0.0));
        let stop = rig.until(EventKind::PumpStopped, 1_200.0);
        assert_eq!(stop, None, "{}", site.name);
        let flow = rig.read("pump_flow");
        assert!(flow < 3e-4, "{} {flow}", site.name);
    }
}

#[test]
fn a_beached_intake_draws_air_and_loses_its_prime() {
    let [site, _] = two_sites();
    let mut rig = Rig::charged(&site, "source.low=0.21");
    rig.set(Command::SetDrain(1.0));
    rig.until(EventKind::AirEntering, 3_600.0).unwrap();
    rig.wait(600.0);
    assert!(rig.read("bowl_air") > 0.05);
    assert!(rig.read("pump_flow") < 1e-5);
    assert!(rig.0.is_powered());
}

#[test]
fn a_dry_system_fills_in_the_order_that_a_technician_hears() {
    for site in two_sites() {
        let mut rig = Rig::new(&site, &[], Start::Dry);
        rig.set(Command::SetDrain(1.0))
            .set(Command::SetBreaker(true))
            .wait(5.0);
        assert!(rig.read("air_out") > 1e-4, "{} hisses", site.name);
        assert!(rig.psi() < 3.0, "{} {}", site.name, rig.psi());
        assert!(rig.read("drain_flow") < 1e-7, "{}", site.name);
        let arrived = rig.until(EventKind::WaterArrived, 3_600.0).unwrap();
        let solid = rig.until(EventKind::LineSolid, 600.0).unwrap();
        assert!(solid > arrived, "{} spits between", site.name);
        rig.wait(5.0);
        assert!(rig.read("drain_flow") > 1e-5, "{}", site.name);
        rig.set(Command::SetDrain(0.0));
        let stop = rig.until(EventKind::PumpStopped, 3_600.0).unwrap();
        assert!(stop > solid, "{}", site.name);
    }
}

#[test]
fn with_everything_shut_the_gauge_rises_on_air_before_any_water_arrives() {
    for site in two_sites() {
        let mut rig = Rig::new(&site, &[], Start::Dry);
        rig.set(Command::SetTankValve(0.0))
            .set(Command::SetBreaker(true));
        let mut seen = 0.0_f64;
        for _ in 0..600 {
            rig.wait(0.5);
            if rig.read("front") < 0.95 {
                seen = seen.max(rig.psi());
            }
        }
        assert!(seen > 10.0, "{} {seen}", site.name);
    }
}

#[test]
fn the_relief_valve_holds_what_the_switch_does_not() {
    for site in two_sites() {
        let relief = site.wall.relief_valve.unwrap().set_pressure.si() / PSI;
        let mut rig = Rig::charged(&site, "pressure_switch.welded_contacts");
        rig.set(Command::SetDrain(0.5));
        rig.until(EventKind::PumpStarted, 3_600.0);
        rig.set(Command::SetDrain(0.0)).wait(900.0);
        assert!(rig.psi() < 1.11 * relief, "{} {}", site.name, rig.psi());
    }
}

#[test]
fn a_cut_out_above_shut_off_is_never_reached() {
    for site in two_sites() {
        let mut rig = Rig::charged(&site, "");
        rig.set(Command::AdjustSwitch {
            cut_in: site.wall.pressure_switch.cut_in,
            cut_out: sim_core::units::Pascals(150.0 * PSI),
        });
        rig.set(Command::SetDrain(0.5));
        rig.until(EventKind::PumpStarted, 3_600.0).unwrap();
        rig.set(Command::SetDrain(0.0));
        assert_eq!(
            rig.until(EventKind::PumpStopped, 3_600.0),
            None,
            "{}",
            site.name
        );
        let flow = rig.read("pump_flow");
        let start = rig.psi();
        assert!(
            (rig.wait(600.0).psi() - start).abs() < 0.5,
            "{} {flow}",
            site.name
        );
    }
}

#[test]
fn a_well_draws_down_while_pumped_and_recovers() {
    let [_, site] = two_sites();
    let mut rig = Rig::charged(&site, "");
    let rest = rig.read("source_level");
    rig.set(Command::SetDrain(1.0)).wait(1_800.0);
    let pumped = rig.read("source_level");
    rig.set(Command::SetDrain(0.0)).wait(7_200.0);
    let recovered = rig.read("source_level");
    assert!(pumped < rest - 0.5, "{rest} {pumped}");
    assert!((recovered - rest).abs() < 0.02, "{rest} {recovered}");
}

#[test]
fn altitude_works_through_absolute_pressure() {
    // Boyle with the local atmosphere: at the same gauge settings thin air gives more.
    for mut site in two_sites() {
        let given = |site: &SiteSpec| {
            let mut rig = Rig::charged(site, "");
            let before = rig.read("tank_water");
            rig.set(Command::SetDrain(0.01));
            rig.until(EventKind::PumpStarted, 40_000.0).unwrap();
            before - rig.read("tank_water")
        };
        site.altitude = sim_core::units::Meters(0.0);
        let sea = given(&site);
        let expected_sea = boyle_between(&site);
        site.altitude = sim_core::units::Meters(2_500.0);
        let high = given(&site);
        let expected_high = boyle_between(&site);
        let ratio = (high / sea) / (expected_high / expected_sea);
        assert!((ratio - 1.0).abs() < 0.01, "{} {ratio}", site.name);
        assert!(
            (expected_high / expected_sea - 1.0).abs() > 0.01,
            "{}",
            site.name
        );
    }
}

fn boyle_between(site: &SiteSpec) -> f64 {
    let switch = &site.wall.pressure_switch;
    boyle(site, switch.cut_out.si(), switch.cut_in.si())
}

/// Fault × observable on both sites, for people.
#[test]
fn the_table_of_symptoms_is_as_it_was() {
    let mut table = String::from(
        "site             fault                                first start  run    top   bottom  starts/h  shaft\n\
         \x20                                                     s, no draw   s      psi   psi     2 L/min   W\n",
    );
    for site in two_sites() {
        for fault in [
            "",
            "house.leak=0.5",
            "run.leak=0.5",
            "check_valve.weeping=0.3",
            "check_valve.stuck_open",
            "tank.lost_precharge=10",
            "tank.torn_bladder=2",
            "pressure_switch.plugged_port=5",
            "intake.clogged_screen=0.9",
        ] {
            let first = Rig::charged(&site, fault)
                .until(EventKind::PumpStarted, 7_200.0)
                .map_or_else(|| "-".to_owned(), |s| format!("{s:.0}"));
            let mut rig = Rig::charged(&site, fault);
            let run = rig.one_run();
            let mut steady = Rig::charged(&site, fault);
            steady.set(Command::SetDrain(0.1));
            let (mut top, mut bottom, mut watts) = (0.0_f64, f64::INFINITY, 0.0_f64);
            for _ in 0..7_200 {
                let psi = steady.wait(0.5).psi();
                top = top.max(psi);
                bottom = bottom.min(psi);
                watts = watts.max(steady.read("shaft_power"));
            }
            table += &format!(
                "{:<16} {:<36} {first:>11} {run:>5.1} {top:>6.1} {bottom:>7.1} {:>9} {watts:>6.0}\n",
                site.name,
                if fault.is_empty() { "healthy" } else { fault },
                steady.0.totals().pump_starts,
            );
            assert!(steady.now() > 3_599.0);
        }
    }
    insta::assert_snapshot!("symptoms", table);
}
