//! The standard examination: what an experienced technician does at a site.
//!
//! Each part begins from the arrival or from a state that a part before has come to, on a
//! copy of the visit, so that no part spoils another's evidence.  Waits and measurements
//! take their time on the visit's clock.  Pressures are in psi, flows in L/min, volumes in
//! liters, the rest in SI units.

use sim_core::faults::Fault;
use sim_core::plant::Start;
use sim_core::session::{Mode, Visit};

use super::exam::Exam;
use super::grounds::{Ground, scenario};
use super::hands::{Cut, Hands};
use super::{part_arrival, part_circuit, part_drained, part_gauge};

/// Works through the whole examination.
pub(super) fn examine(ground: &Ground, faults: &[Fault]) -> Exam {
    let names: Vec<&str> = faults.iter().map(|fault| fault.info().name).collect();
    let mut exam = Exam::new(format!("{} with [{}]", ground.site.name, names.join(", ")));
    let visit = Visit::begin(&scenario(ground, faults), 1, Mode::Practice)
        .unwrap_or_else(|error| panic!("{}: {error}", exam.title));
    let mut arrived = Hands { visit };
    let e = &mut exam;
    if ground.start != Start::Charged {
        let filled = part_gauge::first_start(e, &mut arrived, ground);
        e.excuse(
            part_gauge::FIRST,
            &filled.err().unwrap_or_else(|| "not asked".to_owned()),
        );
    }
    part(e, &arrived, part_gauge::IDLE, part_gauge::idle);
    part(e, &arrived, part_arrival::REST, part_arrival::at_rest);
    part(e, &arrived, part_gauge::PROOF, part_gauge::proof);
    part(e, &arrived, part_gauge::CYCLE, part_gauge::cycle);
    part(e, &arrived, part_gauge::BUILD, part_gauge::build);
    e.excuse(part_gauge::FALLS, "never built up");
    e.excuse(part_gauge::ADJUSTED, "never built up");
    e.excuse(part_gauge::SHUT, "never built up");
    part(e, &arrived, part_arrival::OUTLETS, |e, h| {
        part_arrival::outlets(e, h, ground)
    });
    part(e, &arrived, &[], |e, h| {
        part_arrival::wide_open(e, h, ground)
    });
    part(e, &arrived, part_circuit::RUNNING, |e, h| {
        part_circuit::running(e, h, ground)
    });
    part(e, &arrived, part_circuit::STARTING, part_circuit::starting);
    part(e, &arrived, part_drained::DRAINED, |e, h| {
        part_drained::drained(e, h, ground)
    });
    part(e, &arrived, &[], part_drained::pulled);
    exam
}

/// Does a part on a copy; what it could not come to gets the reason.
pub(super) fn part(
    exam: &mut Exam,
    from: &Hands,
    names: &[&str],
    work: impl FnOnce(&mut Exam, &mut Hands) -> Result<(), Cut>,
) {
    let mut hands = from.clone();
    let reason = work(exam, &mut hands)
        .err()
        .unwrap_or_else(|| "not asked".to_owned());
    exam.excuse(names, &reason);
}
