//! Scratch.
use sim_core::plant::*;
#[path = "../src/plant/tests_site.rs"]
mod tests_site;
fn run(tol: f64) -> (u64, f64, f64, f64, f64, u64, u64) {
    let site = tests_site::site();
    let mut plant = Plant::build(&site, &[], Start::Charged)
        .unwrap()
        .with_tolerance(tol);
    let t = std::time::Instant::now();
    let mut x: u64 = 12345;
    let mut tick = 0u64;
    let draws = 60;
    let gap = 86400 * 50 / draws;
    for _ in 0..180 {
        x = x
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        let r = (x >> 33) as f64 / (1u64 << 31) as f64;
        let start = tick + (r * 0.5 * gap as f64) as u64;
        let dur = ((20.0 + 80.0 * r) * 50.0) as u64;
        plant.advance_to(Tick(start)).unwrap();
        plant
            .apply(Command::SetFixture {
                fixture: 1,
                opening: 1.0,
            })
            .unwrap();
        plant.advance_to(Tick(start + dur)).unwrap();
        plant
            .apply(Command::SetFixture {
                fixture: 1,
                opening: 0.0,
            })
            .unwrap();
        tick += gap;
    }
    let el = t.elapsed().as_secs_f64();
    let t = plant.totals();
    (
        t.pump_starts,
        t.pump_run_s,
        t.drawn_m3,
        t.shaft_energy_j,
        el * 1e3,
        plant.work().accepted,
        plant.work().rejected,
    )
}
fn main() {
    let r = run(1e-8);
    println!("{:?}", r);
    for tol in [1e-3, 3e-4, 1e-4, 3e-5, 1e-5, 1e-6] {
        let a = run(tol);
        println!(
            "{tol:e}: starts {} vs {}, run {:.1e} drawn {:.1e} energy {:.1e}  {:.1} ms steps {} {}",
            a.0,
            r.0,
            a.1 / r.1 - 1.0,
            a.2 / r.2 - 1.0,
            a.3 / r.3 - 1.0,
            a.4,
            a.5,
            a.6
        );
    }
}
