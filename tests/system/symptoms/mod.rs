//! Symptoms: what a technician would see, hear and time at a site with a fault.
//!
//! A fault changes one parameter of the plant; what then shows at the gauge, the pressure
//! switch, the tap and the clamp meter must come out of the equations.  Each test asks
//! for the kind and the order of size that the trade knows, on a shallow cistern and on a
//! deep well, with the healthy twin as control.  Where a closed form exists (Boyle's law, the orifice
//! law, the hydrostatic column, a first-order lag) it gives the number.
//!
//! `overview` asks for the main ones in a few lines each; `table` writes all of them side
//! by side for people.

mod air_lock;
mod check_valve;
mod demand;
mod first_fill;
mod gauge;
mod healthy;
mod intake;
mod laws;
mod leak;
mod limits;
mod machine;
mod overview;
mod plugged_port;
mod rig;
mod settings;
mod table;
mod tank;
mod tank_faults;
mod water_way;
