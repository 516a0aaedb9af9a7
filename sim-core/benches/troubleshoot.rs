//! How long the troubleshooter takes, one thread.
//!
//! `cargo bench -p sim-core --bench troubleshoot` prints for a scenario of each site: thinking
//! of all twins and living through the time before with each; the first advice, after the
//! gauge was read and one has looked and listened; the next one after another look, with
//! what was worked out at hand.  What to aim for: 100 ms for the first advice, 5 ms after.

#![allow(
    clippy::print_stdout,
    clippy::disallowed_types,
    clippy::disallowed_methods,
    reason = "a benchmark reads a clock and prints"
)]

use std::sync::Arc;
use std::time::Instant;

use sim_core::scenario::Scenario;
use sim_core::session::{Action, Mode, Visit};
use sim_core::troubleshoot::{PublicCase, Troubleshooter};

fn main() {
    println!("scenario          twins   new [ms]  first advice [ms]  next [ms]");
    for name in ["night-starts", "soft-tank", "half-power", "restless-shed"] {
        let scenario = Arc::new(Scenario::shipped(name).expect("a shipped scenario"));
        let mut visit = Visit::begin(&scenario, 1, Mode::Graded).expect("a site to visit");
        let begun = Instant::now();
        let case = PublicCase::of(&scenario);
        let mut mind = Troubleshooter::new(&case).expect("twins of a shipped site");
        let new = begun.elapsed();
        let see = |visit: &mut Visit, mind: &mut Troubleshooter, action: &Action| {
            let outcome = visit.perform(action).expect("can be done at once");
            mind.observe(action, &outcome);
        };
        for action in [Action::ReadGauge, Action::Look { at: None }, Action::Listen] {
            see(&mut visit, &mut mind, &action);
        }
        let begun = Instant::now();
        let _ = mind.next_best(1);
        let first = begun.elapsed();
        see(&mut visit, &mut mind, &Action::KnockTank);
        let begun = Instant::now();
        let _ = mind.next_best(1);
        let next = begun.elapsed();
        println!(
            "{name:16} {:6} {:10.1} {:18.1} {:10.2}",
            mind.hypotheses().len(),
            1e3 * new.as_secs_f64(),
            1e3 * first.as_secs_f64(),
            1e3 * next.as_secs_f64(),
        );
    }
}
