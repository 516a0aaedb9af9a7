//! What an action is, in words: said back, so that a slip is seen at once.

use crate::cli::display::{DisplayUnit, Units, span};
use crate::session::{Action, Moment, Port, Probe, Repair, Until};
use crate::trace::Quantity;

use super::grammar::fault_title;

/// What the person did, as a sentence.
pub(super) fn said(action: &Action, units: Units) -> String {
    let psi = |value: f64| DisplayUnit::of(Quantity::GaugePressure, units).show(value);
    match action {
        Action::Go { to } => format!("You go to {}.", to.label()),
        Action::Wait { seconds } => format!("You wait {}.", span(*seconds)),
        Action::WaitUntil { until, .. } => {
            format!("You wait until {}.", until_words(*until, units))
        }
        Action::Look { at: None } => "You look round.".to_owned(),
        Action::Look { at: Some(part) } => format!("You look at the {}.", part.label()),
        Action::Listen => "You listen.".to_owned(),
        Action::Feel { part } => format!("You lay a hand on the {}.", part.label()),
        Action::Smell => "You smell the air.".to_owned(),
        Action::KnockTank => "You knock on the tank, high and low.".to_owned(),
        Action::ReadGauge => "You read the gauge.".to_owned(),
        Action::TapGauge => "You tap the gauge and read it.".to_owned(),
        Action::LogGauge { seconds, every } => format!(
            "You watch the gauge for {} and write it down every {}.",
            span(*seconds),
            span(*every)
        ),
        Action::SetBreaker { on } => {
            format!("You switch the breaker {}.", if *on { "on" } else { "off" })
        }
        Action::SetHouseValve { opening } => turned("the house valve", *opening),
        Action::SetTankValve { opening } => turned("the tank valve", *opening),
        Action::SetSourceValve { opening } => turned("the source valve", *opening),
        Action::SetDrain { opening } => turned("the drain", *opening),
        Action::SetOutlet { outlet, opening } => {
            turned(&format!("the {}", outlet.replace('-', " ")), *opening)
        }
        Action::HoldLever { held: true } => "You hold the lever of the switch up.".to_owned(),
        Action::HoldLever { held: false } => "You let go of the lever.".to_owned(),
        Action::OpenCover { cover } => format!("You open {}.", cover.label()),
        Action::CloseCover { cover } => format!("You close {}.", cover.label()),
        Action::DressForLiveWork => {
            "You put on gloves and glasses and take the rated leads.".to_owned()
        }
        Action::LockOut => "You lock the breaker off and hang the tag.".to_owned(),
        Action::RemoveLock => "You take lock and tag away.".to_owned(),
        Action::ProveDead => {
            "You prove the tester, test for absence of voltage, prove the tester again.".to_owned()
        }
        Action::DischargeCapacitor => "You discharge the capacitor through a resistor.".to_owned(),
        Action::TakeLeadsApart => "You take the leads apart.".to_owned(),
        Action::JoinLeads => "You join the leads again.".to_owned(),
        Action::Measure {
            meter,
            from,
            to,
            moment,
        } => measured(*meter, from, to.as_deref(), *moment),
        Action::FitGauge { port } => format!("You fit the second gauge {}.", port_words(*port)),
        Action::RemoveGauge => "You take the second gauge off.".to_owned(),
        Action::ReadSecondGauge => "You read the second gauge.".to_owned(),
        Action::ReadAirValve => "You put the tyre gauge on the tank's air valve.".to_owned(),
        Action::PressAirValve => "You press the core of the air valve for a moment.".to_owned(),
        Action::SetAir { pressure } => {
            format!(
                "You bring the tank's air to {} on the tyre gauge.",
                psi(*pressure)
            )
        }
        Action::MeasureFlow { outlet, volume } => format!(
            "You hold a bucket of {} under the {} and stop the time.",
            DisplayUnit::of(Quantity::Volume, units).show(*volume),
            outlet.replace('-', " ")
        ),
        Action::MeasureLevel => "You let the tape down to the water.".to_owned(),
        Action::MeasureVacuum => "You read the vacuum gauge.".to_owned(),
        Action::MeasureTemperature { part } => {
            format!("You hold the thermometer against the {}.", part.label())
        }
        Action::AdjustSwitch { cut_in, cut_out } => format!(
            "You set the switch to close at {} and open at {}.",
            psi(*cut_in),
            psi(*cut_out)
        ),
        Action::Repair { part, how } => format!("You {} the {}.", repair_words(*how), part.label()),
        Action::Replace { part } => format!("You replace the {}.", part.label()),
        Action::PullPump => "You pull the pump, two of you.".to_owned(),
        Action::LowerPump { vented: true } => {
            "You lower the pump, tilted on the way so that the air gets out.".to_owned()
        }
        Action::LowerPump { vented: false } => "You lower the pump straight down.".to_owned(),
        Action::Vent => "You open the vent above the pump.".to_owned(),
        Action::Prime => "You fill the pump with water by its plug.".to_owned(),
        Action::CallHelper => "You call a second person.".to_owned(),
        Action::CallQualified => "You call a qualified electrician.".to_owned(),
        Action::Disinfect => "You clean, disinfect, and arrange for a sample.".to_owned(),
        Action::EnterSource => "You make to climb into the source.".to_owned(),
        Action::Explain { about: Some(about) } => {
            format!("You explain to the owner: {}.", fault_title(about.0))
        }
        Action::Explain { about: None } => {
            "You explain to the owner how the system works.".to_owned()
        }
        Action::Note { .. } => "Written down.".to_owned(),
        Action::Suspect { fault, keep: true } => {
            format!("On your list: {}.", fault_title(fault.0))
        }
        Action::Suspect { fault, keep: false } => {
            format!("Struck from your list: {}.", fault_title(fault.0))
        }
        Action::Call { faults } if faults.is_empty() => {
            "You call it: nothing is wrong with this system.".to_owned()
        }
        Action::Call { faults } => {
            let titles: Vec<String> = faults.iter().map(|name| fault_title(name.0)).collect();
            format!("You call it: {}.", titles.join("; "))
        }
        Action::Prove => "You run the proof.".to_owned(),
        Action::CloseUp => "You close up and hand over.".to_owned(),
        Action::Hint => "Hint:".to_owned(),
        Action::Undo => "You take the last step back.".to_owned(),
    }
}

fn turned(what: &str, opening: f64) -> String {
    if opening <= 0.0 {
        format!("You shut {what}.")
    } else if opening >= 1.0 {
        format!("You open {what} fully.")
    } else {
        format!("You set {what} to {:.0} percent open.", 100.0 * opening)
    }
}

fn until_words(until: Until, units: Units) -> String {
    let psi = |value: f64| DisplayUnit::of(Quantity::GaugePressure, units).show(value);
    match until {
        Until::PumpStarts => "the pump starts".to_owned(),
        Until::PumpStops => "the pump stops".to_owned(),
        Until::NeedleStill => "the needle stands still".to_owned(),
        Until::GaugeAbove(pressure) => format!("the gauge shows {} or more", psi(pressure)),
        Until::GaugeBelow(pressure) => format!("the gauge shows {} or less", psi(pressure)),
        Until::SolidWater => "solid water comes".to_owned(),
    }
}

fn measured(meter: Probe, from: &str, to: Option<&str>, moment: Moment) -> String {
    let places = match (meter, to) {
        (Probe::Clamp | Probe::Inrush | Probe::Power, None) => format!("round {from}"),
        (_, Some(to)) => format!("{from} to {to}"),
        (_, None) => from.to_owned(),
    };
    let when = match moment {
        Moment::Now => "",
        Moment::Starting => ", held through the next start",
    };
    format!("You measure {}, {places}{when}.", meter_words(meter))
}

/// A meter's function in words.
fn meter_words(meter: Probe) -> &'static str {
    match meter {
        Probe::Volts => "volts",
        Probe::LowImpedanceVolts => "volts at low impedance",
        Probe::Clamp => "amperes",
        Probe::Inrush => "the inrush",
        Probe::Ohms => "ohms",
        Probe::Insulation => "insulation",
        Probe::Capacitance => "capacitance",
        Probe::Power => "watts",
    }
}

fn port_words(port: Port) -> &'static str {
    match port {
        Port::Tee => "at the tee",
        Port::Switch => "at the switch's own port",
        Port::Tank => "at the tank",
        Port::House => "behind house valve and filter",
    }
}

fn repair_words(how: Repair) -> &'static str {
    match how {
        Repair::Tighten => "tighten, seal or remake",
        Repair::Clean => "clean",
        Repair::Refit => "free and reseat",
        Repair::Rewire => "rewire",
        Repair::Reset => "reset",
        Repair::Thaw => "gently thaw",
        Repair::Fit => "fit",
        Repair::Refill => "have water brought to",
    }
}
