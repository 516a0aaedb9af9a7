//! What a fault is: part and mechanism, severity, and what of the plant it changes.

use super::{Defects, kinds};
use crate::parts::PumpPlacement;
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
    /// Little air is left in the tank and water fills its place.
    TankWaterlogged,
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
        }
    }

    /// Whether a site has the part.
    #[must_use]
    pub fn is_met_by(self, site: &SiteSpec) -> bool {
        match self {
            Self::CheckValve => site.pump_check.is_some() || site.foot_valve.is_some(),
            Self::Wiring => site.wiring.is_some(),
            Self::FloatSwitch => site
                .wiring
                .as_ref()
                .is_some_and(|wiring| wiring.float_switch.is_some()),
            Self::SuctionLift => site.pump.placement == PumpPlacement::SuctionLift,
            Self::LowPressureCutOff => site
                .wiring
                .as_ref()
                .is_some_and(|wiring| wiring.low_pressure_cut_off.is_some()),
        }
    }
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
        assert!(unknown.contains("tank.waterlogged"), "{unknown}");
        let severity = Fault::parse("house.leak=lots").unwrap_err().to_string();
        assert!(severity.contains("0.0001 to 20 gpm"), "{severity}");
        for text in ["house.leak=nan", "house.leak=-1", "house.leak=1e9"] {
            assert!(Fault::parse(text).is_err(), "{text}");
        }
    }
}
