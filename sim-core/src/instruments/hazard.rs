//! Whether a meter with a source of its own may be put on the circuit.
//!
//! Ohms, insulation and capacitance belong on a dead circuit.  Two rules, both by solve
//! with a loading of 3 kΩ so that a ghost harms nobody: 3 V between the probes spoil the
//! measurement and, with the supply behind them, the meter; 50 V from either probe to
//! earth are a shock hazard.  (50 V: parts from which live work rules begin; 3 V: training
//! value.)

use super::bench::Bench;
use super::reading::{Hazard, NoReading};
use crate::electric::{MeterInput, NodeId};

/// Voltage to earth from which parts count as live [V].
pub(super) const LIVE_V: f64 = 50.0;
/// Voltage between the probes from which a meter's own source is overrun [V].
const OVERRUN_V: f64 = 3.0;

/// Refuses a live circuit.
pub(super) fn refuse_live(
    bench: &Bench,
    red: NodeId,
    black: NodeId,
    harm_to_meter: &'static str,
) -> Result<(), NoReading> {
    let network = &bench.circuit().network;
    let earth = network.reference();
    let loaded = |a: NodeId, b: NodeId| {
        if a == b {
            return Ok(0.0);
        }
        let (between, _) = bench.solve_with(MeterInput::LowImpedanceVolts, a, b)?;
        Ok(between)
    };
    let between = loaded(red, black)?;
    let to_earth = loaded(red, earth)?.max(loaded(black, earth)?);
    if between < OVERRUN_V && to_earth < LIVE_V {
        return Ok(());
    }
    let is_shock = between.max(to_earth) >= LIVE_V;
    let overruns = between >= OVERRUN_V;
    Err(NoReading::UnsafeToMeasure {
        hazard: Hazard {
            volt: between.max(to_earth),
            what_happens: if overruns {
                "the supply would drive current through the meter's own source"
            } else {
                "the probes would stand on a live conductor for a test that belongs on a dead one"
            },
            to_person: is_shock.then_some("shock, and arc flash where the meter's fuse gives way"),
            to_meter: overruns.then_some(harm_to_meter),
        },
    })
}
