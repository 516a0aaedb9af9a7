//! The plant's continuous state: what each number means and where it stands.
//!
//! Conserved quantities are the state (volumes of water, masses of air), pressures
//! follow from them: so water and air balance to rounding, whatever the step length.

/// Number of components in the state vector.
pub(crate) const N_STATES: usize = 35;

/// Water in and about the tee (and, without a check valve at the wall, in the run)
/// beyond what it holds at atmospheric pressure with no air in it [m³].
pub(crate) const TEE_WATER: usize = 0;
/// The same for the pipes behind the house valve [m³].
pub(crate) const HOUSE_WATER: usize = 1;
/// Flow through pump and run [m³/s].
pub(crate) const TRUNK_FLOW: usize = 2;
/// Shaft speed [rad/s].
pub(crate) const SHAFT_SPEED: usize = 3;
/// Water in the tank [m³].
pub(crate) const TANK_WATER: usize = 4;
/// Temperature of the tank's air [K].
pub(crate) const TANK_TEMPERATURE: usize = 5;
/// Water in the source [m³].
pub(crate) const SOURCE_WATER: usize = 6;
/// Like [`TEE_WATER`], for the run below a check valve at the wall [m³].
pub(crate) const LINE_WATER: usize = 7;
/// Air in the pipes about the tee [kg].
pub(crate) const TEE_AIR: usize = 8;
/// Air in the pipes of the house [kg].
pub(crate) const HOUSE_AIR: usize = 9;
/// Air in the run below a check valve at the wall [kg].
pub(crate) const LINE_AIR: usize = 10;
/// Air in the pump [kg].
pub(crate) const BOWL_AIR: usize = 11;
/// Air on the water side of the tank [kg].
pub(crate) const TANK_AIR: usize = 12;
/// Air charge of the tank [kg].
pub(crate) const TANK_CHARGE: usize = 13;
/// Temperature of the water in the pump [K].
pub(crate) const PUMP_WATER_TEMPERATURE: usize = 14;
/// Pressure that the pressure switch has felt [Pa].
pub(crate) const SENSED_PRESSURE: usize = 15;
/// Pressure that the gauge's movement has reached, before stiction [Pa].
pub(crate) const NEEDLE_PRESSURE: usize = 16;
/// Water that has left by the house's outlets [m³].
pub(crate) const USED: usize = 17;
/// Water that has left by the drain cock [m³].
pub(crate) const DRAINED: usize = 18;
/// Water that has left by the relief valve [m³].
pub(crate) const RELIEVED: usize = 19;
/// Water that has leaked from pipes [m³].
pub(crate) const LEAKED: usize = 20;
/// Water that has come into the source from outside [m³].
pub(crate) const INFLOW: usize = 21;
/// Water that has run over the source's brim [m³].
pub(crate) const OVERFLOWED: usize = 22;
/// Air that has left by openings, net of what came in there [kg].
pub(crate) const AIR_OUT: usize = 23;
/// Air that has come in by the intake [kg].
pub(crate) const AIR_IN: usize = 24;
/// Work of the motor on the shaft [J].
pub(crate) const SHAFT_WORK: usize = 25;
/// Water that has left the source by the pump, net of what came back [m³].
pub(crate) const DRAWN: usize = 26;
/// Energy taken from the supply [J].
pub(crate) const SUPPLY_WORK: usize = 27;
/// Temperature of the motor's winding [K].
pub(crate) const WINDING_TEMPERATURE: usize = 28;
/// Heat of the breaker's bimetal, as the square of current over rating [-].
pub(crate) const BREAKER_HEAT: usize = 29;
/// Temperature of the worst joint of the circuit [K].
pub(crate) const JOINT_TEMPERATURE: usize = 30;
/// Heat that the motor has turned into, losses of winding, rotor, iron and bearings [J].
pub(crate) const MOTOR_HEAT: usize = 31;
/// Share of the shaft seal's life used up by running dry [-].
pub(crate) const SEAL_WEAR: usize = 32;
/// Share of the impellers' life used up by hot water in a dead-headed pump [-].
pub(crate) const IMPELLER_WEAR: usize = 33;

/// Temperature of the thermal protector's disc [K].
pub(crate) const PROTECTOR_TEMPERATURE: usize = 34;

/// First component that drives no other.
pub(crate) const FIRST_FOLLOWER: usize = SENSED_PRESSURE;

/// Names for messages.
pub(crate) const STATE_NAMES: [&str; N_STATES] = [
    "water at the tee",
    "water in the house pipes",
    "flow from the pump",
    "shaft speed",
    "water in the tank",
    "tank air temperature",
    "water in the source",
    "water in the run",
    "air at the tee",
    "air in the house pipes",
    "air in the run",
    "air in the pump",
    "air on the tank's water side",
    "tank air charge",
    "water temperature in the pump",
    "pressure sensed by the switch",
    "gauge needle",
    "water used",
    "water drained",
    "water relieved",
    "water leaked",
    "inflow to the source",
    "overflow of the source",
    "air let out",
    "air drawn in",
    "shaft work",
    "water drawn",
    "energy from the supply",
    "winding temperature",
    "breaker heat",
    "joint temperature",
    "motor heat",
    "seal wear",
    "impeller wear",
    "protector temperature",
];
