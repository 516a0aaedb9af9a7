//! Single-phase induction motor in the steady state: two windings in quadrature on one
//! rotor, by double-revolving-field theory.
//!
//! With slip s = 1 − ω/ω_s, magnetizing reactance X_m and rotor R_2, X_2, all seen from
//! the main winding, the forward and backward fields see
//! ```text
//! Z_f = ½ · jX_m ∥ (R_2/s + jX_2)         Z_b = the same with 2 − s for s
//! V_main = (Z_1m + Z_f + Z_b)·I_m − j·a·(Z_f − Z_b)·I_a
//! V_aux  = j·a·(Z_f − Z_b)·I_m + (Z_1a + Z_c + a²·(Z_f + Z_b))·I_a
//! T = [Re Z_f·|I_m − j·a·I_a|² − Re Z_b·|I_m + j·a·I_a|²] / ω_s
//! ```
//! a = turns of the auxiliary over the main winding, Z_c the capacitor in series with
//! it.  Positive torque is toward forward: a leading auxiliary current starts the motor
//! forward.  Power through the air gap, P_f + P_b, leaves as (1−s)(P_f − P_b) of
//! mechanical power and s·P_f + (2−s)·P_b of rotor heat.
//!
//! Shorted turns are a third winding on the main axis: a share x of its turns, closed on
//! itself through its own resistance x·R and leakage x²·X; the rest of the main winding
//! keeps (1−x)·R and (1−x)²·X.
//!
//! Core loss is a conductance across the terminals; friction and windage a torque that
//! grows with the square of speed.  Left out: saturation, harmonics, deep-bar effect,
//! rotor skew, mutual leakage between windings, electrical transients (they die in a few
//! cycles, the rotor takes many).
//!
//! Source: A. E. Fitzgerald, C. Kingsley, S. D. Umans, "Electric Machinery", 6th ed.,
//! ch. 9; P. C. Krause, "Analysis of Electric Machinery", ch. 10 (both from memory; the
//! signs are checked by limits and by the energy balance in the tests).

use serde::{Deserialize, Serialize};

use super::Complex;
use crate::math::Scalar;

/// One winding branch of the circuit, as the supply sees it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Branch {
    /// Resistance of the wire [Ω] -- constant.
    pub wire_ohm: f64,
    /// Resistance in series outside the wire: capacitor [Ω] -- constant.
    pub series_ohm: f64,
    /// Leakage reactance less that of a series capacitor [Ω] -- constant.
    pub reactance_ohm: f64,
    /// Turns over those of the whole main winding -- constant.
    pub turns: f64,
}

impl Branch {
    fn impedance(&self) -> Complex {
        Complex::new(self.wire_ohm + self.series_ohm, self.reactance_ohm)
    }
}

/// A motor with its switch, faults, strap, frequency and temperature taken in: what is
/// left is a linear circuit that depends on speed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Circuit {
    /// Speed of the rotating field [rad/s] -- constant.
    pub synchronous_rad_per_s: f64,
    /// Main winding; none when open.
    pub main: Option<Branch>,
    /// Auxiliary winding with its capacitor; none when open or switched off.
    pub auxiliary: Option<Branch>,
    /// Turns of the main winding shorted on themselves.
    pub shorted: Option<Branch>,
    /// Magnetizing reactance [Ω] -- constant.
    pub magnetizing_ohm: f64,
    /// Rotor resistance [Ω] -- constant.
    pub rotor_ohm: f64,
    /// Rotor leakage reactance [Ω] -- constant.
    pub rotor_reactance_ohm: f64,
    /// Core loss per volt squared at the terminals [S] -- constant.
    pub core_conductance_s: f64,
    /// Friction and windage torque at synchronous speed [N·m] -- constant.
    pub drag_nm: f64,
}

/// Everything at one speed for one volt at the terminals (phase zero); powers and torque
/// go with the square of the voltage, currents with the voltage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PerVolt<S = f64> {
    /// Current of the main winding [A/V].
    pub main: Complex<S>,
    /// Current of the auxiliary winding [A/V].
    pub auxiliary: Complex<S>,
    /// Current from the line: the motor's admittance [S].
    pub line: Complex<S>,
    /// Torque of the forward field [N·m/V²].
    pub forward_nm: S,
    /// Torque of the backward field, positive [N·m/V²].
    pub backward_nm: S,
    /// Heat in the main winding, without shorted turns [W/V²].
    pub main_copper_w: S,
    /// Heat in the auxiliary winding [W/V²].
    pub auxiliary_copper_w: S,
    /// Heat in the resistance of a series capacitor [W/V²].
    pub capacitor_w: S,
    /// Heat in shorted turns [W/V²].
    pub shorted_w: S,
    /// Heat in the rotor [W/V²].
    pub rotor_w: S,
    /// Heat in the core [W/V²].
    pub core_w: S,
}

impl<S: Scalar> PerVolt<S> {
    /// Torque on the rotor before friction [N·m/V²].
    #[inline]
    #[must_use]
    pub fn torque_nm(&self) -> S {
        self.forward_nm - self.backward_nm
    }

    /// Heat in the stator's copper [W/V²].
    #[inline]
    #[must_use]
    pub fn stator_copper_w(&self) -> S {
        self.main_copper_w + self.auxiliary_copper_w + self.shorted_w
    }
}

/// What the circuit's two windings share through the air gap at one slip.
struct Gap<S> {
    forward: Complex<S>,
    backward: Complex<S>,
    sum: Complex<S>,
    difference: Complex<S>,
    /// x²/Z of shorted turns.
    shorted: Complex<S>,
    /// What shorted turns leave of the main axis' coupling, 1 without them.
    left: Complex<S>,
}

impl Circuit {
    /// Impedance of one revolving field at the rotor's slip against it [Ω], half of the
    /// whole one; regular at standstill and at synchronous speed.
    #[inline]
    #[must_use]
    pub fn field_impedance_ohm<S: Scalar>(&self, slip: S) -> Complex<S> {
        let rotor = Complex::new(S::constant(self.rotor_ohm), slip * self.rotor_reactance_ohm);
        let all = Complex::new(
            S::constant(self.rotor_ohm),
            slip * (self.rotor_reactance_ohm + self.magnetizing_ohm),
        );
        (rotor * all.inverse())
            .times_j()
            .times(0.5 * self.magnetizing_ohm)
    }

    /// Slip against the forward field.
    #[inline]
    #[must_use]
    pub fn slip<S: Scalar>(&self, speed_rad_per_s: S) -> S {
        -(speed_rad_per_s / self.synchronous_rad_per_s) + 1.0
    }

    fn gap<S: Scalar>(&self, slip: S) -> Gap<S> {
        let forward = self.field_impedance_ohm(slip);
        let backward = self.field_impedance_ohm(-slip + 2.0);
        let sum = forward + backward;
        let one = Complex::constant(Complex::ONE);
        let shorted = match &self.shorted {
            Some(b) => Complex::constant(b.impedance().inverse().times(b.turns * b.turns)),
            None => Complex::constant(Complex::ZERO),
        };
        let left = match &self.shorted {
            Some(_) => (one + shorted * sum).inverse(),
            None => one,
        };
        Gap {
            forward,
            backward,
            sum,
            difference: forward - backward,
            shorted,
            left,
        }
    }

    /// Impedances of the two windings as a two-port [Ω]: rows and columns main, auxiliary.
    fn impedances<S: Scalar>(&self, gap: &Gap<S>) -> [[Complex<S>; 2]; 2] {
        let (main, auxiliary) = (self.main_or_open(), self.auxiliary_or_open());
        let (n, a) = (main.turns, auxiliary.turns);
        let coupling = (gap.left * gap.difference).times_j().times(n * a);
        let seen_by_auxiliary = gap.sum - gap.shorted * gap.left * gap.difference * gap.difference;
        [
            [
                Complex::constant(main.impedance()) + (gap.left * gap.sum).times(n * n),
                -coupling,
            ],
            [
                coupling,
                Complex::constant(auxiliary.impedance()) + seen_by_auxiliary.times(a * a),
            ],
        ]
    }

    /// Admittances of the two windings as a two-port [S]: rows main, auxiliary; an open
    /// winding has none.  For wiring where each winding has its own lead.
    #[must_use]
    pub fn winding_admittances_s<S: Scalar>(&self, speed_rad_per_s: S) -> [[Complex<S>; 2]; 2] {
        self.invert(&self.gap(self.slip(speed_rad_per_s)))
    }

    fn invert<S: Scalar>(&self, gap: &Gap<S>) -> [[Complex<S>; 2]; 2] {
        let none = Complex::constant(Complex::ZERO);
        let z = self.impedances(gap);
        match (&self.main, &self.auxiliary) {
            (None, None) => [[none, none], [none, none]],
            (Some(_), None) => [[z[0][0].inverse(), none], [none, none]],
            (None, Some(_)) => [[none, none], [none, z[1][1].inverse()]],
            (Some(_), Some(_)) => {
                let d = (z[0][0] * z[1][1] - z[0][1] * z[1][0]).inverse();
                [[z[1][1] * d, -(z[0][1] * d)], [-(z[1][0] * d), z[0][0] * d]]
            }
        }
    }

    /// Both windings across one volt.
    #[must_use]
    pub fn per_volt<S: Scalar>(&self, speed_rad_per_s: S) -> PerVolt<S> {
        let one = Complex::constant(Complex::ONE);
        self.with_winding_volts(speed_rad_per_s, one, one)
    }

    /// Each winding across its own voltage; quantities "per volt" are then for these
    /// volts as they stand.  The core is fed by the main winding's voltage.
    #[must_use]
    pub fn with_winding_volts<S: Scalar>(
        &self,
        speed_rad_per_s: S,
        main_v: Complex<S>,
        auxiliary_v: Complex<S>,
    ) -> PerVolt<S> {
        let slip = self.slip(speed_rad_per_s);
        let gap = self.gap(slip);
        let y = self.invert(&gap);
        let main = y[0][0] * main_v + y[0][1] * auxiliary_v;
        let auxiliary = y[1][0] * main_v + y[1][1] * auxiliary_v;
        let (m, a) = (self.main_or_open(), self.auxiliary_or_open());
        let (main_turns, aux_turns) = (main.times(m.turns), auxiliary.times(a.turns));
        // EMF of the main axis per full turns, and what shorted turns take from the axis.
        let emf = gap.left * (gap.sum * main_turns - (gap.difference * aux_turns).times_j());
        let axis = main_turns - gap.shorted * emf;
        let ahead = axis - aux_turns.times_j();
        let behind = axis + aux_turns.times_j();
        let forward_w = gap.forward.re * ahead.norm_squared();
        let backward_w = gap.backward.re * behind.norm_squared();
        let core_s = match self.main {
            Some(_) => self.core_conductance_s,
            None => 0.0,
        };
        PerVolt {
            main,
            auxiliary,
            line: main + auxiliary + main_v.times(core_s),
            forward_nm: forward_w / self.synchronous_rad_per_s,
            backward_nm: backward_w / self.synchronous_rad_per_s,
            main_copper_w: main.norm_squared() * m.wire_ohm,
            auxiliary_copper_w: auxiliary.norm_squared() * a.wire_ohm,
            capacitor_w: auxiliary.norm_squared() * a.series_ohm,
            // x²|E|²·Re(1/Z) of the shorted loop.
            shorted_w: emf.norm_squared() * gap.shorted.re,
            rotor_w: forward_w * slip + backward_w * (-slip + 2.0),
            core_w: main_v.norm_squared() * core_s,
        }
    }

    /// Friction and windage torque at a speed [N·m], against the motion.
    #[inline]
    #[must_use]
    pub fn drag_torque_nm<S: Scalar>(&self, speed_rad_per_s: S) -> S {
        let share = speed_rad_per_s / self.synchronous_rad_per_s;
        let square = share * share * self.drag_nm;
        if share.value() < 0.0 { -square } else { square }
    }

    fn main_or_open(&self) -> Branch {
        self.main.unwrap_or(OPEN)
    }

    fn auxiliary_or_open(&self) -> Branch {
        self.auxiliary.unwrap_or(OPEN)
    }
}

/// Stands in for a branch without current.
const OPEN: Branch = Branch {
    wire_ohm: 0.0,
    series_ohm: 0.0,
    reactance_ohm: 0.0,
    turns: 0.0,
};

#[cfg(test)]
mod tests;
