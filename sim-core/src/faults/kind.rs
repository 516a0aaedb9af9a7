//! What a fault is: part and mechanism, severity, and what of the plant it changes.

use super::{Defects, kinds};
use crate::parts::{IntakeMount, PumpPlacement, WindingKind};
use crate::plant::Controls;
use crate::site::SiteSpec;

/// A fault with its severity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fault {
    /// Which.
    pub kind: FaultKind,
    /// How bad, in SI units; the unit people use is in the kind's `KindInfo`.
    pub severity: f64,
}

/// Part and mechanism.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum FaultKind {
    /// A pipe behind the house valve leaks.
    HouseLeak,
    /// The buried run leaks.
    RunLeak,
    /// The check valve lets a little back.
    CheckValveWeeping,
    /// The check valve is held off its seat.
    CheckValveStuckOpen,
    /// The check valve does not lift.
    CheckValveStuckShut,
    /// The tank has lost air.
    TankLowPrecharge,
    /// The tank was given too much air.
    TankHighPrecharge,
    /// The bladder is torn: little air is left and water has taken its place.
    TankTornBladder,
    /// The pressure switch's sensing port is plugged.
    SwitchPortPlugged,
    /// The intake screen is clogged.
    ScreenClogged,
    /// Air is caught in the pump below its check valve.
    PumpAirLock,
    /// The source is low.
    SourceLow,
    /// A joint in the splice box has a resistance.
    SpliceResistive,
    /// A joint in the splice box is open.
    SpliceOpen,
    /// The pressure switch's contacts are burnt.
    ContactsBurnt,
    /// The pressure switch's contacts are welded.
    ContactsWelded,
    /// A line conductor of the service is open.
    SupplyLegOpen,
    /// The service's neutral is open.
    SupplyNeutralOpen,
    /// The circuit has been given the wrong voltage.
    SupplyVoltageWrong,
    /// The earth conductor to the pump is open.
    EarthOpen,
    /// The winding's insulation lets current through to the frame.
    MotorInsulation,
    /// The pump's shaft is held fast.
    PumpJammed,
    /// The start capacitor, or the start winding's lead, is open.
    StartCapacitorOpen,
    /// The motor's main winding is open.
    MotorWindingOpen,
    /// The float switch hangs open though the water is high.
    FloatStuckOpen,
    /// The float switch stays closed though the water is low.
    FloatStuckClosed,
    /// Impellers and their seats are worn.
    ImpellersWorn,
    /// The coupling between motor and pump has sheared.
    CouplingSheared,
    /// The pump runs the wrong way round.
    PumpReversed,
    /// The jet pump's nozzle is clogged.
    NozzleClogged,
    /// The shaft seal drips.
    SealLeak,
    /// The pump is too big for the system.
    PumpOversized,
    /// Bearings drag.
    BearingDrag,
    /// The gauge's needle is stuck.
    GaugeStuck,
    /// The gauge reads too much or too little throughout.
    GaugeOffset,
    /// The gauge's snubber is plugged.
    GaugeSnubberPlugged,
    /// Cut-out has been left too high.
    CutOutHigh,
    /// Cut-out has been left too near to cut-in.
    DifferentialSmall,
    /// Both set points were raised, the precharge was not.
    SwitchRaised,
    /// The pressure switch's diaphragm leaks.
    DiaphragmLeaking,
    /// The water in the sensing port has frozen.
    PortFrozen,
    /// The low-pressure cut-off has dropped.
    CutOffTripped,
    /// A toilet's fill valve does not shut.
    ToiletRunning,
    /// Something is in use all the time.
    SteadyDraw,
    /// More is in use all the time than the pump can give.
    HeavyDraw,
    /// Something takes a glassful again and again.
    SmallDraws,
    /// The highest outlet stands too high.
    FixtureTooHigh,
    /// A water heater's water expands against the check valve.
    HeaterExpansion,
    /// No voltage comes to the panel.
    SupplyDead,
    /// The supply has a high resistance behind the panel.
    SupplyWeak,
    /// The breaker has tripped before anybody came.
    BreakerTripped,
    /// A joint at the breaker's load lug has a resistance.
    BreakerResistive,
    /// A joint at the pressure switch's line terminal has a resistance.
    SwitchTerminalResistive,
    /// The longest cable is too thin.
    CableUndersized,
    /// The buried cable leaks to earth before the splice.
    CableGroundFault,
    /// Water has got into the splice.
    SpliceWet,
    /// Damp bridges the pressure switch to its case.
    SwitchDamp,
    /// Something between the pressure switch's contacts keeps them apart.
    ContactsBlocked,
    /// Turns of the motor's main winding are shorted on themselves.
    MotorShortedTurns,
    /// The start capacitor has lost capacitance.
    StartCapacitorWeak,
    /// The run capacitor has lost capacitance.
    RunCapacitorWeak,
    /// The start switch does not open.
    StartSwitchWelded,
    /// The thermal protector opens too early.
    ProtectorWeak,
    /// The drop cable is chafed through and conducts on some starts only.
    DropCableChafed,
    /// Air is drawn in at the suction side.
    SuctionAirLeak,
    /// There is no check valve.
    CheckValveMissing,
    /// The check valve shuts late.
    CheckValveSlamming,
    /// The tank's air valve leaks.
    TankAirValveLeaking,
    /// The tank's inlet is plugged.
    TankInletPlugged,
    /// A new bladder sticks together.
    TankBladderStuck,
    /// The tank is too small.
    TankUndersized,
    /// The filter is clogged.
    FilterClogged,
    /// A floating intake hangs in the air.
    IntakeBeached,
    /// The intake draws a vortex at high flow.
    IntakeVortex,
    /// The riser inside the source is split.
    RiserSplit,
    /// The relief valve opens too low.
    ReliefValveLowSet,
    /// The run is frozen.
    RunFrozen,
    /// The valve at the source has been left shut.
    SourceValveLeftShut,
    /// The tank's valve has been left shut.
    TankValveLeftShut,
    /// The house valve has been left shut.
    HouseValveLeftShut,
}

/// A part without which a fault has no place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Need {
    /// A check valve at the pump or a foot valve.
    CheckValve,
    /// The pump's circuit, which a site may leave undescribed.
    Wiring,
    /// A float switch in the pump's circuit.
    FloatSwitch,
    /// A pump above the water.
    SuctionLift,
    /// A low-pressure cut-off on the pressure switch.
    LowPressureCutOff,
    /// A motor whose start winding is fed through a capacitor.
    Capacitor,
    /// A start capacitor, switched off near speed.
    StartCapacitor,
    /// A motor with one capacitor that stays in.
    PermanentCapacitor,
    /// A start switch or relay.
    StartSwitch,
    /// A suction pipe or the hose of a floating intake.
    Suction,
    /// A floating intake.
    FloatingIntake,
    /// A riser from a pump that hangs in the source.
    Riser,
    /// A filter behind the house valve.
    Filter,
    /// A relief valve.
    ReliefValve,
}

impl Need {
    /// The part, for people.
    #[must_use]
    pub const fn part(self) -> &'static str {
        match self {
            Self::CheckValve => "check valve",
            Self::Wiring => "wiring section",
            Self::FloatSwitch => "float switch",
            Self::SuctionLift => "pump above the water",
            Self::LowPressureCutOff => "low-pressure cut-off",
            Self::Capacitor => "motor with a capacitor",
            Self::StartCapacitor => "start capacitor",
            Self::PermanentCapacitor => "permanent-capacitor motor",
            Self::StartSwitch => "motor with a start switch",
            Self::Suction => "suction pipe or floating intake",
            Self::FloatingIntake => "floating intake",
            Self::Riser => "riser",
            Self::Filter => "filter",
            Self::ReliefValve => "relief valve",
        }
    }

    /// Whether a site has the part.
    #[must_use]
    pub fn is_met_by(self, site: &SiteSpec) -> bool {
        match self {
            Self::CheckValve => site.pump_check.is_some() || site.foot_valve.is_some(),
            Self::Wiring => site.wiring.is_some(),
            Self::Suction => site.suction.is_some() || floats(site),
            Self::FloatingIntake => floats(site),
            Self::Riser => site.pump.placement == PumpPlacement::Submersible,
            Self::Filter => site.house.filter.is_some(),
            Self::ReliefValve => site.wall.relief_valve.is_some(),
            Self::FloatSwitch => site
                .wiring
                .as_ref()
                .is_some_and(|wiring| wiring.float_switch.is_some()),
            Self::SuctionLift => site.pump.placement == PumpPlacement::SuctionLift,
            Self::LowPressureCutOff => site
                .wiring
                .as_ref()
                .is_some_and(|wiring| wiring.low_pressure_cut_off.is_some()),
            Self::Capacitor => winding(site).is_some_and(|kind| kind != WindingKind::SplitPhase),
            Self::StartCapacitor => winding(site).is_some_and(|kind| {
                matches!(kind, WindingKind::CapacitorStart | WindingKind::ThreeWire)
            }),
            Self::PermanentCapacitor => winding(site) == Some(WindingKind::PermanentCapacitor),
            Self::StartSwitch => {
                winding(site).is_some_and(|kind| kind != WindingKind::PermanentCapacitor)
            }
        }
    }
}

/// How the site's motor starts.
fn winding(site: &SiteSpec) -> Option<WindingKind> {
    site.wiring.as_ref().map(|wiring| wiring.winding)
}

fn floats(site: &SiteSpec) -> bool {
    matches!(site.intake.mount, IntakeMount::Floating { .. })
}

/// What a fault changes; every function takes the severity in SI units last.
#[derive(Debug, Clone, Copy)]
pub enum Effect {
    /// A number of the site.
    Number(fn(&mut SiteSpec, f64)),
    /// Something that a sound site has no number for.
    Defect(fn(&mut Defects, &SiteSpec, f64)),
    /// Both.
    Both(fn(&mut SiteSpec, f64), fn(&mut Defects, &SiteSpec, f64)),
    /// How somebody has left what can be set by hand.
    Setting(fn(&mut Controls, &SiteSpec, f64)),
}

/// What the plant knows about a kind of fault.
#[derive(Debug, Clone, Copy)]
pub struct KindInfo {
    /// Which.
    pub kind: FaultKind,
    /// Name as on the command line: part and mechanism.
    pub name: &'static str,
    /// What happens physically, in one line.
    pub mechanism: &'static str,
    /// Unit in which a severity without a unit is taken.
    pub unit: &'static str,
    /// SI value of one such unit.
    pub si_per_unit: f64,
    /// Severity when none is given, in that unit.
    pub default: f64,
    /// Least and greatest severity, in that unit.
    pub range: (f64, f64),
    /// Parts that a site must have for it.
    pub needs: &'static [Need],
    /// What it changes.
    pub effect: Effect,
}

/// Why a fault could not be understood.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FaultError {
    /// No such fault.
    #[error("no fault `{name}`{hint}; accepted: {accepted}", hint = hint(name), accepted = names())]
    Unknown {
        /// As written.
        name: String,
    },
    /// The severity is no number in range.
    #[error(
        "severity `{text}` of {name} is not a number from {low} to {high} {unit}",
        name = kind.info().name, low = kind.info().range.0, high = kind.info().range.1,
        unit = kind.info().unit
    )]
    Severity {
        /// As written.
        text: String,
        /// The fault.
        kind: FaultKind,
    },
}

fn hint(name: &str) -> String {
    crate::suggest::nearest(name, kinds().map(|k| k.name)).map_or_else(String::new, |nearest| {
        format!(" (did you mean `{nearest}`?)")
    })
}

fn names() -> String {
    let names: Vec<&str> = kinds().map(|k| k.name).collect();
    names.join(", ")
}

impl FaultKind {
    /// What is known about this kind.
    ///
    /// # Panics
    /// Never: every kind is in [`kinds`], which a test checks.
    #[must_use]
    pub fn info(self) -> &'static KindInfo {
        kinds()
            .find(|k| k.kind == self)
            .expect("every kind is listed")
    }
}

impl Fault {
    /// A fault of a kind at its usual severity.
    #[must_use]
    pub fn usual(kind: FaultKind) -> Self {
        let info = kind.info();
        Self {
            kind,
            severity: info.default * info.si_per_unit,
        }
    }

    /// What is known about its kind.
    #[must_use]
    pub fn info(&self) -> &'static KindInfo {
        self.kind.info()
    }

    /// Reads `part.fault` or `part.fault=severity`; a severity is a number, with or
    /// without the fault's own unit behind it.
    ///
    /// # Errors
    /// When there is no such fault or the severity is out of range.
    pub fn parse(text: &str) -> Result<Self, FaultError> {
        let (name, severity) = match text.split_once('=') {
            Some((name, severity)) => (name.trim(), Some(severity.trim())),
            None => (text.trim(), None),
        };
        let info = kinds()
            .find(|k| k.name == name)
            .ok_or_else(|| FaultError::Unknown {
                name: name.to_owned(),
            })?;
        let value = match severity {
            None => info.default,
            Some(text) => {
                let number = text.strip_suffix(info.unit).unwrap_or(text).trim();
                number
                    .parse::<f64>()
                    .ok()
                    .filter(|v| *v >= info.range.0 && *v <= info.range.1)
                    .ok_or_else(|| FaultError::Severity {
                        text: text.to_owned(),
                        kind: info.kind,
                    })?
            }
        };
        Ok(Self {
            kind: info.kind,
            severity: value * info.si_per_unit,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::convert::US_GPM;

    #[test]
    fn every_kind_is_listed_once_and_parses_by_its_name() {
        for info in kinds() {
            let fault = Fault::parse(info.name).unwrap();
            assert_eq!(fault, Fault::usual(info.kind));
            assert_eq!(kinds().filter(|k| k.kind == info.kind).count(), 1);
        }
    }

    #[test]
    fn a_severity_may_carry_its_unit() {
        let plain = Fault::parse("house.leak=0.5").unwrap();
        assert_eq!(plain, Fault::parse("house.leak=0.5 gpm").unwrap());
        assert!((plain.severity - 0.5 * US_GPM).abs() < 1e-15);
    }

    #[test]
    fn nonsense_is_refused_with_what_is_accepted() {
        let unknown = Fault::parse("tank.haunted").unwrap_err().to_string();
        assert!(unknown.contains("tank.torn_bladder"), "{unknown}");
        let severity = Fault::parse("house.leak=lots").unwrap_err().to_string();
        assert!(severity.contains("0.0001 to 20 gpm"), "{severity}");
        for text in ["house.leak=nan", "house.leak=-1", "house.leak=1e9"] {
            assert!(Fault::parse(text).is_err(), "{text}");
        }
    }
}
