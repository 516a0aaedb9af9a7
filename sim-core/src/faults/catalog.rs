//! The faults that the plant knows so far, by part and mechanism.

use crate::units::convert::{LITER, PSI, US_GPM};

/// A fault with its severity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fault {
    /// Which.
    pub kind: FaultKind,
    /// How bad, in the SI unit of [`KindInfo::unit`].
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
}

/// What is known about a kind of fault.
#[derive(Debug, Clone, Copy, PartialEq)]
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
}

macro_rules! kinds {
    ($($kind:ident $name:literal $mechanism:literal $unit:literal $si:expr, $default:expr, $range:expr;)*) => {
        /// Every kind.
        pub const KINDS: &[KindInfo] = &[$(KindInfo {
            kind: FaultKind::$kind, name: $name, mechanism: $mechanism, unit: $unit,
            si_per_unit: $si, default: $default, range: $range,
        },)*];
    };
}

// Defaults are training values, common practice, no source.
kinds! {
    CheckValveStuckOpen "check_valve.stuck_open"
        "the check valve is held off its seat; severity is the share of its area open to water coming back"
        "share" 1.0, 1.0, (0.001, 1.0);
    CheckValveStuckShut "check_valve.stuck_shut"
        "the check valve does not lift"
        "share" 1.0, 1.0, (1.0, 1.0);
    CheckValveWeeping "check_valve.weeping"
        "the shut check valve lets water back; severity is the flow at 50 psi"
        "gpm" US_GPM, 0.13, (0.000_1, 20.0);
    EarthOpen "earth.open"
        "the earth conductor to the pump is open"
        "share" 1.0, 1.0, (1.0, 1.0);
    FloatStuckClosed "float_switch.stuck_closed"
        "the float switch stays closed though the water is low"
        "share" 1.0, 1.0, (1.0, 1.0);
    FloatStuckOpen "float_switch.stuck_open"
        "the float switch hangs open though the water is high"
        "share" 1.0, 1.0, (1.0, 1.0);
    HouseLeak "house.leak"
        "a pipe or fill valve behind the house valve leaks; severity is the flow at 50 psi"
        "gpm" US_GPM, 0.1, (0.000_1, 20.0);
    ScreenClogged "intake.clogged_screen"
        "the intake screen is clogged; severity is the share of its area blocked"
        "share" 1.0, 0.9, (0.0, 0.999_5);
    MotorInsulation "motor.insulation"
        "the winding's insulation lets current through to the frame; severity is its resistance"
        "ohm" 1.0, 20_000.0, (10.0, 2e8);
    StartCapacitorOpen "motor.open_start_capacitor"
        "the capacitor or lead of the start winding is open"
        "share" 1.0, 1.0, (1.0, 1.0);
    MotorWindingOpen "motor.open_winding"
        "the motor's main winding is open"
        "share" 1.0, 1.0, (1.0, 1.0);
    PumpAirLock "pump.air_lock"
        "air is caught in the pump below its check valve; severity is the share of the bowl"
        "share" 1.0, 1.0, (0.0, 1.0);
    PumpJammed "pump.jammed"
        "grit or scale holds the shaft fast"
        "share" 1.0, 1.0, (1.0, 1.0);
    ContactsBurnt "pressure_switch.burnt_contacts"
        "the pressure switch's contacts are burnt; severity is the resistance of one pole"
        "ohm" 1.0, 2.0, (0.01, 1e6);
    RunLeak "run.leak"
        "the buried run leaks between the pump and the wall; severity is the flow at 50 psi"
        "gpm" US_GPM, 0.5, (0.000_1, 20.0);
    SourceLow "source.low"
        "the source has little water; severity is the depth"
        "m" 1.0, 0.1, (0.0, 100.0);
    SwitchPortPlugged "pressure_switch.plugged_port"
        "sediment plugs the switch's sensing port; severity is the lag"
        "s" 1.0, 20.0, (0.05, 3_600.0);
    ContactsWelded "pressure_switch.welded_contacts"
        "the pressure switch's contacts are welded together"
        "share" 1.0, 1.0, (1.0, 1.0);
    SpliceResistive "splice.high_resistance"
        "a joint in the splice box has a resistance"
        "ohm" 1.0, 2.0, (0.01, 1e6);
    SpliceOpen "splice.open"
        "a joint in the splice box is open"
        "share" 1.0, 1.0, (1.0, 1.0);
    SupplyLegOpen "supply.open_leg"
        "a line conductor of the service is open; severity says which, 1 or 2"
        "leg" 1.0, 1.0, (1.0, 2.0);
    SupplyNeutralOpen "supply.open_neutral"
        "the service's neutral is open"
        "share" 1.0, 1.0, (1.0, 1.0);
    SupplyVoltageWrong "supply.wrong_voltage"
        "the circuit has been given the wrong voltage"
        "V" 1.0, 115.0, (20.0, 500.0);
    TankHighPrecharge "tank.excess_precharge"
        "the tank was given too much air; severity is the gauge pressure"
        "psi" PSI, 50.0, (0.0, 150.0);
    TankLowPrecharge "tank.lost_precharge"
        "the tank has lost air; severity is the gauge pressure left"
        "psi" PSI, 10.0, (0.0, 150.0);
    TankWaterlogged "tank.waterlogged"
        "water has taken the place of the air; severity is the air left, as volume at precharge"
        "L" LITER, 2.0, (0.01, 1_000.0);
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
        name = info.name, low = info.range.0, high = info.range.1, unit = info.unit
    )]
    Severity {
        /// As written.
        text: String,
        /// The fault.
        info: KindInfo,
    },
}

fn hint(name: &str) -> String {
    crate::suggest::nearest(name, KINDS.iter().map(|k| k.name))
        .map_or_else(String::new, |nearest| {
            format!(" (did you mean `{nearest}`?)")
        })
}

fn names() -> String {
    let names: Vec<&str> = KINDS.iter().map(|k| k.name).collect();
    names.join(", ")
}

impl FaultKind {
    /// Whether the fault is of the pump's circuit, which a site may leave undescribed.
    #[must_use]
    pub fn needs_wiring(self) -> bool {
        matches!(
            self,
            Self::SpliceResistive
                | Self::SpliceOpen
                | Self::ContactsBurnt
                | Self::ContactsWelded
                | Self::SupplyLegOpen
                | Self::SupplyNeutralOpen
                | Self::EarthOpen
                | Self::MotorInsulation
                | Self::PumpJammed
                | Self::StartCapacitorOpen
                | Self::MotorWindingOpen
                | Self::FloatStuckOpen
                | Self::FloatStuckClosed
        )
    }

    /// What is known about this kind.
    ///
    /// # Panics
    /// Never: every kind is in [`KINDS`], which a test checks.
    #[must_use]
    pub fn info(self) -> &'static KindInfo {
        KINDS
            .iter()
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
        let info = *KINDS
            .iter()
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
                        info,
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

    #[test]
    fn every_kind_is_listed_once_and_parses_by_its_name() {
        for info in KINDS {
            let fault = Fault::parse(info.name).unwrap();
            assert_eq!(fault, Fault::usual(info.kind));
            assert_eq!(KINDS.iter().filter(|k| k.kind == info.kind).count(), 1);
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
