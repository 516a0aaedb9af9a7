//! Cautions that belong to acts, told each time the act is done.
//!
//! They stand in one place so that they can be read together.  Where one names a number or
//! a rule it says on what that rests; everything else is common practice of the trade.

/// A cover in front of live parts.
pub(super) const LIVE_PARTS: &str = "Behind this cover are parts at mains voltage. Local codes \
    and licensed practice decide who may work here.";
/// The panel's cover, besides [`LIVE_PARTS`].
pub(super) const PANEL_LUGS: &str =
    "The lugs on the supply's side of the breaker stay live whatever is locked.";
/// The lid of the cistern, the cap of the well.
pub(super) const SOURCE_OPENED: &str = "Drinking water: an opened source is owed disinfection and \
    a sample, as the local authority asks. Nobody climbs in.";
/// Looking into the source.
pub(super) const LOOK_IN: &str =
    "Look from outside, both hands on the rim. Nobody climbs in, not even to help.";
/// Lock and tag.
pub(super) const NOT_YET_PROVED: &str =
    "Locked off is not yet proved dead: test where you will put your hands.";
/// The lock taken away.
pub(super) const LOCK_OFF: &str =
    "Before the power comes back: everybody clear, conductors joined, covers on.";
/// The proof of dead.
pub(super) const PROOF_OF_DEAD: &str = "This proof holds for this place and this lock only: prove \
    again elsewhere, and whenever the lock has been off.";
/// Volts, amperes or watts where something may be live.
pub(super) const LIVE_MEASUREMENT: &str = "Live work: a qualified person dressed for it, meter and \
    leads rated for the circuit, one hand. What can be measured dead is measured dead (29 CFR \
    1910.333 and 1910.335; local rules elsewhere).";
/// The insulation tester.
pub(super) const INSULATION_TEST: &str = "Announce the test and keep everybody off the wires: it \
    puts 500 V DC on them (the tester's own figure). Electronics are disconnected before, and \
    the cable is discharged after.";
/// The capacitor.
pub(super) const DISCHARGE: &str =
    "Through a resistor, never with a screwdriver across the terminals.";
/// Capacitance, which is read at the capacitor's own terminals.
pub(super) const CAPACITOR: &str =
    "Take a capacitor as charged until you have discharged it, and again after every try.";
/// Conductors taken apart in the splice box.
pub(super) const LEADS_APART: &str =
    "The lock stays on as long as conductors hang apart; note which belongs to which.";
/// Conductors joined again.
pub(super) const LEADS_JOINED: &str = "Connectors made for wet places, the earth conductor joined \
    as well, and a pull on each before the lid goes on.";
/// A hand on something.
pub(super) const TOUCH: &str = "Back of the hand, and briefly: what is hot burns, and metal that \
    has lost its earth can be live.";
/// The breaker switched on after a trip.
pub(super) const RESET_ONCE: &str =
    "Reset once. If it trips again, lock out and measure before another try.";
/// The low-pressure lever.
pub(super) const LEVER: &str = "While you hold the lever it does not keep the pump from running \
    dry: let go when the gauge does not rise within a minute or two (common practice, no source).";
/// Water let out by the drain cock.
pub(super) const DRAIN: &str = "Water leaves under pressure: lead it away from panel and cables. \
    To empty the tank for work, lock the power off first, or the pump starts.";
/// The air valve pressed.
pub(super) const AIR_VALVE: &str = "Face aside: air, or water from a torn bladder, comes out.";
/// Air put into the tank.
pub(super) const TANK_DRAINED: &str = "The charge is what it is only with the tank drained; with \
    water in, the tyre gauge reads the system's pressure.";
/// Air put into the tank, besides [`TANK_DRAINED`].
pub(super) const TANK_RATING: &str =
    "Never above the rating on the tank's plate: air stores far more energy than water.";
/// The nuts of the pressure switch.
pub(super) const SWITCH_NUTS: &str = "The nuts stand beside the terminals: locked out and proved \
    dead unless you are qualified for live work. Cut-out stays below the ratings on the plates \
    and below what the pump can reach.";
/// The nuts of the pressure switch, besides [`SWITCH_NUTS`].
pub(super) const NEW_PRECHARGE: &str = "A new cut-in asks for a new precharge: 2 psi (14 kPa) or so \
    below it, tank drained (makers' instructions, common practice).";
/// Work on conductors, or on what hangs on them.
pub(super) const WIRES: &str = "Locked out and proved dead here before a hand touches a conductor, \
    or left to a qualified person; local codes decide who may do it.";
/// A fitting opened: gauge, part with water in it.
pub(super) const FITTING: &str = "Power locked off, drain open, gauge at nothing: a fitting under \
    pressure flies.";
/// The tank replaced: its weight.
pub(super) const TANK_WEIGHT: &str = "Drained before it is lifted, two people: each liter left in it \
    weighs a kilogram.";
/// The tank replaced: its air.
pub(super) const TANK_AIR: &str =
    "A new tank comes with the maker's air: check and set it before it takes water.";
/// Thawing.
pub(super) const THAW: &str = "Warm cloths or a hair dryer; never a flame. What froze may have split: \
    have the valve before it at hand when the water comes back.";
/// Water brought.
pub(super) const REFILL: &str = "Only water that the local authority accepts for drinking, and the \
    hose's end above the water: what touches it can be drawn back.";
/// The pump pulled or lowered.
pub(super) const HOIST: &str = "Two people, a hoist and a safety rope, never the cable; nobody \
    leans in or climbs after what falls. What goes back in is clean.";
/// The vent.
pub(super) const VENT: &str = "Open slowly, face and hands aside: air and water leave under \
    pressure, and from a pump that ran dry they can scald.";
/// The priming plug.
pub(super) const PRIME: &str = "Power off and pressure gone before the plug comes out; prime with \
    drinking water, and never start a pump that is not full.";
/// Disinfection.
pub(super) const DISINFECT: &str = "Dose, holding time and sample are for the local authority to \
    say; keep treatment units bypassed, and never mix chlorine with acid.";
