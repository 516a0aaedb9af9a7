//! What a person can do: every face sends these, the logbook keeps these.
//!
//! Quantities are SI: pressures [Pa, gauge], times [s], volumes [m³].

use serde::{Deserialize, Serialize};

use super::station::{Cover, Station};
use crate::catalog::PartId;
use crate::faults::FaultKind;

/// Something that a person does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "do", rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub enum Action {
    /// Walk to a station.
    Go {
        /// Where to.
        to: Station,
    },
    /// Let time pass.
    Wait {
        /// How long [s].
        seconds: f64,
    },
    /// Let time pass until something happens that can be perceived from here.
    WaitUntil {
        /// What.
        until: Until,
        /// At most this long [s].
        at_most: f64,
    },
    /// Look round, or at one thing.
    Look {
        /// At what; everything in sight when none.
        at: Option<PartId>,
    },
    /// Listen for a moment.
    Listen,
    /// Lay a hand on something.
    Feel {
        /// On what.
        part: PartId,
    },
    /// Smell.
    Smell,
    /// Knock on the tank, high and low.
    KnockTank,
    /// Read the gauge at the wall.
    ReadGauge,
    /// Tap the gauge, then read it.
    TapGauge,
    /// Watch the gauge for a while and write it down at even intervals.
    LogGauge {
        /// How long [s].
        seconds: f64,
        /// Between two readings [s].
        every: f64,
    },
    /// Switch the breaker.
    SetBreaker {
        /// On or off.
        on: bool,
    },
    /// Turn the house valve.
    SetHouseValve {
        /// 0 shut to 1 open.
        opening: f64,
    },
    /// Turn the valve between tee and tank.
    SetTankValve {
        /// 0 shut to 1 open.
        opening: f64,
    },
    /// Turn the valve in the run at the source.
    SetSourceValve {
        /// 0 shut to 1 open.
        opening: f64,
    },
    /// Turn the drain cock.
    SetDrain {
        /// 0 shut to 1 open.
        opening: f64,
    },
    /// Turn an outlet of the house.
    SetOutlet {
        /// The outlet's name in the site.
        outlet: String,
        /// 0 shut to 1 open.
        opening: f64,
    },
    /// Hold the low-pressure lever of the pressure switch up, or let it go.
    HoldLever {
        /// Held.
        held: bool,
    },
    /// Open a cover.
    OpenCover {
        /// Which.
        cover: Cover,
    },
    /// Close a cover.
    CloseCover {
        /// Which.
        cover: Cover,
    },
    /// Put on what live work asks for and take a rated meter: gloves, glasses, one hand.
    DressForLiveWork,
    /// Lock the breaker off and tag it.
    LockOut,
    /// Take lock and tag away.
    RemoveLock,
    /// Test for absence of voltage here, the tester proved before and after.
    ProveDead,
    /// Discharge the capacitor through a resistor.
    DischargeCapacitor,
    /// Take the conductors apart in the splice box.
    TakeLeadsApart,
    /// Join the conductors in the splice box again.
    JoinLeads,
    /// Put an electrical meter on the circuit.
    Measure {
        /// Which meter or function.
        meter: Probe,
        /// Red lead, or the conductor in the jaws.
        from: String,
        /// Black lead, or a second conductor in the jaws.
        to: Option<String>,
        /// When.
        moment: Moment,
    },
    /// Screw the second gauge on a port.
    FitGauge {
        /// Where.
        port: Port,
    },
    /// Take the second gauge off.
    RemoveGauge,
    /// Read the second gauge.
    ReadSecondGauge,
    /// Put the tyre gauge on the tank's air valve.
    ReadAirValve,
    /// Press the core of the tank's air valve for a moment.
    PressAirValve,
    /// Pump air into the tank, or let some out, until the tyre gauge shows so much.
    SetAir {
        /// What the tyre gauge is to show [Pa, gauge].
        pressure: f64,
    },
    /// Hold a bucket under an outlet and stop the time.
    MeasureFlow {
        /// The outlet's name in the site.
        outlet: String,
        /// Size of the bucket [m³].
        volume: f64,
    },
    /// Let a tape down to the water.
    MeasureLevel,
    /// Read a vacuum gauge on the suction pipe.
    MeasureVacuum,
    /// Hold a thermometer against something.
    MeasureTemperature {
        /// Against what.
        part: PartId,
    },
    /// Turn the pressure switch's nuts.
    AdjustSwitch {
        /// Where the contacts shall close [Pa, gauge].
        cut_in: f64,
        /// Where they shall open [Pa, gauge].
        cut_out: f64,
    },
    /// Repair something where it is.
    Repair {
        /// What.
        part: PartId,
        /// How.
        how: Repair,
    },
    /// Put a new part in.
    Replace {
        /// Which.
        part: PartId,
    },
    /// Pull the pump up, two people.
    PullPump,
    /// Lower the pump again, two people.
    LowerPump {
        /// Tilted and vented on the way, so that no air stays in it.
        vented: bool,
    },
    /// Open the vent above the pump until solid water comes.
    Vent,
    /// Fill the pump with water by its plug.
    Prime,
    /// Have a second person come.
    CallHelper,
    /// Have a qualified electrician come and do the live or wired work with you.
    CallQualified,
    /// Clean and disinfect what was opened, and arrange for a sample.
    Disinfect,
    /// Climb into the source.  It is never right.
    EnterSource,
    /// Explain to the owner how things are and what they can do.
    Explain {
        /// About what; how the system works and what it can do when none.
        about: Option<FaultName>,
    },
    /// Write something down.
    Note {
        /// What.
        text: String,
    },
    /// Put a fault on the suspect list, or strike it out.
    Suspect {
        /// Which.
        fault: FaultName,
        /// On the list, or struck out.
        keep: bool,
    },
    /// State what is wrong.
    Call {
        /// Every fault found; empty says that the system is healthy.
        faults: Vec<FaultName>,
    },
    /// Run the proof: draw to cut-in, build to cut-out, hold, compare the drawdown.
    Prove,
    /// Leave the site as it should be and end the exercise.
    CloseUp,
    /// Ask for a hint (practice only).
    Hint,
    /// Go back to the last safe point (practice only).
    Undo,
}

/// A kind of fault by its name, as files and commands write it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct FaultName(pub FaultKind);

impl Serialize for FaultName {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.0.info().name)
    }
}

impl<'de> Deserialize<'de> for FaultName {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let name = String::deserialize(deserializer)?;
        crate::faults::kinds()
            .find(|info| info.name == name)
            .map(|info| Self(info.kind))
            .ok_or_else(|| serde::de::Error::custom(format!("no fault `{name}`")))
    }
}

/// What to wait for.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Until {
    /// The pump starts.
    PumpStarts,
    /// The pump stops.
    PumpStops,
    /// The gauge's needle has stood still for half a minute.
    NeedleStill,
    /// The gauge shows this or more [Pa].
    GaugeAbove(f64),
    /// The gauge shows this or less [Pa].
    GaugeBelow(f64),
    /// Solid water comes out of whatever is open.
    SolidWater,
}

/// When a meter is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Moment {
    /// As things stand.
    Now,
    /// While the motor starts: the leads are held on through the next start.
    Starting,
}

/// An electrical instrument with its function chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Probe {
    /// Volts, 10 MΩ.
    Volts,
    /// Volts, low impedance.
    LowImpedanceVolts,
    /// Clamp, running current.
    Clamp,
    /// Clamp, the peak of a start.
    Inrush,
    /// Ohms.
    Ohms,
    /// Insulation tester, 500 V.
    Insulation,
    /// Capacitance.
    Capacitance,
    /// Watts.
    Power,
}

/// Where a second gauge can be screwed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Port {
    /// At the tee, on the switch's side.
    Tee,
    /// At the pressure switch's nipple: what the switch feels.
    Switch,
    /// At the tank's own connection.
    Tank,
    /// Behind house valve and filter.
    House,
}

/// How something is repaired in place; what cures what stands in the catalogue.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Repair {
    /// Tighten, seal, or make a joint anew.
    Tighten,
    /// Clear of dirt, scale or insects.
    Clean,
    /// Free it, take it out and set it in its right place again.
    Refit,
    /// Connect as it should be.
    Rewire,
    /// Reset what has tripped.
    Reset,
    /// Thaw gently, never with a flame.
    Thaw,
    /// Put one in where there is none.
    Fit,
    /// Have water brought to the source.
    Refill,
}
