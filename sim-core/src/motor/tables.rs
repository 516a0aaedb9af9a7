//! One motor behind one source in one condition, as smooth tables over speed: what the
//! plant's inner loop looks up.
//!
//! Knots lie at slips s = c·u/(1 + c − u), u even from 0 to 1: close together near
//! synchronous speed, where torque changes fastest.  Values and slopes at the knots are
//! exact (the circuit over dual numbers), between them a cubic; measured error below 10⁻⁴
//! of each table's largest value.  Beyond either end the tables go on straight.

use super::{Circuit, Complex, Thevenin};
use crate::math::{Dual, MonotoneTable, Scalar};

/// Cells of a table.
const CELLS: usize = 80;
/// How strongly the knots crowd toward synchronous speed: the first cell is c/(1+c) of an
/// even one.
const CROWDING: f64 = 0.2;

type OneSlope = Dual<1>;

/// Tables over speed [rad/s], standstill to synchronous.
#[derive(Debug, Clone, PartialEq)]
pub struct MotorTables {
    /// Torque at the shaft, after friction [N·m].
    pub shaft_torque_nm: MonotoneTable,
    /// Power out of the source's open-circuit voltage: motor and wiring [W].
    pub supply_w: MonotoneTable,
    /// Power at the motor's terminals [W].
    pub motor_w: MonotoneTable,
    /// Line current, RMS [A].
    pub line_a: MonotoneTable,
    /// Voltage at the motor's terminals, RMS [V].
    pub motor_v: MonotoneTable,
    /// Heat in the stator's copper [W].
    pub stator_copper_w: MonotoneTable,
}

/// Points and slopes of one table on their way.
struct Column {
    y: Vec<f64>,
    slope: Vec<f64>,
}

impl Column {
    fn new() -> Self {
        Self {
            y: Vec::with_capacity(CELLS + 1),
            slope: Vec::with_capacity(CELLS + 1),
        }
    }

    fn push(&mut self, point: OneSlope) {
        self.y.push(point.v);
        self.slope.push(point.d[0]);
    }

    fn over(self, x: &[f64]) -> MonotoneTable {
        MonotoneTable::with_slopes(x.to_vec(), self.y, self.slope)
    }
}

impl MotorTables {
    /// Solves the circuit behind the source at every knot.
    #[must_use]
    pub fn new(circuit: &Circuit, source: &Thevenin) -> Self {
        let speeds = speeds_rad_per_s(circuit.synchronous_rad_per_s);
        let mut columns: [Column; 6] = core::array::from_fn(|_| Column::new());
        for &speed in &speeds {
            for (column, point) in columns.iter_mut().zip(solved(circuit, source, speed)) {
                column.push(point);
            }
        }
        let [torque, supply, motor, line, volts, copper] = columns;
        Self {
            shaft_torque_nm: torque.over(&speeds),
            supply_w: supply.over(&speeds),
            motor_w: motor.over(&speeds),
            line_a: line.over(&speeds),
            motor_v: volts.over(&speeds),
            stator_copper_w: copper.over(&speeds),
        }
    }
}

fn speeds_rad_per_s(synchronous: f64) -> Vec<f64> {
    (0..=CELLS)
        .rev()
        .map(|i| {
            let u = i as f64 / CELLS as f64;
            synchronous * (1.0 - CROWDING * u / (1.0 + CROWDING - u))
        })
        .collect()
}

fn solved(circuit: &Circuit, source: &Thevenin, speed_rad_per_s: f64) -> [OneSlope; 6] {
    let speed = OneSlope::variable(speed_rad_per_s, 0);
    let unit = circuit.per_volt(speed);
    let one = Complex::constant(Complex::ONE);
    let open_v: Complex<OneSlope> = Complex::constant(source.open_v);
    let terminal_v = open_v * (one + Complex::constant(source.ohm) * unit.line).inverse();
    let v2 = terminal_v.norm_squared();
    let line_a = unit.line * terminal_v;
    [
        unit.torque_nm() * v2 - circuit.drag_torque_nm(speed),
        (open_v * line_a.conj()).re,
        unit.line.re * v2,
        magnitude(line_a),
        magnitude(terminal_v),
        unit.stator_copper_w() * v2,
    ]
}

/// Magnitude with its slope; nothing stays nothing.
fn magnitude(z: Complex<OneSlope>) -> OneSlope {
    if z.norm_squared().v > 0.0 {
        z.magnitude()
    } else {
        OneSlope::constant(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{StartSwitch, WindingState, sets};
    use super::*;

    #[test]
    fn tables_agree_with_the_circuit_to_a_ten_thousandth() {
        for (_, motor) in sets::ALL {
            for switch in [StartSwitch::Closed, StartSwitch::Open] {
                for ohm in [0.0, 0.05, 3.0] {
                    let circuit = motor.circuit(&motor.condition(switch, 60.0));
                    let source = Thevenin {
                        open_v: Complex::new(motor.rated_voltage_v, 0.0),
                        ohm: Complex::new(ohm, 0.3 * ohm),
                    };
                    compare(&circuit, &source);
                }
            }
        }
    }

    fn compare(circuit: &Circuit, source: &Thevenin) {
        let tables = MotorTables::new(circuit, source);
        let mut largest = [0.0f64; 6];
        let mut error = [0.0f64; 6];
        for i in 0..=2_000 {
            let speed = circuit.synchronous_rad_per_s * f64::from(i) / 2_000.0;
            let v = circuit.port(speed).terminal_v(source);
            let point = circuit.at(speed, v);
            let direct = [
                point.shaft_torque_nm,
                (source.open_v * point.line_a.conj()).re,
                point.input_w,
                point.line_a.magnitude(),
                v.magnitude(),
                point.losses.stator_copper_w(),
            ];
            let looked_up = [
                tables.shaft_torque_nm.at(speed),
                tables.supply_w.at(speed),
                tables.motor_w.at(speed),
                tables.line_a.at(speed),
                tables.motor_v.at(speed),
                tables.stator_copper_w.at(speed),
            ];
            for k in 0..6 {
                largest[k] = largest[k].max(direct[k].abs());
                error[k] = error[k].max((direct[k] - looked_up[k]).abs());
            }
        }
        for k in 0..6 {
            assert!(
                error[k] <= 1e-4 * largest[k],
                "table {k}: {} of {}",
                error[k],
                largest[k]
            );
        }
    }

    #[test]
    fn a_motor_with_no_path_draws_nothing() {
        let motor = sets::TWO_WIRE_055_KW;
        let mut condition = motor.condition(StartSwitch::Open, 25.0);
        condition.faults.main = WindingState::Open;
        let source = Thevenin {
            open_v: Complex::new(230.0, 0.0),
            ohm: Complex::new(0.3, 0.1),
        };
        let tables = MotorTables::new(&motor.circuit(&condition), &source);
        assert_eq!(tables.line_a.at(100.0), 0.0);
        assert_eq!(tables.motor_v.at(100.0), 230.0);
        assert!(tables.shaft_torque_nm.at(100.0) < 0.0, "friction alone");
    }
}
