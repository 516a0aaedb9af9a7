//! What one solve of a pump's wiring costs.
//!
//! `cargo bench -p sim-core --bench wiring`; the plant's budget is 2 µs for 12 nodes.

#![allow(
    missing_docs,
    reason = "criterion_group makes an undocumented function"
)]

use core::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use sim_core::electric::{Complex, Element, Frequency, Network, NetworkBuilder, Solver};

/// Two legs from panel to motor, frame, spare wire and a meter: 14 nodes, of which the
/// reference and the two ideal mains are known, and 18 elements.
fn pump_circuit() -> Network {
    let mut circuit = NetworkBuilder::new("earth");
    let earth = circuit.reference();
    let ohms = |ohm| Element::Resistance { ohm };
    let mut ends = Vec::new();
    for (leg, volt) in [("1", 120.0), ("2", -120.0)] {
        let mut at = circuit.node(&format!("mains {leg}"));
        let source = Element::ideal_alternating(Complex::real(volt));
        circuit.place(&format!("source {leg}"), at, earth, source);
        for (place, ohm) in [("panel", 0.02), ("breaker", 0.003), ("switch", 0.01)] {
            let next = circuit.node(&format!("{place} {leg}"));
            circuit.place(&format!("to {place} {leg}"), at, next, ohms(ohm));
            at = next;
        }
        let lead = circuit.node(&format!("lead {leg}"));
        let wire = Element::SeriesRl {
            ohm: 0.48,
            henry: 36e-6,
        };
        circuit.place(&format!("wire {leg}"), at, lead, wire);
        ends.push(lead);
    }
    let (one, two) = (ends[0], ends[1]);
    let auxiliary = circuit.node("auxiliary");
    let frame = circuit.node("frame");
    let spare = circuit.node("spare");
    let coil = |ohm, henry| Element::SeriesRl { ohm, henry };
    circuit.place("main winding", one, two, coil(3.2, 0.042));
    circuit.place("auxiliary winding", one, auxiliary, coil(11.0, 0.16));
    circuit.place(
        "run capacitor",
        auxiliary,
        two,
        Element::Capacitance { farad: 25e-6 },
    );
    circuit.place("insulation 1", one, frame, ohms(2e8));
    circuit.place("insulation 2", two, frame, ohms(2e8));
    circuit.place("bond", frame, earth, ohms(0.3));
    circuit.place("beside", one, spare, Element::Capacitance { farad: 7.6e-9 });
    circuit.place("meter", spare, earth, ohms(1e7));
    circuit.build().expect("the circuit is sound")
}

fn solve(criterion: &mut Criterion) {
    let network = pump_circuit();
    let mut solver = Solver::new();
    let unknowns = network.n_nodes() - 3;
    criterion.bench_function(&format!("solve, {unknowns} unknown nodes"), |bencher| {
        bencher.iter(|| {
            let solution = solver.solve(black_box(&network), Frequency::SIXTY_HERTZ);
            solution.map(|s| s.voltage(network.reference())).ok()
        });
    });
}

criterion_group!(benches, solve);
criterion_main!(benches);
