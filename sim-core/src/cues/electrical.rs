//! What is heard of switch and breaker, and what is seen in the panel.

use super::carry::{Place, is_at_wall};
use super::make::{Cues, ramp};
use crate::catalog::PartId;
use crate::parts::PumpPlacement;
use crate::plant::{Conditions, Device, Event, EventKind, Plant};
use crate::units::convert::HORSEPOWER;

/// Contact movements within [`CHATTER_S`] that are chatter (training values): a pump that
/// runs two seconds is short cycling, not chatter.
const CHATTER_EVENTS: usize = 6;
const CHATTER_S: f64 = 3.0;
/// Voltage over closed contacts at which arcing is just heard, and where it cannot be
/// missed [V] (training values; an arc between copper or silver needs some 10 V, from
/// memory).
const BUZZ_V: f64 = 1.5;
const LOUD_BUZZ_V: f64 = 15.0;

/// Times of the contacts' movements [s].
fn contact_times(events: &[Event]) -> Vec<f64> {
    events
        .iter()
        .filter(|e| {
            matches!(
                e.kind,
                EventKind::ContactsClosed | EventKind::ContactsOpened
            )
        })
        .map(|e| e.time_s)
        .collect()
}

/// The fastest chatter in these events, in movements a second; none when there is none.
pub(super) fn chatter_per_s(events: &[Event]) -> Option<f64> {
    let times = contact_times(events);
    let mut fastest: Option<f64> = None;
    for window in times.windows(CHATTER_EVENTS) {
        let span = window[CHATTER_EVENTS - 1] - window[0];
        if span <= CHATTER_S {
            let rate = (CHATTER_EVENTS - 1) as f64 / span.max(0.02);
            fastest = Some(fastest.map_or(rate, |f| f.max(rate)));
        }
    }
    fastest
}

/// Contact movements within [`SWINGS_S`] that keep the gauge's needle going (training
/// values).
const SWINGS: usize = 4;
const SWINGS_S: f64 = 20.0;

/// Whether the pressure goes up and down so fast that a needle is never at rest.
pub(super) fn swings(events: &[Event]) -> bool {
    contact_times(events)
        .windows(SWINGS)
        .any(|w| w[SWINGS - 1] - w[0] <= SWINGS_S)
}

pub(super) fn hear(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    hear_events(out, plant);
    if now.is_powered {
        let volts = now.line_current_a * now.contact_ohm;
        out.sound(
            "contact_buzz",
            PartId::PressureSwitch,
            (Place::Wall, ramp(volts, BUZZ_V, LOUD_BUZZ_V).sqrt()),
            "The pressure switch buzzes and crackles while the pump has power.",
        );
    }
}

/// What moved while one was there.
pub(super) fn hear_events(out: &mut Cues<'_>, plant: &Plant) {
    let events = out.attention.events;
    let count = |kinds: &[EventKind]| events.iter().filter(|e| kinds.contains(&e.kind)).count();
    if let Some(rate) = chatter_per_s(events) {
        out.sound(
            "switch_chatter",
            PartId::PressureSwitch,
            (Place::Wall, 0.6 + 0.4 * ramp(rate, 1.0, 10.0)),
            format!("The pressure switch chatters, about {rate:.0} times a second."),
        );
    } else {
        let clicks = contact_times(events).len();
        if clicks > 0 {
            let caption = match clicks {
                1 => "The pressure switch clicks.".to_owned(),
                n => format!("The pressure switch clicks {n} times."),
            };
            out.sound(
                "switch_click",
                PartId::PressureSwitch,
                (Place::Wall, 0.3),
                caption,
            );
        }
    }
    if count(&[EventKind::BreakerTripped, EventKind::GroundFaultTripped]) > 0 {
        out.sound(
            "breaker_snap",
            PartId::Breaker,
            (Place::Panel, 0.8),
            "A breaker snaps in the panel.",
        );
    }
    if count(&[EventKind::LowPressureTripped]) > 0 {
        out.sound(
            "cut_off_snap",
            PartId::PressureSwitch,
            (Place::Wall, 0.4),
            "The lever of the pressure switch drops with a snap.",
        );
    }
    if is_at_wall(plant) && count(&[EventKind::ProtectorTripped, EventKind::ProtectorReset]) > 0 {
        out.sound(
            "protector_click",
            PartId::Motor,
            (Place::Wall, 0.2),
            "Something clicks inside the motor.",
        );
    }
}

/// The breaker's handle and what protects beside it.
pub(super) fn see_panel(out: &mut Cues<'_>, plant: &Plant) {
    if plant.site().pump.placement == PumpPlacement::Submersible {
        // Makers send a second plate along for the panel (common practice, no source).
        let motor = &plant.site().motor;
        out.add(
            "motor_nameplate",
            PartId::Motor,
            0.1,
            format!(
                "A second plate of the pump, stuck to the panel, says {:.0} V, {:.2} kW ({:.2} hp).",
                motor.rated_voltage.si(),
                motor.rated_power.si() / 1_000.0,
                motor.rated_power.si() / HORSEPOWER
            ),
        );
    }
    let circuit = &plant.modes().circuit;
    if circuit.breaker == Device::Open {
        out.add(
            "breaker_tripped",
            PartId::Breaker,
            0.7,
            "The pump's breaker stands in the middle, between on and off.",
        );
    } else if plant.controls().breaker_on {
        out.add(
            "breaker_on",
            PartId::Breaker,
            0.2,
            "The pump's breaker stands at on.",
        );
    } else {
        out.add(
            "breaker_off",
            PartId::Breaker,
            0.3,
            "The pump's breaker stands at off.",
        );
    }
    if circuit.ground_fault == Device::Open {
        out.add(
            "ground_fault_tripped",
            PartId::Breaker,
            0.7,
            "The ground-fault device has tripped; its mark shows.",
        );
    }
}
