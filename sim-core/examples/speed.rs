//! Scratch.
use sim_core::plant::*;
#[path = "../src/plant/tests_site.rs"]
mod tests_site;
fn main() {
    for draws in [15u64, 60, 240, 960] {
        let site = tests_site::site();
        let mut plant = Plant::build(&site, &[], Start::Charged).unwrap();
        let t = std::time::Instant::now();
        let mut x: u64 = 12345;
        let mut tick = 0u64;
        let days = 30;
        let total = draws * days;
        let gap = 86400 * 50 / draws;
        for _ in 0..total {
            x = x
                .wrapping_mul(6364136223846793005)
                .wrapping_add(1442695040888963407);
            let r = (x >> 33) as f64 / (1u64 << 31) as f64;
            let start = tick + (r * 0.5 * gap as f64) as u64;
            let dur = ((20.0 + 80.0 * r) * 50.0) as u64;
            let dur = dur.min(gap / 3);
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
        let w = plant.work();
        println!(
            "{draws}/day: {:.1} ms, {} acc {} rej, {:.0} ns/step, per draw {:.1} steps, starts {} run {:.1}",
            el * 1e3,
            w.accepted,
            w.rejected,
            el * 1e9 / (w.accepted + w.rejected) as f64,
            (w.accepted + w.rejected) as f64 / total as f64,
            plant.totals().pump_starts,
            plant.totals().pump_run_s
        );
    }
}
