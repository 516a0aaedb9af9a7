//! Wiring from the panel to the motor: what is installed, between which points.
//!
//! Along each line conductor of the pump's circuit: panel lug, breaker, cable, pressure
//! switch (line terminal, contact, load terminal), cable, splice box (a joint per
//! conductor), drop cable, motor lead.  An equipment-grounding conductor runs beside them
//! from the panel's earth bar to the motor's frame.  The supply's neutral is earthed at
//! the panel.

use serde::{Deserialize, Serialize};

use crate::units::{Amperes, Meters, Ohms, Pascals};

/// The pump's circuit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WiringSpec {
    /// Conductors of the supply -- constant.
    pub system: SupplySystem,
    /// Resistance of transformer and service per line conductor [Ω] -- constant.
    pub source_resistance: Ohms,
    /// Reactance of transformer and service per line conductor [Ω] -- constant.
    pub source_reactance: Ohms,
    /// Rating of the branch breaker [A] -- constant.
    pub breaker_rating: Amperes,
    /// Residual current at which ground-fault protection trips, where fitted [A] -- constant.
    pub ground_fault_trip: Option<Amperes>,
    /// From the breaker to the pressure switch -- constant.
    pub panel_to_switch: CableSpec,
    /// From the pressure switch to the splice box -- constant.
    pub switch_to_splice: CableSpec,
    /// From the splice box to the motor -- constant.
    pub splice_to_motor: CableSpec,
    /// How the motor starts -- constant.
    pub winding: WindingKind,
    /// Low-level float switch in series with the pressure switch, where fitted -- constant.
    pub float_switch: Option<FloatSwitchSpec>,
    /// Pressure below which a switch with a cut-off lever opens and stays open [Pa, gauge],
    /// where the switch has one -- constant.
    pub low_pressure_cut_off: Option<Pascals>,
}

/// Conductors of the supply.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum SupplySystem {
    /// Two legs in opposite phase about an earthed neutral; a circuit of up to 150 V uses
    /// one leg and the neutral, a higher one both legs.
    SplitPhase,
    /// One line about an earthed neutral.
    SinglePhase,
}

/// A cable: so long, so thick.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CableSpec {
    /// Length of the cable, one way [m] -- constant.
    pub length: Meters,
    /// Size and metal of each conductor -- constant.
    pub conductor: ConductorSize,
}

/// Size of a conductor as sold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum ConductorSize {
    /// American wire gauge, copper.
    AwgCopper(u8),
    /// Square millimetres, copper.
    SquareMillimetersCopper(f64),
}

/// How a single-phase motor starts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum WindingKind {
    /// Start winding of higher resistance, switched off near speed.
    SplitPhase,
    /// Start winding through a capacitor, switched off near speed.
    CapacitorStart,
    /// Auxiliary winding through a capacitor that stays in.
    PermanentCapacitor,
    /// Start capacitor and relay in a control box above ground, three leads to the motor.
    ThreeWire,
}

/// A float that opens the circuit when the water is low.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct FloatSwitchSpec {
    /// Depth of water at which it opens [m] -- constant.
    pub stops_at: Meters,
    /// Depth of water at which it closes again [m] -- constant, above `stops_at`.
    pub starts_at: Meters,
}
