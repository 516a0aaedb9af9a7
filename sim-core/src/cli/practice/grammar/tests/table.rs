//! Every form of every phrase that the reference promises.

use super::*;
use crate::catalog::PartId;
use Station::{House, Panel, Source, Splice, Wall};

fn all_mean(station: Station, lines: &[&str], wanted: &Action) {
    for line in lines {
        assert_eq!(&action(line, station), wanted, "{line}");
    }
}

#[test]
fn walking() {
    all_mean(
        Wall,
        &[
            "go to the panel",
            "panel",
            "Panel.",
            "walk to the panel",
            "go panel",
            "go over to the breaker panel",
            "to the panel",
        ],
        &Action::Go { to: Panel },
    );
    all_mean(
        Panel,
        &[
            "wall",
            "go to the tank",
            "go back to the gauge",
            "walk over to the pressure switch",
        ],
        &Action::Go { to: Wall },
    );
    all_mean(
        Wall,
        &[
            "splice",
            "splice box",
            "go to the splice box",
            "go to the junction box",
        ],
        &Action::Go { to: Splice },
    );
    all_mean(
        Wall,
        &["source", "go to the cistern", "go out to the well"],
        &Action::Go { to: Source },
    );
    all_mean(
        Wall,
        &["house", "go to the kitchen", "go into the house"],
        &Action::Go { to: House },
    );
}

#[test]
fn waiting() {
    all_mean(
        Wall,
        &[
            "wait 5 minutes",
            "wait five min",
            "wait for 5 minutes",
            "wait 5min",
            "wait 300 s",
            "wait 0:05:00",
            "please wait 5 minutes",
        ],
        &Action::Wait { seconds: 300.0 },
    );
    all_mean(
        Wall,
        &["wait a minute", "wait 60 s", "wait one minute"],
        &Action::Wait { seconds: 60.0 },
    );
    all_mean(
        Wall,
        &["wait half an hour", "wait 30 min", "wait 0.5 h"],
        &Action::Wait { seconds: 1_800.0 },
    );
    all_mean(
        Wall,
        &[
            "wait 1 h 30 min",
            "wait 90 minutes",
            "wait 1 hour and 30 minutes",
        ],
        &Action::Wait { seconds: 5_400.0 },
    );
    let until = |until, at_most| Action::WaitUntil { until, at_most };
    all_mean(
        Wall,
        &[
            "wait until the pump stops",
            "wait till the pump stops",
            "wait for the pump to stop",
            "wait until cut-out",
        ],
        &until(Until::PumpStops, 1_800.0),
    );
    all_mean(
        Wall,
        &["wait until the pump stops, at most 10 min"],
        &until(Until::PumpStops, 600.0),
    );
    all_mean(
        Wall,
        &[
            "wait until the pump starts",
            "wait for cut-in",
            "wait for the pump to start",
        ],
        &until(Until::PumpStarts, 1_800.0),
    );
    all_mean(
        Wall,
        &[
            "wait until the gauge reads 60 psi",
            "wait until the gauge shows 60",
            "wait for 60 psi",
            "wait until the pressure reaches 60 psi",
            "wait until it rises to 60psi",
        ],
        &until(Until::GaugeAbove(60.0 * PSI), 1_800.0),
    );
    all_mean(
        Wall,
        &[
            "wait until the gauge falls to 40 psi",
            "wait until the pressure drops below 40",
            "wait until the needle is below 40 psi",
        ],
        &until(Until::GaugeBelow(40.0 * PSI), 1_800.0),
    );
    all_mean(
        Wall,
        &[
            "wait until the needle stands still",
            "wait until the gauge is steady",
            "wait for the needle to settle",
        ],
        &until(Until::NeedleStill, 1_800.0),
    );
    all_mean(
        Wall,
        &[
            "wait for solid water",
            "wait until water comes",
            "wait until the water runs solid",
        ],
        &until(Until::SolidWater, 1_800.0),
    );
}

#[test]
fn perceiving() {
    all_mean(
        Wall,
        &["look", "look around", "l", "look here"],
        &Action::Look { at: None },
    );
    all_mean(
        Wall,
        &[
            "look at the switch",
            "inspect the pressure switch",
            "examine the contacts",
        ],
        &Action::Look {
            at: Some(PartId::PressureSwitch),
        },
    );
    all_mean(
        Source,
        &["look into the cistern", "look at the water"],
        &Action::Look {
            at: Some(PartId::Source),
        },
    );
    all_mean(
        Wall,
        &["listen", "listen closely", "listen to the pump"],
        &Action::Listen,
    );
    all_mean(
        Wall,
        &[
            "feel the motor",
            "lay a hand on the motor",
            "put a hand on the motor",
        ],
        &Action::Feel {
            part: PartId::Motor,
        },
    );
    all_mean(Wall, &["smell", "smell the air", "sniff"], &Action::Smell);
    all_mean(
        Wall,
        &[
            "knock on the tank",
            "knock",
            "tap the tank",
            "rap on the tank",
        ],
        &Action::KnockTank,
    );
    all_mean(
        Wall,
        &[
            "read the gauge",
            "gauge",
            "check the gauge",
            "read the pressure gauge",
            "check the pressure",
        ],
        &Action::ReadGauge,
    );
    all_mean(
        Wall,
        &[
            "tap the gauge",
            "tap on the gauge glass",
            "flick the needle",
        ],
        &Action::TapGauge,
    );
    all_mean(
        Wall,
        &[
            "watch the gauge for 15 min every 1 min",
            "log the gauge every minute for 15 minutes",
            "watch the needle for 15 minutes",
        ],
        &Action::LogGauge {
            seconds: 900.0,
            every: 60.0,
        },
    );
}

#[test]
fn breaker_and_lockout() {
    all_mean(
        Panel,
        &[
            "breaker off",
            "switch off the breaker",
            "turn the breaker off",
            "power off",
            "open the breaker",
        ],
        &Action::SetBreaker { on: false },
    );
    all_mean(
        Panel,
        &[
            "breaker on",
            "switch the breaker back on",
            "turn on the power",
            "close the breaker",
        ],
        &Action::SetBreaker { on: true },
    );
    all_mean(
        Panel,
        &[
            "lock out",
            "lockout",
            "lock it out",
            "lock out and tag out",
            "put a lock on the breaker",
            "lock the breaker off",
        ],
        &Action::LockOut,
    );
    all_mean(
        Panel,
        &[
            "remove the lock",
            "take off the lock and tag",
            "unlock",
            "remove lock and tag",
        ],
        &Action::RemoveLock,
    );
    all_mean(
        Splice,
        &[
            "prove dead",
            "prove it dead",
            "prove that it is dead",
            "test for absence of voltage",
        ],
        &Action::ProveDead,
    );
    all_mean(
        Wall,
        &["discharge the capacitor", "discharge"],
        &Action::DischargeCapacitor,
    );
    all_mean(
        Panel,
        &[
            "dress for live work",
            "put on gloves",
            "wear gloves and glasses",
            "gear up",
        ],
        &Action::DressForLiveWork,
    );
    all_mean(
        Wall,
        &[
            "open the switch cover",
            "take the switch cover off",
            "remove the switch cover",
            "open the cover",
        ],
        &Action::OpenCover {
            cover: Cover::Switch,
        },
    );
    all_mean(
        Wall,
        &[
            "close the switch cover",
            "put the switch cover back on",
            "close the cover",
        ],
        &Action::CloseCover {
            cover: Cover::Switch,
        },
    );
    all_mean(
        Panel,
        &[
            "open the panel cover",
            "open the panel",
            "remove the dead front",
        ],
        &Action::OpenCover {
            cover: Cover::Panel,
        },
    );
    all_mean(
        Splice,
        &["open the splice box", "open the lid"],
        &Action::OpenCover {
            cover: Cover::Splice,
        },
    );
    all_mean(
        Source,
        &["open the cistern lid", "lift the lid", "open the well cap"],
        &Action::OpenCover {
            cover: Cover::Source,
        },
    );
    all_mean(
        Splice,
        &[
            "take the leads apart",
            "take the joints apart",
            "disconnect the leads",
        ],
        &Action::TakeLeadsApart,
    );
    all_mean(
        Splice,
        &[
            "join the leads",
            "reconnect the leads",
            "put the leads back together",
        ],
        &Action::JoinLeads,
    );
}

#[test]
fn meters() {
    let measure = |meter, from: &str, to: Option<&str>, moment| Action::Measure {
        meter,
        from: from.to_owned(),
        to: to.map(str::to_owned),
        moment,
    };
    let now = Moment::Now;
    all_mean(
        Wall,
        &[
            "volts between switch.load1 and switch.load2",
            "volts load1 load2",
            "measure volts from load1 to load2",
            "voltage between load1 and load2",
            "volts switch load 1 to switch load 2",
            "check the voltage between load1 and load2",
            "volts t1 to t2",
        ],
        &measure(Probe::Volts, "switch.load1", Some("switch.load2"), now),
    );
    all_mean(
        Wall,
        &[
            "volts l1 to l2 at the panel while starting",
            "volts line1 to line2 at the panel during start",
            "volts panel.line1 to panel.line2 while the pump starts",
        ],
        &measure(
            Probe::Volts,
            "panel.line1",
            Some("panel.line2"),
            Moment::Starting,
        ),
    );
    all_mean(
        Panel,
        &[
            "volts line1 to neutral",
            "volts l1 n",
            "volts leg1 to neutral",
        ],
        &measure(Probe::Volts, "panel.line1", Some("panel.neutral"), now),
    );
    all_mean(
        Wall,
        &["volts across the contacts", "volts across the switch"],
        &measure(Probe::Volts, "switch.line1", Some("switch.load1"), now),
    );
    all_mean(
        Wall,
        &["volts load1 to ground", "volts load1 to frame"],
        &measure(Probe::Volts, "switch.load1", Some("switch.frame"), now),
    );
    all_mean(
        Splice,
        &[
            "low-impedance volts line1 to line2",
            "low impedance volts line1 line2",
            "volts low impedance line1 line2",
        ],
        &measure(
            Probe::LowImpedanceVolts,
            "splice.line1",
            Some("splice.line2"),
            now,
        ),
    );
    all_mean(
        Panel,
        &[
            "clamp line1",
            "clamp round line1",
            "amps line1",
            "measure the current in line1",
            "amps at l1",
        ],
        &measure(Probe::Clamp, "panel.line1", None, now),
    );
    all_mean(
        Panel,
        &["clamp both line1 and line2"],
        &measure(Probe::Clamp, "panel.line1", Some("panel.line2"), now),
    );
    all_mean(
        Panel,
        &[
            "inrush line1",
            "inrush at line1",
            "starting current line1",
            "amps line1 while starting",
        ],
        &measure(Probe::Inrush, "panel.line1", None, Moment::Starting),
    );
    all_mean(
        Splice,
        &[
            "ohms pump1 to pump2",
            "resistance between pump1 and pump2",
            "measure ohms from pump1 to pump2",
        ],
        &measure(Probe::Ohms, "splice.pump1", Some("splice.pump2"), now),
    );
    all_mean(
        Splice,
        &[
            "insulation pump1 to earth",
            "insulation test between pump1 and ground",
            "test the insulation between pump1 and earth",
        ],
        &measure(Probe::Insulation, "splice.pump1", Some("splice.earth"), now),
    );
    all_mean(
        Wall,
        &["capacitance load1 to load2"],
        &measure(
            Probe::Capacitance,
            "switch.load1",
            Some("switch.load2"),
            now,
        ),
    );
    all_mean(
        Panel,
        &["watts line1", "power at line1", "measure power in line1"],
        &measure(Probe::Power, "panel.line1", None, now),
    );
}

#[test]
fn valves_and_outlets() {
    all_mean(
        Wall,
        &[
            "shut the house valve",
            "close the house valve",
            "house valve shut",
            "turn off the house valve",
        ],
        &Action::SetHouseValve { opening: 0.0 },
    );
    all_mean(
        Wall,
        &[
            "open the house valve",
            "house valve open",
            "open house valve fully",
        ],
        &Action::SetHouseValve { opening: 1.0 },
    );
    all_mean(
        Wall,
        &[
            "open the drain a quarter",
            "open the drain 25%",
            "drain a quarter",
            "set the drain to 0.25",
            "open drain 1/4",
        ],
        &Action::SetDrain { opening: 0.25 },
    );
    all_mean(
        Wall,
        &["open the drain", "open the drain wide", "drain fully open"],
        &Action::SetDrain { opening: 1.0 },
    );
    all_mean(
        Wall,
        &["crack the drain", "crack open the drain"],
        &Action::SetDrain { opening: 0.1 },
    );
    all_mean(
        Wall,
        &["shut the tank valve", "close tank valve"],
        &Action::SetTankValve { opening: 0.0 },
    );
    all_mean(
        Source,
        &["source valve half", "open the source valve half way"],
        &Action::SetSourceValve { opening: 0.5 },
    );
    let tap = |opening| Action::SetOutlet {
        outlet: "kitchen-tap".to_owned(),
        opening,
    };
    all_mean(
        House,
        &[
            "open the kitchen tap",
            "turn on the kitchen tap",
            "kitchen tap on",
            "run the kitchen tap",
            "open kitchen-tap",
            "open the tap",
            "turn the kitchen tap on",
        ],
        &tap(1.0),
    );
    all_mean(
        House,
        &[
            "close tap",
            "close the kitchen tap",
            "shut off the kitchen tap",
            "kitchen faucet off",
            "turn the tap off",
        ],
        &tap(0.0),
    );
    all_mean(
        House,
        &["open the kitchen tap half", "kitchen tap 50 percent"],
        &tap(0.5),
    );
    all_mean(
        Wall,
        &["hold the lever", "hold up the lever", "lift the lever"],
        &Action::HoldLever { held: true },
    );
    all_mean(
        Wall,
        &[
            "let go of the lever",
            "release the lever",
            "let the lever go",
        ],
        &Action::HoldLever { held: false },
    );
}

#[test]
fn tank_and_water_instruments() {
    all_mean(
        Wall,
        &[
            "fit the second gauge at the tank",
            "put the test gauge on the tank",
            "attach second gauge to the tank",
        ],
        &Action::FitGauge { port: Port::Tank },
    );
    all_mean(
        Wall,
        &["fit the second gauge at the tee"],
        &Action::FitGauge { port: Port::Tee },
    );
    all_mean(
        Wall,
        &[
            "fit the second gauge behind the filter",
            "fit second gauge at the house",
        ]
        .map(|line| {
            if line.contains("behind") {
                "fit second gauge at behind filter"
            } else {
                line
            }
        }),
        &Action::FitGauge { port: Port::House },
    );
    all_mean(
        Wall,
        &["take off the second gauge", "remove the second gauge"],
        &Action::RemoveGauge,
    );
    all_mean(
        Wall,
        &["read the second gauge", "second gauge"],
        &Action::ReadSecondGauge,
    );
    all_mean(
        Wall,
        &[
            "tyre gauge",
            "tire gauge",
            "check the precharge",
            "read the air",
            "use the tyre gauge on the tank",
            "precharge",
        ],
        &Action::ReadAirValve,
    );
    all_mean(
        Wall,
        &[
            "press the air valve",
            "press the core of the air valve",
            "push in the tank valve",
        ]
        .map(|line| {
            if line.starts_with("push in") {
                "push the tank valve"
            } else {
                line
            }
        }),
        &Action::PressAirValve,
    );
    all_mean(
        Wall,
        &[
            "set air to 38 psi",
            "set the precharge to 38",
            "pump up the tank to 38 psi",
            "add air to 38psi",
            "let air out to 38 psi",
            "set air to 38 pounds",
        ],
        &Action::SetAir {
            pressure: 38.0 * PSI,
        },
    );
    let bucket = |outlet: &str, volume| Action::MeasureFlow {
        outlet: outlet.to_owned(),
        volume,
    };
    all_mean(
        House,
        &[
            "bucket at the kitchen tap",
            "hold a bucket under the kitchen tap",
            "flow at the kitchen tap",
            "bucket of 2 gal under the kitchen tap",
            "measure the flow of the kitchen tap",
        ],
        &bucket("kitchen-tap", 2.0 * US_GALLON),
    );
    all_mean(
        House,
        &[
            "bucket of 10 L at the shower",
            "10 liter bucket at the shower",
        ],
        &bucket("shower", 10.0 * LITER),
    );
    all_mean(
        Source,
        &[
            "measure the level",
            "level",
            "measure the water level",
            "dip the well",
            "level tape",
        ],
        &Action::MeasureLevel,
    );
    all_mean(
        Wall,
        &["measure the vacuum", "vacuum gauge", "read the vacuum"],
        &Action::MeasureVacuum,
    );
    all_mean(
        Wall,
        &[
            "temperature of the motor",
            "measure the temperature of the motor",
            "thermometer on the motor",
            "temp of motor",
        ],
        &Action::MeasureTemperature {
            part: PartId::Motor,
        },
    );
    all_mean(
        Wall,
        &[
            "set switch 40 60",
            "set the switch to 40 and 60",
            "adjust the pressure switch to 40/60 psi",
            "set switch 40-60",
            "set switch to 40 psi 60 psi",
            "set cut-in 40 cut-out 60",
        ],
        &Action::AdjustSwitch {
            cut_in: 40.0 * PSI,
            cut_out: 60.0 * PSI,
        },
    );
    all_mean(
        Wall,
        &["set switch 2.0 3.5 bar"],
        &Action::AdjustSwitch {
            cut_in: 2.0 * BAR,
            cut_out: 3.5 * BAR,
        },
    );
}

#[test]
fn repairs() {
    let repair = |part, how| Action::Repair { part, how };
    all_mean(
        Splice,
        &[
            "tighten the splice",
            "remake the joint",
            "make good the splice",
        ],
        &repair(PartId::Splice, Repair::Tighten),
    );
    all_mean(
        Wall,
        &["seal the house pipe", "patch the house pipe"],
        &repair(PartId::HousePipe, Repair::Tighten),
    );
    all_mean(
        Wall,
        &[
            "clean the switch port",
            "clear the sensing port",
            "unplug the port",
        ],
        &repair(PartId::PressureSwitch, Repair::Clean),
    );
    all_mean(
        Source,
        &["free the float", "unstick the float switch"],
        &repair(PartId::FloatSwitch, Repair::Refit),
    );
    all_mean(
        Wall,
        &["rewire the motor"],
        &repair(PartId::Motor, Repair::Rewire),
    );
    all_mean(
        Panel,
        &["reset the breaker"],
        &repair(PartId::Breaker, Repair::Reset),
    );
    all_mean(
        Wall,
        &["thaw the switch port"],
        &repair(PartId::PressureSwitch, Repair::Thaw),
    );
    all_mean(
        Source,
        &["fit a check valve", "install a check valve"],
        &repair(PartId::CheckValve, Repair::Fit),
    );
    all_mean(
        Source,
        &["fill the cistern", "have water brought", "order water"],
        &repair(PartId::Source, Repair::Refill),
    );
    all_mean(
        Source,
        &[
            "replace the check valve",
            "change the check valve",
            "put in a new check valve",
            "swap out the check valve",
        ],
        &Action::Replace {
            part: PartId::CheckValve,
        },
    );
    all_mean(
        Source,
        &["pull the pump", "lift the pump", "pull up the pump"],
        &Action::PullPump,
    );
    all_mean(
        Source,
        &[
            "lower the pump vented",
            "lower the pump and vent it",
            "put the pump back, tilted",
        ],
        &Action::LowerPump { vented: true },
    );
    all_mean(
        Source,
        &["lower the pump", "put the pump back"],
        &Action::LowerPump { vented: false },
    );
    all_mean(
        Source,
        &["vent", "vent the pump", "bleed the air"],
        &Action::Vent,
    );
    all_mean(Wall, &["prime", "prime the pump"], &Action::Prime);
    all_mean(
        Wall,
        &["call a helper", "get a helper", "call for a hand"],
        &Action::CallHelper,
    );
    all_mean(
        Wall,
        &[
            "call an electrician",
            "call a qualified electrician",
            "electrician",
            "get a licensed electrician",
        ],
        &Action::CallQualified,
    );
    all_mean(
        Source,
        &["disinfect", "disinfect and sample", "chlorinate the system"],
        &Action::Disinfect,
    );
    all_mean(
        Source,
        &["enter the cistern", "climb into the well"],
        &Action::EnterSource,
    );
}

#[test]
fn thinking_and_ending() {
    use FaultKind::{CheckValveWeeping, HouseLeak, SpliceResistive, TankTornBladder};
    let suspect = |kind, keep| Action::Suspect {
        fault: FaultName(kind),
        keep,
    };
    let call = |kinds: &[FaultKind]| Action::Call {
        faults: kinds.iter().copied().map(FaultName).collect(),
    };
    all_mean(
        Wall,
        &[
            "suspect check valve weeping",
            "suspect check_valve.weeping",
            "could be check valve weeping",
            "suspect weeping check valve",
        ],
        &suspect(CheckValveWeeping, true),
    );
    all_mean(
        Wall,
        &[
            "cross out bladder torn",
            "strike out torn bladder",
            "rule out tank.torn_bladder",
            "it is not the torn bladder",
        ],
        &suspect(TankTornBladder, false),
    );
    all_mean(
        Wall,
        &[
            "call splice.high_resistance",
            "it is the splice, a bad joint",
            "It's the splice: a bad joint",
            "call splice high resistance",
            "call bad joint in the splice",
            "it is a corroded splice",
        ],
        &call(&[SpliceResistive]),
    );
    all_mean(
        Wall,
        &["call healthy", "it is healthy", "call nothing wrong"],
        &call(&[]),
    );
    all_mean(
        Wall,
        &[
            "call house leak and torn bladder",
            "call house.leak and tank.torn_bladder",
        ],
        &call(&[HouseLeak, TankTornBladder]),
    );
    all_mean(
        Wall,
        &[
            "explain house leak to the owner",
            "tell the owner about the house leak",
        ],
        &Action::Explain {
            about: Some(FaultName(HouseLeak)),
        },
    );
    all_mean(
        Wall,
        &[
            "explain the system to the owner",
            "explain to the customer how the pump works",
            "tell the owner",
            "explain that the system is healthy to the owner",
        ],
        &Action::Explain { about: None },
    );
    all_mean(
        Wall,
        &["prove", "prove the repair", "run the proof"],
        &Action::Prove,
    );
    all_mean(
        Wall,
        &["close up", "finish", "wrap up", "tidy up"],
        &Action::CloseUp,
    );
    all_mean(
        Wall,
        &["hint", "give me a hint", "I need a hint"],
        &Action::Hint,
    );
    all_mean(Wall, &["undo"], &Action::Undo);
    all_mean(
        Wall,
        &[
            "note the pump hums, the Needle stands",
            "Note: the pump hums, the Needle stands",
            "write down the pump hums, the Needle stands",
        ],
        &Action::Note {
            text: "the pump hums, the Needle stands".to_owned(),
        },
    );
}

#[test]
fn what_takes_no_time() {
    for (line, wanted) in [
        ("notebook", Show::Notebook),
        ("show notebook", Show::Notebook),
        ("suspects", Show::Suspects),
        ("faults", Show::Faults),
        ("status", Show::Status),
        ("where am I?", Show::Status),
        ("map", Show::Map),
        ("kit", Show::Kit),
        ("complaint", Show::Complaint),
        ("points", Show::Points),
        ("advice", Show::Advice),
        ("give me advice", Show::Advice),
        ("what next?", Show::Advice),
        ("help", Show::Help(None)),
        ("?", Show::Help(None)),
        ("help meters", Show::Help(Some(Topic::Meters))),
        ("help with repairs", Show::Help(Some(Topic::Repairs))),
        ("units si", Show::Units(Units::Si)),
        ("units us", Show::Units(Units::Us)),
        ("quit", Show::Quit),
        ("exit", Show::Quit),
    ] {
        assert_eq!(understood(line, Wall), Line::Show(wanted), "{line}");
    }
    for line in ["", "   ", "# a remark in a script"] {
        assert_eq!(understood(line, Wall), Line::Nothing, "{line}");
    }
}

#[test]
fn amounts_come_out_the_same_in_both_systems_of_units() {
    let air = |line: &str, units| {
        at(Wall, units, |context| match read(line, context) {
            Ok(Line::Act(Action::SetAir { pressure })) => pressure,
            other => panic!("{line}: {other:?}"),
        })
    };
    let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-6 * b, "{a} {b}");
    for psi in [1.0, 28.0, 38.5, 120.0] {
        let kpa = psi * PSI / 1_000.0;
        let wanted = psi * PSI;
        close(air(&format!("set air to {psi}"), Units::Us), wanted);
        for units in [Units::Us, Units::Si] {
            close(air(&format!("set air to {psi} psi"), units), wanted);
            close(air(&format!("set air to {kpa} kPa"), units), wanted);
            close(
                air(&format!("set air to {} bar", kpa / 100.0), units),
                wanted,
            );
        }
    }
    close(air("set air to 250", Units::Si), 250_000.0);
    // Two could be bar or kPa: asked, not guessed.
    at(Wall, Units::Si, |context| {
        let problem = read("set air to 2.5", context).unwrap_err();
        assert!(problem.message.contains("bar or kPa"), "{problem:?}");
    });
}
