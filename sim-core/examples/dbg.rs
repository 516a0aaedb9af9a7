//! Scratch.
use sim_core::plant::*;
#[path = "../src/plant/tests_site.rs"]
mod tests_site;
fn main() {
    let site = tests_site::site();
    let mut plant = Plant::build(&site, &[], Start::Charged).unwrap();
    plant
        .apply(Command::SetFixture {
            fixture: 1,
            opening: 1.0,
        })
        .unwrap();
    plant.advance_to(Tick(25 * 50)).unwrap();
    plant
        .apply(Command::SetFixture {
            fixture: 1,
            opening: 0.0,
        })
        .unwrap();
    plant.advance_to(Tick(962 * 50)).unwrap();
    let e = plant.equations();
    let mut last = 0;
    for t in 962 * 50..962 * 50 + 20 {
        plant.advance_to(Tick(t)).unwrap();
        let y = plant.state_vector();
        let mut r = [0.0; STATE_LENGTH];
        e.rates(&y, &mut r);
        let s = e.error_scales(&y);
        println!(
            "{} steps {} h {}",
            plant.now().seconds(),
            plant.work().accepted - last,
            plant.snapshot().step_h()
        );
        last = plant.work().accepted;
        for i in [0, 1, 4, 5, 6] {
            print!("  {i}: {:.17e} r {:.3e} s {:.2e};", y[i], r[i], s[i]);
        }
        println!();
    }
}
