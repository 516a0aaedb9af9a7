//! The analytic Jacobian against central differences, in every mode that long runs reach.

use std::collections::BTreeSet;

use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;

use super::super::rosenbrock::Structure;
use super::*;
use crate::faults::Fault;
use crate::parts::{CheckValveSpec, FlowRating};
use crate::plant::{Command, Plant, Start, Tick};
use crate::site::SiteSpec;
use crate::units::{CubicMetersPerSecond, Pascals};

const COTTAGE: &str = include_str!("../../../../scenarios/sites/orchard-cottage.ron");
const FARM: &str = include_str!("../../../../scenarios/sites/hill-farm.ron");
const SHED: &str = include_str!("../../../../scenarios/sites/garden-shed.ron");

fn sites() -> Vec<SiteSpec> {
    let mut sites: Vec<SiteSpec> = [
        ("orchard-cottage.ron", COTTAGE),
        ("hill-farm.ron", FARM),
        ("garden-shed.ron", SHED),
    ]
    .map(|(name, text)| crate::site::parse(name, text).unwrap())
    .to_vec();
    let mut with_wall_check = sites[1].clone();
    with_wall_check.wall.check = Some(CheckValveSpec {
        cracking_pressure: Pascals(2_000.0),
        forward: FlowRating {
            flow: CubicMetersPerSecond(8e-4),
            drop: Pascals(4_000.0),
        },
    });
    // So small that the bladder meets its stop below cut-out.
    with_wall_check.tank.acceptance_volume.0 *= 0.3;
    sites.push(with_wall_check);
    sites
}

/// How a column of the Jacobian compares.
enum Verdict {
    Agrees,
    /// A kink lies within reach of the differences.
    AtKink,
    Differs(String),
}

fn compare(
    system: &PlantSystem<'_>,
    structure: &Structure<N_STATES>,
    y: &[f64; N_STATES],
) -> Verdict {
    let mut rates = [0.0; N_STATES];
    let mut jacobian = [[0.0; MAX_COUPLED]; N_STATES];
    system.linearize(y, &mut rates, &mut jacobian);
    let mut plain = [0.0; N_STATES];
    system.rates(y, &mut plain);
    let rows: Vec<usize> = structure
        .coupled
        .iter()
        .copied()
        .chain(structure.followers.iter().map(|f| f.index))
        .collect();
    let mut is_at_kink = false;
    for (lane, &k) in structure.coupled.iter().enumerate() {
        let at = |step: f64| {
            let mut moved = *y;
            moved[k] += step;
            let mut rates = [0.0; N_STATES];
            system.rates(&moved, &mut rates);
            rates
        };
        // Too long a difference bends, too short a one rounds: the best of three counts.
        let differences = [1e-7, 1e-6, 1e-5].map(|share| {
            let step = share * structure.typical[k];
            (step, at(step), at(-step))
        });
        for &i in &rows {
            assert_eq!(rates[i].to_bits(), plain[i].to_bits(), "rate {i}");
            let analytic = jacobian[i][lane];
            // A thousandth a second of what is typical, to a ten-thousandth, is the least
            // that could ever matter to a step.
            let least = 1e-3 * structure.typical[i] / structure.typical[k];
            let mut best = f64::INFINITY;
            let mut explained = false;
            for (step, up, down) in &differences {
                let central = (up[i] - down[i]) / (2.0 * step);
                let apart = (analytic - central).abs();
                let rounding = 1e-12 * (up[i].abs() + down[i].abs()) / step;
                best = best.min((apart - rounding) / (analytic.abs() + central.abs()).max(least));
                // Where the slope jumps within reach, the central difference lies between
                // the slopes on either side, at most half their difference from either.
                let jump = (up[i] - 2.0 * plain[i] + down[i]).abs() / step;
                explained |= apart < 0.6 * jump;
            }
            if best > 1e-4 && !explained {
                return Verdict::Differs(format!(
                    "d rate {i} / d {k}: {analytic:e}, {best:e} of it off"
                ));
            }
            is_at_kink |= best > 1e-4;
        }
    }
    if is_at_kink {
        Verdict::AtKink
    } else {
        Verdict::Agrees
    }
}

fn random_command(random: &mut ChaCha8Rng, n_fixtures: usize) -> Command {
    let opening = [0.0, 1.0, 0.3, 0.02][random.random_range(0..4)];
    match random.random_range(0..10) {
        0 => Command::SetDrain(opening),
        1 => Command::SetHouseValve(opening),
        2 => Command::SetTankValve(opening),
        3 => Command::SetBreaker(random.random_range(0..4) > 0),
        4 => Command::Prime,
        5 => Command::HoldLever(random.random_range(0..3) > 0),
        _ => Command::SetFixture {
            fixture: random.random_range(0..n_fixtures),
            opening,
        },
    }
}

/// Compares on every site from every start, with each of the faults, and gives back the
/// modes that were met.
fn compare_everywhere(faults: &[Option<&str>], seed: u64) -> BTreeSet<String> {
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    let (mut points, mut kinks) = (0, 0);
    let mut modes = BTreeSet::new();
    for site in sites() {
        for start in [Start::Dry, Start::Primed, Start::Charged] {
            for &fault in faults {
                let faults: Vec<Fault> = fault.iter().map(|f| Fault::parse(f).unwrap()).collect();
                let mut plant = Plant::build(&site, &faults, start).unwrap();
                plant.apply(Command::SetBreaker(true)).unwrap();
                for _ in 0..60 {
                    let n_fixtures = plant.controls().fixture_openings.len();
                    plant
                        .apply(random_command(&mut random, n_fixtures))
                        .unwrap();
                    let ticks = 1 << random.random_range(0..11);
                    plant.advance_to(Tick(plant.now().0 + ticks)).unwrap();
                    let (state, mut y) = (&plant.state, plant.state_now());
                    let structure = structure(&plant.model, &state.modes, &state.controls);
                    // Off the points of rest, where rates and slopes are nought together.
                    for &i in &structure.coupled {
                        y[i] += 1e-3 * structure.typical[i] * random.random_range(-1.0..1.0);
                    }
                    let system =
                        PlantSystem::new(&plant.model, state.modes, &state.controls, &structure);
                    points += 1;
                    let m = &state.modes;
                    modes.insert(format!(
                        "{:?} {:?} {:?} {:?}",
                        m.shaft, m.trunk, m.bladder, m.air
                    ));
                    match compare(&system, &structure, &y) {
                        Verdict::Agrees => {}
                        Verdict::AtKink => kinks += 1,
                        Verdict::Differs(what) => {
                            panic!("{} {start:?} {fault:?} {:?}: {what}", site.name, m)
                        }
                    }
                }
            }
        }
    }
    assert!(kinks * 50 < points, "{kinks} kinks at {points} points");
    modes
}

#[test]
fn the_jacobian_is_the_slope_of_the_rates_in_every_mode_reached() {
    let faults = [
        None,
        Some("check_valve.weeping=0.5"),
        Some("check_valve.stuck_open=0.3"),
        Some("run.leak=1"),
        Some("tank.torn_bladder=5"),
        Some("source.low=0.4"),
        Some("tank.lost_precharge=5"),
    ];
    let modes = compare_everywhere(&faults, 4);
    assert!(modes.len() >= 14, "only {modes:#?}");
    assert!(
        modes.iter().any(|m| m.contains("Full")),
        "no full bladder in {modes:#?}"
    );
}

#[test]
fn the_jacobian_holds_with_drag_draws_expansion_and_a_drip_at_the_tee() {
    compare_everywhere(
        &[
            Some("motor.bearing_drag"),
            Some("house.small_draws=120"),
            Some("heater.expansion=20"),
            Some("pressure_switch.leaking_diaphragm=1"),
        ],
        5,
    );
}
