//! Locked out and drained: air, ohms and insulation, a second gauge for the next filling;
//! and the pump pulled.

use sim_core::catalog::PartId;
use sim_core::session::{Action, Cover, Port, Probe, Station, Until};
use sim_core::units::convert::PSI;

use super::exam::Exam;
use super::examine::part;
use super::grounds::Ground;
use super::hands::{Cut, Hands};

pub(super) const DRAINED: &[&str] = &[
    "gauge_drained",
    "tyre_drained",
    "tyre_next_day",
    "ohms_contact1",
    "ohms_contact2",
    "ohms_joint1",
    "ohms_joint2",
    "ohms_winding",
    "ohms_megger_motor",
    "ohms_megger_cable",
    "ohms_earth",
    "farads",
    "tee_static",
    "tee_static_wall",
    "tee_flowing",
    "tee_flowing_wall",
    "tank_static",
    "tank_static_wall",
    "tank_flowing",
    "tank_flowing_wall",
    "house_static",
    "house_static_wall",
    "house_flowing",
    "house_flowing_wall",
    "trapped_first",
    "trapped_last",
    "switch_static",
    "switch_static_wall",
    "switch_flowing",
    "switch_flowing_wall",
];

/// Locked out and drained: air, ohms, insulation, and a second gauge for the next filling.
pub(super) fn drained(exam: &mut Exam, hands: &mut Hands, ground: &Ground) -> Result<(), Cut> {
    hands.go(Station::Panel)?;
    hands.act(Action::LockOut)?;
    hands.go(Station::Wall)?;
    hands.act(Action::SetDrain { opening: 1.0 })?;
    hands.until(Until::GaugeBelow(0.5 * PSI), 900.0)?;
    hands.act(Action::Wait { seconds: 120.0 })?;
    exam.put_number("gauge_drained", hands.gauge()?);
    let empty = hands.clone();
    part(exam, &empty, &[], dead);
    for (port, names) in [
        (
            Port::Tee,
            [
                "tee_static",
                "tee_static_wall",
                "tee_flowing",
                "tee_flowing_wall",
            ],
        ),
        (
            Port::Switch,
            [
                "switch_static",
                "switch_static_wall",
                "switch_flowing",
                "switch_flowing_wall",
            ],
        ),
        (
            Port::Tank,
            [
                "tank_static",
                "tank_static_wall",
                "tank_flowing",
                "tank_flowing_wall",
            ],
        ),
        (
            Port::House,
            [
                "house_static",
                "house_static_wall",
                "house_flowing",
                "house_flowing_wall",
            ],
        ),
    ] {
        part(exam, &empty, &names, |exam, hands| {
            second_gauge(exam, hands, ground, port, names)
        });
    }
    let mut filling = empty.clone();
    part(exam, &empty, FILL, |exam, _| {
        first_fill(exam, &mut filling, ground)
    });
    hands.read(exam, "tyre_drained", Action::ReadAirValve)?;
    let mut next_day = hands.clone();
    next_day.act(Action::Wait { seconds: 86_400.0 })?;
    next_day.read(exam, "tyre_next_day", Action::ReadAirValve)?;
    hands.sense(exam, "air valve drained", Action::PressAirValve)?;
    Ok(())
}

/// Ohms, insulation, capacitance and earth, dead and proved.
pub(super) fn dead(exam: &mut Exam, hands: &mut Hands) -> Result<(), Cut> {
    hands.open(Cover::Switch)?;
    hands.sense(
        exam,
        "switch drained",
        Action::Look {
            at: Some(PartId::PressureSwitch),
        },
    )?;
    hands.act(Action::ProveDead)?;
    hands.measure(
        exam,
        "ohms_contact1",
        Probe::Ohms,
        ["switch.line1", "switch.load1"],
    )?;
    hands.measure(
        exam,
        "ohms_contact2",
        Probe::Ohms,
        ["switch.line2", "switch.load2"],
    )?;
    hands.act(Action::DischargeCapacitor)?;
    hands.measure(
        exam,
        "farads",
        Probe::Capacitance,
        ["pump.lead1", "pump.lead2"],
    )?;
    hands.go(Station::Splice)?;
    hands.open(Cover::Splice)?;
    hands.act(Action::ProveDead)?;
    hands.measure(
        exam,
        "ohms_joint1",
        Probe::Ohms,
        ["splice.line1", "splice.pump1"],
    )?;
    hands.measure(
        exam,
        "ohms_joint2",
        Probe::Ohms,
        ["splice.line2", "splice.pump2"],
    )?;
    hands.act(Action::TakeLeadsApart)?;
    hands.measure(
        exam,
        "ohms_winding",
        Probe::Ohms,
        ["splice.pump1", "splice.pump2"],
    )?;
    hands.measure(
        exam,
        "ohms_megger_motor",
        Probe::Insulation,
        ["splice.pump1", "splice.earth"],
    )?;
    hands.measure(
        exam,
        "ohms_megger_cable",
        Probe::Insulation,
        ["splice.line1", "splice.earth"],
    )?;
    hands.measure(
        exam,
        "ohms_earth",
        Probe::Ohms,
        ["splice.earth", "pump.frame"],
    )
}

pub(super) const FILL: &[&str] = &["fill_top", "fill_drop"];

/// The empty tank filled under the eye: how high the needle goes and the furthest it drops
/// on the way.
pub(super) fn first_fill(exam: &mut Exam, hands: &mut Hands, ground: &Ground) -> Result<(), Cut> {
    hands.act(Action::SetDrain { opening: 0.0 })?;
    power_up(hands)?;
    if has_lever(ground) {
        hands.act(Action::HoldLever { held: true })?;
    }
    let watched = hands.log(180.0, 0.5)?;
    let (mut top, mut drop) = (0.0_f64, 0.0_f64);
    for (_, psi) in watched {
        top = top.max(psi);
        drop = drop.max(top - psi);
    }
    exam.put_number("fill_top", top);
    exam.put_number("fill_drop", drop);
    Ok(())
}

/// The lock away and the breaker on, back at the wall.
fn power_up(hands: &mut Hands) -> Result<(), Cut> {
    hands.go(Station::Panel)?;
    hands.act(Action::RemoveLock)?;
    hands.act(Action::SetBreaker { on: true })?;
    hands.go(Station::Wall)
}

fn has_lever(ground: &Ground) -> bool {
    let wiring = ground.site.wiring.as_ref();
    wiring.is_some_and(|wiring| wiring.low_pressure_cut_off.is_some())
}

/// A second gauge on a port, the system filled again, read beside the gauge at the wall
/// at rest and with the widest outlet open.
pub(super) fn second_gauge(
    exam: &mut Exam,
    hands: &mut Hands,
    ground: &Ground,
    port: Port,
    names: [&str; 4],
) -> Result<(), Cut> {
    hands.act(Action::FitGauge { port })?;
    hands.act(Action::SetDrain { opening: 0.0 })?;
    power_up(hands)?;
    if has_lever(ground) {
        hands.act(Action::HoldLever { held: true })?;
        hands.act(Action::Wait { seconds: 60.0 })?;
        hands.act(Action::HoldLever { held: false })?;
    }
    hands.until(Until::PumpStops, 300.0)?;
    exam.put_number(names[1], hands.gauge()?);
    hands.read(exam, names[0], Action::ReadSecondGauge)?;
    if port == Port::House {
        let mut hands = hands.clone();
        hands.act(Action::SetHouseValve { opening: 0.0 })?;
        hands.read(exam, "trapped_first", Action::ReadSecondGauge)?;
        hands.act(Action::Wait { seconds: 600.0 })?;
        hands.read(exam, "trapped_last", Action::ReadSecondGauge)?;
    }
    hands.act(Action::SetDrain { opening: 0.4 })?;
    hands.until(Until::PumpStarts, 300.0)?;
    hands.go(Station::House)?;
    hands.act(Action::SetOutlet {
        outlet: ground.widest.to_owned(),
        opening: 1.0,
    })?;
    hands.go(Station::Wall)?;
    hands.read(exam, names[2], Action::ReadSecondGauge)?;
    exam.put_number(names[3], hands.gauge()?);
    Ok(())
}

/// The pump pulled and looked at, by two people and an electrician.
pub(super) fn pulled(exam: &mut Exam, hands: &mut Hands) -> Result<(), Cut> {
    exam.perceive("pump out", &[]);
    hands.act(Action::CallHelper)?;
    hands.act(Action::CallQualified)?;
    hands.go(Station::Panel)?;
    hands.act(Action::LockOut)?;
    hands.go(Station::Source)?;
    hands.open(Cover::Source)?;
    hands.act(Action::PullPump)?;
    hands.sense(exam, "pump out", Action::Look { at: None })?;
    hands.sense(exam, "pump out", Action::Smell)?;
    Ok(())
}
