//! How far each quantity of a small water system may reasonably go.
//!
//! The bounds keep slips out (a metre for a foot's worth of millimetres, a minus
//! too many), not unusual sites: they are wide, and a faulty setting inside them
//! is a site like any other.  All are training values without a source; SI units.

use crate::file::range::Range;

/// 0 °C [K].
const FREEZING: f64 = 273.15;

pub(super) const ALTITUDE: Range = Range::new(-450.0, 5000.0);
/// Liquid, and no hotter than a tank in the sun.
pub(super) const WATER_TEMPERATURE: Range = Range::new(FREEZING, FREEZING + 60.0);
pub(super) const AIR_TEMPERATURE: Range = Range::new(FREEZING - 40.0, FREEZING + 60.0);

pub(super) const CISTERN_SIDE: Range = Range::new(0.3, 50.0);
pub(super) const CISTERN_FLOOR_DEPTH: Range = Range::new(0.0, 20.0);
pub(super) const CISTERN_FLOOR_HEIGHT: Range = Range::new(0.0, 50.0);
pub(super) const WATER_DEPTH: Range = Range::new(0.0, 50.0);
pub(super) const REFILL: Range = Range::new(0.0, 0.01);
pub(super) const STATIC_LEVEL_DEPTH: Range = Range::new(0.0, 400.0);
pub(super) const WELL_DEPTH: Range = Range::new(1.0, 500.0);
pub(super) const CASING_DIAMETER: Range = Range::new(0.04, 2.0);
pub(super) const SPECIFIC_CAPACITY: Range = Range::new(1.0e-7, 0.1);

pub(super) const BELOW_SURFACE: Range = Range::new(0.01, 5.0);
pub(super) const ABOVE_FLOOR: Range = Range::new(0.0, 100.0);
pub(super) const VORTEX_FREE: Range = Range::new(0.001, 2.0);
pub(super) const DEPTH: Range = Range::new(0.0, 500.0);
pub(super) const HEIGHT: Range = Range::new(0.0, 50.0);

pub(super) const PUMP_SPEED: Range = Range::new(50.0, 1600.0);
pub(super) const PUMP_FLOW: Range = Range::new(0.0, 0.05);
pub(super) const PUMP_HEAD: Range = Range::new(0.0, 600.0);
pub(super) const PUMP_POWER: Range = Range::new(1.0, 30_000.0);
pub(super) const PUMP_NPSH: Range = Range::new(0.0, 15.0);
pub(super) const BOWL_VOLUME: Range = Range::new(1.0e-6, 0.1);
pub(super) const ROTOR_INERTIA: Range = Range::new(1.0e-6, 1.0);
pub(super) const VENT_TIME: Range = Range::new(0.1, 86_400.0);

pub(super) const MOTOR_POWER: Range = Range::new(20.0, 30_000.0);
pub(super) const VOLTAGE: Range = Range::new(10.0, 1000.0);
pub(super) const FREQUENCY: Range = Range::new(40.0, 70.0);
pub(super) const POLES: Range = Range::new(2.0, 8.0);
pub(super) const BREAKDOWN_RATIO: Range = Range::new(1.05, 6.0);

pub(super) const CRACKING_PRESSURE: Range = Range::new(0.0, 1.0e5);

pub(super) const PIPE_LENGTH: Range = Range::new(0.01, 5000.0);
pub(super) const PIPE_RISE: Range = Range::new(-600.0, 600.0);
pub(super) const PIPE_INSIDE: Range = Range::new(0.003, 0.5);
pub(super) const PIPE_WALL: Range = Range::new(1.0e-4, 0.05);
pub(super) const PIPE_ROUGHNESS: Range = Range::new(0.0, 0.005);
pub(super) const PIPE_MODULUS: Range = Range::new(1.0e6, 4.0e11);
pub(super) const FITTINGS_K: Range = Range::new(0.0, 2000.0);

pub(super) const WALL_HEIGHT: Range = Range::new(-50.0, 300.0);
pub(super) const MANIFOLD_VOLUME: Range = Range::new(1.0e-5, 0.1);
pub(super) const SWITCH_PRESSURE: Range = Range::new(5.0e3, 2.0e6);
pub(super) const PORT_LAG: Range = Range::new(0.001, 3600.0);
pub(super) const CONTACT_DELAY: Range = Range::new(0.0, 5.0);
pub(super) const GAUGE_FULL_SCALE: Range = Range::new(2.0e4, 1.0e7);
pub(super) const GAUGE_LAG: Range = Range::new(0.0, 600.0);
pub(super) const GAUGE_STICTION: Range = Range::new(0.0, 3.0e5);
pub(super) const GAUGE_OFFSET: Range = Range::new(-5.0e5, 5.0e5);
pub(super) const RELIEF_SET: Range = Range::new(2.0e4, 3.0e6);

pub(super) const TANK_VOLUME: Range = Range::new(2.0e-4, 10.0);
pub(super) const PRECHARGE: Range = Range::new(0.0, 2.0e6);
pub(super) const TANK_RATED: Range = Range::new(5.0e4, 3.0e6);
pub(super) const GAS_TIME: Range = Range::new(0.1, 36_000.0);

pub(super) const FIXTURE_LIMIT: Range = Range::new(1.0e-7, 0.01);
pub(super) const FIXTURE_HEIGHT: Range = Range::new(-50.0, 300.0);

pub(super) const SOURCE_OHMS: Range = Range::new(0.001, 5.0);
pub(super) const BREAKER: Range = Range::new(1.0, 125.0);
pub(super) const GROUND_FAULT: Range = Range::new(0.003, 1.0);
pub(super) const CABLE_LENGTH: Range = Range::new(0.1, 1000.0);

/// Most lengths of pipe in a run.
pub(super) const MAX_RUN: usize = 32;
/// Most points of a pump curve.
pub(super) const MAX_CURVE_POINTS: usize = 24;
/// Most outlets of a house.
pub(super) const MAX_FIXTURES: usize = 40;
/// Most sorts of fitting along one length of pipe.
pub(super) const MAX_FITTINGS: usize = 20;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::quantity::{UNITS, parse_quantity};
    use crate::file::range::RATING_FLOW;

    #[test]
    fn bounds_that_are_shown_are_accepted() {
        let ranges = [
            ALTITUDE,
            WATER_TEMPERATURE,
            SWITCH_PRESSURE,
            PIPE_LENGTH,
            PUMP_POWER,
            RATING_FLOW,
            ROTOR_INERTIA,
            PORT_LAG,
        ];
        for range in ranges {
            for unit in UNITS {
                let shown = range.show(unit);
                let (least, most) = shown.split_once(" to ").unwrap();
                for bound in [least, most] {
                    let si = parse_quantity(bound, unit.dimension).unwrap().si;
                    assert!(range.holds(si), "{bound} of {shown}");
                }
            }
        }
    }
}
