//! Single-phase induction motors, their heat and their protection, as pure functions.
//!
//! | File | Holds |
//! |---|---|
//! | `complex` | phasors |
//! | `circuit` | two windings in revolving fields: the physics |
//! | `spec` | a motor as built, wired and broken, to a circuit |
//! | `operating` | one operating point; the motor as a load on a source |
//! | `ohms` | what an ohmmeter reads |
//! | `tables` | the same over speed, for the inner loop |
//! | `thermal`, `protection` | heat, protector, breaker, relay, ground-fault device |
//! | `targets`, `fit`, `sets` | default motors and how they were fitted |
//! | `rules` | code tables: full-load current, code letters, sizing |
//!
//! ```
//! use sim_core::motor::{Complex, Capacitor, InductionMotor, StartSwitch, Starting};
//! let motor = InductionMotor {
//!     rated_power_w: 186.0, rated_voltage_v: 110.0, rated_frequency_hz: 60.0,
//!     pole_pairs: 2.0, rated_speed_rad_per_s: 180.0,
//!     main_ohm: 2.02, main_leakage_ohm: 2.79, magnetizing_ohm: 66.8,
//!     rotor_ohm: 4.12, rotor_leakage_ohm: 2.12,
//!     auxiliary_ohm: 7.14, auxiliary_leakage_ohm: 3.22, turns_ratio: 1.18,
//!     core_conductance_s: 0.002, drag_nm: 0.07,
//!     starting: Starting::CapacitorStart(Capacitor { farad: 177e-6, series_ohm: 3.0 }),
//!     switch_opens_at: 0.75,
//! };
//! let circuit = motor.circuit(&motor.condition(StartSwitch::Closed, 25.0));
//! let locked = circuit.at(0.0, Complex::new(110.0, 0.0));
//! assert!(locked.torque_nm > 1.0);
//! assert!((locked.input_w - locked.losses.total_w()).abs() < 1e-9);
//! ```

mod circuit;
mod complex;
pub mod fit;
mod ohms;
mod operating;
pub mod protection;
pub mod rules;
pub mod sets;
mod spec;
mod tables;
pub mod targets;
pub mod thermal;

pub use circuit::{Branch, Circuit, PerVolt};
pub use complex::Complex;
pub use ohms::LeadResistances;
pub use operating::{Losses, MotorPort, OperatingPoint, Thevenin};
pub use spec::{
    Capacitor, CapacitorState, Condition, InductionMotor, MotorFaults, REFERENCE_CELSIUS,
    StartSwitch, Starting, Strap, WindingState, copper_factor,
};
pub use tables::MotorTables;
