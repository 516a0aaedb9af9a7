//! One operating point of a motor: currents, torque and where the power goes.
//!
//! Electrical power in = shaft power + copper + capacitor + rotor + core + friction, to
//! rounding, at every speed and in every condition.

use serde::{Deserialize, Serialize};

use super::{Circuit, Complex};

/// Heat by place [W]; all of them zero or more.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Losses {
    /// Main winding.
    pub main_copper_w: f64,
    /// Auxiliary winding.
    pub auxiliary_copper_w: f64,
    /// Shorted turns.
    pub shorted_turns_w: f64,
    /// Series resistance of the capacitor in use.
    pub capacitor_w: f64,
    /// Rotor.
    pub rotor_w: f64,
    /// Core.
    pub core_w: f64,
    /// Friction and windage.
    pub drag_w: f64,
}

impl Losses {
    /// All together [W].
    #[must_use]
    pub fn total_w(&self) -> f64 {
        self.stator_copper_w() + self.capacitor_w + self.rotor_w + self.core_w + self.drag_w
    }

    /// Heat in the stator's copper [W].
    #[must_use]
    pub fn stator_copper_w(&self) -> f64 {
        self.main_copper_w + self.auxiliary_copper_w + self.shorted_turns_w
    }
}

/// A motor at one speed and voltage.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct OperatingPoint {
    /// Terminal voltage, RMS phasor [V] -- input.
    pub terminal_v: Complex,
    /// Current of the main winding [A] -- output.
    pub main_a: Complex,
    /// Current of the auxiliary winding as the line sees it [A] -- output.  With the
    /// halves in series the wire itself carries twice as much.
    pub auxiliary_a: Complex,
    /// Current from the line [A] -- output.
    pub line_a: Complex,
    /// Torque on the rotor before friction [N·m] -- output.
    pub torque_nm: f64,
    /// Torque at the shaft, after friction [N·m] -- output.
    pub shaft_torque_nm: f64,
    /// Power at the terminals [W] -- output.
    pub input_w: f64,
    /// Power converted to mechanical before friction [W] -- output.
    pub converted_w: f64,
    /// Power at the shaft [W] -- output.
    pub shaft_w: f64,
    /// Heat by place -- output.
    pub losses: Losses,
}

impl OperatingPoint {
    /// Real over apparent power; zero without current.
    #[must_use]
    pub fn power_factor(&self) -> f64 {
        let apparent_va = self.terminal_v.magnitude() * self.line_a.magnitude();
        if apparent_va > 0.0 {
            self.input_w / apparent_va
        } else {
            0.0
        }
    }

    /// Shaft over input power; zero without input.
    #[must_use]
    pub fn efficiency(&self) -> f64 {
        if self.input_w > 0.0 {
            self.shaft_w / self.input_w
        } else {
            0.0
        }
    }
}

/// A source seen from the motor's terminals: open-circuit voltage behind an impedance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Thevenin {
    /// Voltage without the motor, RMS phasor [V].
    pub open_v: Complex,
    /// Impedance of source, wiring, joints and contacts [Ω].
    pub ohm: Complex,
}

/// The motor at one speed as a linear load: whatever feeds it, this is all it shows.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct MotorPort {
    /// Admittance between the terminals [S].
    pub admittance_s: Complex,
    /// Torque before friction over terminal voltage squared [N·m/V²].
    pub torque_nm_per_v2: f64,
    /// Heat in the stator's copper over terminal voltage squared [W/V²].
    pub stator_copper_w_per_v2: f64,
}

impl MotorPort {
    /// Terminal voltage behind a source [V].
    #[must_use]
    pub fn terminal_v(&self, source: &Thevenin) -> Complex {
        source.open_v * (Complex::ONE + source.ohm * self.admittance_s).inverse()
    }
}

impl Circuit {
    /// The motor as a linear load at a speed.
    #[must_use]
    pub fn port(&self, speed_rad_per_s: f64) -> MotorPort {
        let unit = self.per_volt(speed_rad_per_s);
        MotorPort {
            admittance_s: unit.line,
            torque_nm_per_v2: unit.torque_nm(),
            stator_copper_w_per_v2: unit.stator_copper_w(),
        }
    }

    /// Everything at a speed and terminal voltage.
    #[must_use]
    pub fn at(&self, speed_rad_per_s: f64, terminal_v: Complex) -> OperatingPoint {
        let unit = self.per_volt(speed_rad_per_s);
        let v2 = terminal_v.norm_squared();
        let torque_nm = unit.torque_nm() * v2;
        let drag_nm = self.drag_torque_nm(speed_rad_per_s);
        let converted_w = torque_nm * speed_rad_per_s;
        let line_a = unit.line * terminal_v;
        OperatingPoint {
            terminal_v,
            main_a: unit.main * terminal_v,
            auxiliary_a: unit.auxiliary * terminal_v,
            line_a,
            torque_nm,
            shaft_torque_nm: torque_nm - drag_nm,
            input_w: (terminal_v * line_a.conj()).re,
            converted_w,
            shaft_w: converted_w - drag_nm * speed_rad_per_s,
            losses: Losses {
                main_copper_w: unit.main_copper_w * v2,
                auxiliary_copper_w: unit.auxiliary_copper_w * v2,
                shorted_turns_w: unit.shorted_w * v2,
                capacitor_w: unit.capacitor_w * v2,
                rotor_w: unit.rotor_w * v2,
                core_w: unit.core_w * v2,
                drag_w: drag_nm * speed_rad_per_s,
            },
        }
    }
}
