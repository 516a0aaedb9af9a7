//! A motor as built and wired, and what may be wrong with it: from these comes the
//! [`Circuit`] that is solved.
//!
//! Windings are given as strapped for the lower voltage (halves of the main winding in
//! parallel).  The auxiliary winding of a dual-voltage motor always lies across one half,
//! so that in series everything is the same motor at twice the voltage: every impedance
//! is four times as large.  (Leakage between the halves, which the series strap needs to
//! share its voltage with the auxiliary, is left out.)
//!
//! Resistances are those an ohmmeter reads at 25 °C; in use they grow as copper does,
//! R₂/R₁ = (234.5 + t₂)/(234.5 + t₁) (constant of annealed copper, from memory).  The
//! rotor is taken to be as warm as the windings and to grow alike.
//!
//! Left out: voltage across a capacitor that fails by it, and bearings (extra friction is
//! the plant's to add).

use serde::{Deserialize, Serialize};

use super::{Branch, Circuit};

/// Temperature at which a specification's resistances hold [°C].
pub const REFERENCE_CELSIUS: f64 = 25.0;
/// Zero of resistance of annealed copper, drawn out straight [°C below zero].
const COPPER_ZERO_CELSIUS: f64 = 234.5;

/// A capacitor.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Capacitor {
    /// Capacitance [F] -- constant.
    pub farad: f64,
    /// Equivalent series resistance [Ω] -- constant.
    pub series_ohm: f64,
}

/// How the auxiliary winding is fed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Starting {
    /// Resistive auxiliary winding, switched off when up to speed.
    SplitPhase,
    /// Auxiliary winding through a capacitor, switched off when up to speed.
    CapacitorStart(Capacitor),
    /// One capacitor, always in.
    PermanentCapacitor(Capacitor),
    /// A large capacitor to start, a small one beside it that stays in.
    CapacitorStartRun {
        /// Switched off when up to speed.
        start: Capacitor,
        /// Always in.
        run: Capacitor,
    },
}

/// A single-phase motor's nameplate and equivalent circuit, wired for its lower voltage.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct InductionMotor {
    /// Rated shaft power [W] -- constant.
    pub rated_power_w: f64,
    /// Rated voltage, RMS; the lower one of a dual-voltage motor [V] -- constant.
    pub rated_voltage_v: f64,
    /// Rated frequency [Hz] -- constant.
    pub rated_frequency_hz: f64,
    /// Pairs of poles -- constant.
    pub pole_pairs: f64,
    /// Speed at rated power [rad/s] -- constant.
    pub rated_speed_rad_per_s: f64,
    /// Main winding [Ω] -- constant.
    pub main_ohm: f64,
    /// Leakage reactance of the main winding at rated frequency [Ω] -- constant.
    pub main_leakage_ohm: f64,
    /// Magnetizing reactance at rated frequency [Ω] -- constant.
    pub magnetizing_ohm: f64,
    /// Rotor resistance seen from the main winding [Ω] -- constant.
    pub rotor_ohm: f64,
    /// Rotor leakage reactance seen from the main winding [Ω] -- constant.
    pub rotor_leakage_ohm: f64,
    /// Auxiliary winding [Ω] -- constant.
    pub auxiliary_ohm: f64,
    /// Leakage reactance of the auxiliary winding [Ω] -- constant.
    pub auxiliary_leakage_ohm: f64,
    /// Turns of the auxiliary over the main winding -- constant.
    pub turns_ratio: f64,
    /// Core loss per volt squared [S] -- constant.
    pub core_conductance_s: f64,
    /// Friction and windage torque at synchronous speed [N·m] -- constant.
    pub drag_nm: f64,
    /// Feed of the auxiliary winding -- constant.
    pub starting: Starting,
    /// Share of synchronous speed at which the start switch opens -- constant.
    pub switch_opens_at: f64,
}

/// The start switch: centrifugal, relay or electronic.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum StartSwitch {
    /// Starting circuit in.
    Closed,
    /// Starting circuit out.
    Open,
}

/// How the halves of the main winding are joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Strap {
    /// Lower voltage, or a motor without a choice.
    Parallel,
    /// Twice the voltage.
    Series,
}

/// State of a winding or its lead.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum WindingState {
    /// As made.
    Sound,
    /// Carries no current.
    Open,
}

/// State of a capacitor.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum CapacitorState {
    /// As made.
    Sound,
    /// This share of its capacitance is left (0 < share).
    Share(f64),
    /// Carries no current.
    Open,
    /// Holds no voltage.
    Shorted,
}

/// What is wrong with a motor; [`MotorFaults::NONE`] when nothing is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct MotorFaults {
    /// Main winding.
    pub main: WindingState,
    /// Auxiliary winding.
    pub auxiliary: WindingState,
    /// Start capacitor, where there is one.
    pub start_capacitor: CapacitorState,
    /// Run capacitor, where there is one.
    pub run_capacitor: CapacitorState,
    /// Share of the main winding's turns shorted on themselves, 0 to below 1.
    pub shorted_turns: f64,
}

impl MotorFaults {
    /// A sound motor.
    pub const NONE: Self = Self {
        main: WindingState::Sound,
        auxiliary: WindingState::Sound,
        start_capacitor: CapacitorState::Sound,
        run_capacitor: CapacitorState::Sound,
        shorted_turns: 0.0,
    };
}

/// All that the circuit depends on besides speed and voltage.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Condition {
    /// Start switch.
    pub switch: StartSwitch,
    /// Strap.
    pub strap: Strap,
    /// Frequency of the supply [Hz].
    pub frequency_hz: f64,
    /// Temperature of windings and rotor [°C].
    pub winding_celsius: f64,
    /// What is wrong.
    pub faults: MotorFaults,
}

impl InductionMotor {
    /// A sound motor on its rated frequency, wired for its lower voltage.
    #[must_use]
    pub fn condition(&self, switch: StartSwitch, winding_celsius: f64) -> Condition {
        Condition {
            switch,
            strap: Strap::Parallel,
            frequency_hz: self.rated_frequency_hz,
            winding_celsius,
            faults: MotorFaults::NONE,
        }
    }

    /// Speed of the rotating field at a frequency [rad/s].
    #[must_use]
    pub fn synchronous_rad_per_s(&self, frequency_hz: f64) -> f64 {
        core::f64::consts::TAU * frequency_hz / self.pole_pairs
    }

    /// The circuit in a condition.
    #[must_use]
    pub fn circuit(&self, condition: &Condition) -> Circuit {
        let scale = strap_scale(condition.strap);
        let copper = scale * copper_factor(condition.winding_celsius);
        let reactance = scale * condition.frequency_hz / self.rated_frequency_hz;
        let faults = &condition.faults;
        let x = faults.shorted_turns;
        let main = main_turns(
            1.0 - x,
            self.main_ohm * copper,
            self.main_leakage_ohm * reactance,
        );
        let shorted = main_turns(x, self.main_ohm * copper, self.main_leakage_ohm * reactance);
        Circuit {
            synchronous_rad_per_s: self.synchronous_rad_per_s(condition.frequency_hz),
            main: (faults.main == WindingState::Sound).then_some(main),
            auxiliary: self.auxiliary(condition, copper, reactance),
            shorted: (x > 0.0).then_some(shorted),
            magnetizing_ohm: self.magnetizing_ohm * reactance,
            rotor_ohm: self.rotor_ohm * copper,
            rotor_reactance_ohm: self.rotor_leakage_ohm * reactance,
            core_conductance_s: self.core_conductance_s / scale,
            drag_nm: self.drag_at(condition.frequency_hz),
        }
    }

    /// Drag at synchronous speed of a frequency, so that at equal speed it is equal.
    fn drag_at(&self, frequency_hz: f64) -> f64 {
        let share = frequency_hz / self.rated_frequency_hz;
        self.drag_nm * share * share
    }

    fn auxiliary(&self, condition: &Condition, copper: f64, reactance: f64) -> Option<Branch> {
        let faults = &condition.faults;
        if faults.auxiliary == WindingState::Open {
            return None;
        }
        let omega = core::f64::consts::TAU * condition.frequency_hz;
        let (series_ohm, capacitor_ohm) =
            self.feed(condition.switch, faults, omega)?.series_parts();
        let scale = strap_scale(condition.strap);
        Some(Branch {
            wire_ohm: self.auxiliary_ohm * copper,
            series_ohm: series_ohm * scale,
            reactance_ohm: self.auxiliary_leakage_ohm * reactance + capacitor_ohm * scale,
            turns: self.turns_ratio,
        })
    }

    /// What lies between the line and the auxiliary winding; none when nothing joins them.
    fn feed(&self, switch: StartSwitch, faults: &MotorFaults, omega: f64) -> Option<Feed> {
        let through = |c: &Capacitor, state| feed_through(c, state, omega);
        match (&self.starting, switch) {
            (Starting::SplitPhase, StartSwitch::Closed) => Some(Feed::Wire),
            (Starting::SplitPhase | Starting::CapacitorStart(_), StartSwitch::Open) => None,
            (Starting::CapacitorStart(start), StartSwitch::Closed) => {
                through(start, faults.start_capacitor)
            }
            (Starting::PermanentCapacitor(run), _) => through(run, faults.run_capacitor),
            (Starting::CapacitorStartRun { run, .. }, StartSwitch::Open) => {
                through(run, faults.run_capacitor)
            }
            (Starting::CapacitorStartRun { start, run }, StartSwitch::Closed) => {
                match (
                    through(start, faults.start_capacitor),
                    through(run, faults.run_capacitor),
                ) {
                    (Some(Feed::Wire), _) | (_, Some(Feed::Wire)) => Some(Feed::Wire),
                    (Some(Feed::Impedance(r1, x1)), Some(Feed::Impedance(r2, x2))) => {
                        Some(parallel(r1, x1, r2, x2))
                    }
                    (one, None) => one,
                    (None, other) => other,
                }
            }
        }
    }
}

/// Whether wire alone joins the auxiliary winding to the line.
pub(super) fn feeds_direct_current(starting: &Starting, condition: &Condition) -> bool {
    let closed = condition.switch == StartSwitch::Closed;
    let faults = &condition.faults;
    match starting {
        Starting::SplitPhase => closed,
        Starting::CapacitorStart(_) => closed && faults.start_capacitor == CapacitorState::Shorted,
        Starting::PermanentCapacitor(_) => faults.run_capacitor == CapacitorState::Shorted,
        Starting::CapacitorStartRun { .. } => {
            faults.run_capacitor == CapacitorState::Shorted
                || (closed && faults.start_capacitor == CapacitorState::Shorted)
        }
    }
}

enum Feed {
    Wire,
    Impedance(f64, f64),
}

impl Feed {
    fn series_parts(&self) -> (f64, f64) {
        match *self {
            Self::Wire => (0.0, 0.0),
            Self::Impedance(r, x) => (r, x),
        }
    }
}

fn feed_through(capacitor: &Capacitor, state: CapacitorState, omega: f64) -> Option<Feed> {
    let farad = match state {
        CapacitorState::Sound => capacitor.farad,
        CapacitorState::Share(share) => capacitor.farad * share,
        CapacitorState::Open => return None,
        CapacitorState::Shorted => return Some(Feed::Wire),
    };
    Some(Feed::Impedance(
        capacitor.series_ohm,
        -1.0 / (omega * farad),
    ))
}

fn parallel(r1: f64, x1: f64, r2: f64, x2: f64) -> Feed {
    let (n1, n2) = (r1 * r1 + x1 * x1, r2 * r2 + x2 * x2);
    let (g, b) = (r1 / n1 + r2 / n2, -x1 / n1 - x2 / n2);
    let n = g * g + b * b;
    Feed::Impedance(g / n, -b / n)
}

fn main_turns(share: f64, ohm: f64, leakage_ohm: f64) -> Branch {
    Branch {
        wire_ohm: share * ohm,
        series_ohm: 0.0,
        reactance_ohm: share * share * leakage_ohm,
        turns: share,
    }
}

/// Impedance over that of the lower-voltage strap.
#[must_use]
pub(super) const fn strap_scale(strap: Strap) -> f64 {
    match strap {
        Strap::Parallel => 1.0,
        Strap::Series => 4.0,
    }
}

/// Resistance of copper over that at [`REFERENCE_CELSIUS`].
#[must_use]
pub fn copper_factor(celsius: f64) -> f64 {
    (COPPER_ZERO_CELSIUS + celsius) / (COPPER_ZERO_CELSIUS + REFERENCE_CELSIUS)
}
