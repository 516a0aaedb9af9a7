//! Repairs: what is done to a part, and which faults that takes out of the plant.
//!
//! What cures what stands in the catalogue of faults; nobody is told whether it did.

use super::action::{FaultName, Repair};
use super::cautions;
use super::hazard::HazardKind;
use super::kit::Tool;
use super::outcome::{Outcome, Refusal};
use super::perform::{Stop, Worked};
use super::station::{Cover, Station};
use super::visit::Visit;
use crate::catalog::{Entry, PartId, Remedy};
use crate::parts::SourceSpec;
use crate::plant::{Command, Renewed};

/// What was done to a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Deed {
    Replaced,
    Remade,
    Cleaned,
    Refitted,
    Rewired,
    Reset,
    Thawed,
    Fitted,
    Refilled,
    Primed,
}

impl From<Repair> for Deed {
    fn from(how: Repair) -> Self {
        match how {
            Repair::Tighten => Self::Remade,
            Repair::Clean => Self::Cleaned,
            Repair::Refit => Self::Refitted,
            Repair::Rewire => Self::Rewired,
            Repair::Reset => Self::Reset,
            Repair::Thaw => Self::Thawed,
            Repair::Fit => Self::Fitted,
            Repair::Refill => Self::Refilled,
        }
    }
}

/// Whether a deed on a part is a remedy of a fault.
fn is_cured(entry: &Entry, part: PartId, deed: Deed, by_qualified: bool) -> bool {
    if entry.part == part && (deed == Deed::Replaced && !entry.is_demand()) {
        return true;
    }
    if by_qualified && entry.part == part && entry.remedies.contains(&Remedy::CallQualified) {
        return true;
    }
    entry.remedies.iter().any(|remedy| match (*remedy, deed) {
        (Remedy::Replace(p), Deed::Replaced)
        | (Remedy::Fit(p), Deed::Fitted | Deed::Replaced)
        | (Remedy::Clean(p), Deed::Cleaned)
        | (Remedy::Tighten(p), Deed::Remade | Deed::Replaced)
        | (Remedy::Refit(p), Deed::Refitted)
        | (Remedy::Rewire(p), Deed::Rewired)
        | (Remedy::Reset(p), Deed::Reset)
        | (Remedy::Thaw(p), Deed::Thawed) => p == part,
        (Remedy::Prime, Deed::Primed) => true,
        (Remedy::Refill, Deed::Refilled) => part == PartId::Source,
        _ => false,
    })
}

impl Visit {
    /// Takes the faults out of the plant that a deed on these parts cures.
    pub(super) fn mend(&mut self, parts: &[PartId], deed: Deed, _out: &mut Outcome) -> Worked {
        let by_qualified = self.hands.has_qualified;
        let catalog = &self.fixed.catalog;
        let before = self.faults.len();
        self.faults.retain(|fault| {
            !catalog.entry(fault.kind).is_some_and(|entry| {
                parts
                    .iter()
                    .any(|part| is_cured(entry, *part, deed, by_qualified))
            })
        });
        if self.faults.len() != before {
            self.plant
                .refit(&self.site, &self.faults)
                .map_err(|error| Refusal::Plant(error.to_string()))?;
        }
        if matches!(deed, Deed::Replaced | Deed::Remade | Deed::Rewired) {
            for part in parts {
                self.renew(*part, deed)?;
            }
        }
        Ok(())
    }

    /// What wear and heat have spoilt in a part is new again.
    fn renew(&mut self, part: PartId, deed: Deed) -> Worked {
        let is_new = deed == Deed::Replaced;
        match part {
            PartId::Pump if is_new => self.apply(Command::Renew(Renewed::Pump)),
            PartId::Motor if is_new => self.apply(Command::Renew(Renewed::Motor)),
            PartId::Tank if is_new => self.apply(Command::Renew(Renewed::Tank)),
            PartId::Splice | PartId::Breaker => self.apply(Command::Renew(Renewed::Joints)),
            PartId::PressureSwitch if is_new => {
                let spec = &self.site.wall.pressure_switch;
                let command = Command::AdjustSwitch {
                    cut_in: spec.cut_in,
                    cut_out: spec.cut_out,
                };
                self.apply(command)?;
                self.apply(Command::Renew(Renewed::Contacts))
            }
            _ => Ok(()),
        }
    }

    pub(super) fn repair(&mut self, part: PartId, how: Repair, out: &mut Outcome) -> Worked {
        if how == Repair::Refill {
            return self.refill(out);
        }
        if how == Repair::Reset && part == PartId::Breaker {
            return self.set_breaker(true, out);
        }
        self.must_reach(part)?.warn(out);
        if how == Repair::Thaw {
            out.warn(cautions::THAW);
        }
        let work = match how {
            Repair::Tighten => "tighten",
            Repair::Clean => "clean",
            Repair::Refit => "refit",
            Repair::Rewire => "rewire",
            Repair::Reset => "reset",
            Repair::Thaw => "thaw",
            Repair::Fit => "fit",
            Repair::Refill => "refill",
        };
        if how == Repair::Fit {
            self.buy(part, out);
        }
        self.work(work, out)?;
        self.mend(&self.with_pump(part, false), how.into(), out)?;
        out.remarks
            .push(format!("Done: {} the {}.", done(how), part.label()));
        Ok(())
    }

    pub(super) fn replace(&mut self, part: PartId, out: &mut Outcome) -> Worked {
        self.must_have(Tool::Spares)?;
        self.must_reach(part)?.warn(out);
        if part == PartId::Tank && !self.hands.has_helper && self.channel("tank_water") > 5e-3 {
            return Err(Stop::Hazard(HazardKind::LiftedAlone));
        }
        let new_part = self
            .fixed
            .costs
            .new_part(part)
            .ok_or_else(|| Refusal::NotHere {
                what: format!("new {}", part.label()),
            })?;
        self.buy(part, out);
        self.pass(60.0 * new_part.minutes)?;
        self.replaced.push(part);
        self.mend(&self.with_pump(part, true), Deed::Replaced, out)?;
        out.remarks.push(format!(
            "The new {} is in; keep the old one to show.",
            part.label()
        ));
        if part == PartId::Tank {
            out.warn(cautions::TANK_WEIGHT);
            out.warn(cautions::TANK_AIR);
        }
        Ok(())
    }

    fn buy(&mut self, part: PartId, out: &mut Outcome) {
        if let Some(new_part) = self.fixed.costs.new_part(part) {
            self.money += new_part.money;
            out.money += new_part.money;
        }
    }

    /// A submersible pump is one with its motor, and what starts the motor sits in it.
    fn with_pump(&self, part: PartId, is_new: bool) -> Vec<PartId> {
        let is_one = !self.pump_is_at_hand() && is_new;
        match part {
            PartId::Pump if is_one => vec![PartId::Pump, PartId::Motor, PartId::Capacitor],
            PartId::Motor if is_one => vec![PartId::Motor, PartId::Capacitor],
            _ => vec![part],
        }
    }

    fn refill(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Source)?;
        if !matches!(self.site.source, SourceSpec::Cistern { .. }) {
            return Err(Refusal::First(
                "a well fills itself: wait for it, and draw less".to_owned(),
            )
            .into());
        }
        self.must_be_open(Cover::Source)?;
        self.work("refill", out)?;
        out.warn(cautions::REFILL);
        self.mend(&[PartId::Source], Deed::Refilled, out)?;
        let depth = self.site.source.initial_depth_m();
        self.apply(Command::FillSource { depth_m: depth })?;
        out.remarks
            .push("A load of water is in the cistern.".to_owned());
        Ok(())
    }

    pub(super) fn pull_pump(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Source)?;
        if self.pump_is_at_hand() {
            return Err(Refusal::NotHere {
                what: "submersible pump: its pump stands at the wall".to_owned(),
            }
            .into());
        }
        if self.hands.pump_is_out {
            return Err(Refusal::First("the pump is out already".to_owned()).into());
        }
        self.must_have(Tool::Hoist)?;
        self.must_be_open(Cover::Source)?;
        if !self.hands.has_helper {
            return Err(Stop::Hazard(HazardKind::LiftedAlone));
        }
        if !self.hands.has_qualified {
            // The drop cable comes off at the splice.
            self.must_be_dead(Station::Splice)?;
        }
        self.work(self.by_source("pull_pump_cistern", "pull_pump_well"), out)?;
        self.hands.pump_is_out = true;
        out.warn(cautions::HOIST);
        out.remarks
            .push("The pump lies beside the source on a clean sheet.".to_owned());
        Ok(())
    }

    pub(super) fn lower_pump(&mut self, vented: bool, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Source)?;
        if !self.hands.pump_is_out {
            return Err(Refusal::First("the pump is not out".to_owned()).into());
        }
        if !self.hands.has_helper {
            return Err(Stop::Hazard(HazardKind::LiftedAlone));
        }
        self.work(self.by_source("lower_pump_cistern", "lower_pump_well"), out)?;
        self.hands.pump_is_out = false;
        out.warn(cautions::HOIST);
        // A pump lowered straight down traps most of a bowl of air below its check valve.
        let air_share = if vented { 0.0 } else { 0.8 };
        self.apply(Command::LowerPump { air_share })
    }

    fn by_source(&self, cistern: &'static str, well: &'static str) -> &'static str {
        match self.site.source {
            SourceSpec::Cistern { .. } => cistern,
            SourceSpec::Well { .. } => well,
        }
    }

    pub(super) fn vent(&mut self, out: &mut Outcome) -> Worked {
        let at = if self.pump_is_at_hand() {
            Station::Wall
        } else {
            Station::Source
        };
        self.must_be_at(at)?;
        self.must_have(Tool::HandTools)?;
        self.work("vent", out)?;
        out.warn(cautions::VENT);
        self.mend(&[PartId::Pump], Deed::Primed, out)?;
        self.apply(Command::Vent)?;
        out.remarks
            .push("The vent was open until solid water came.".to_owned());
        Ok(())
    }

    pub(super) fn prime(&mut self, out: &mut Outcome) -> Worked {
        if !self.pump_is_at_hand() {
            return Err(Refusal::NotHere {
                what: "priming plug: its pump stands in the water".to_owned(),
            }
            .into());
        }
        self.must_be_at(Station::Wall)?;
        if self.plant.is_powered() {
            return Err(Refusal::First("stop the pump first".to_owned()).into());
        }
        self.must_be_without_pressure(false)?;
        self.work("prime", out)?;
        out.warn(cautions::PRIME);
        self.mend(&[PartId::Pump], Deed::Primed, out)?;
        self.apply(Command::Prime)
    }

    pub(super) fn explain(&mut self, about: FaultName, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::House)?;
        self.work("explain", out)?;
        if !self.explained.contains(&about) {
            self.explained.push(about);
        }
        out.remarks
            .push("The owner has understood, and thanks you.".to_owned());
        Ok(())
    }

    pub(super) fn disinfect(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Source)?;
        self.must_have(Tool::DisinfectionSet)?;
        self.work("disinfect", out)?;
        self.hands.source_was_opened = false;
        out.warn(cautions::DISINFECT);
        out.remarks
            .push("The source is dosed, the sample is on its way.".to_owned());
        Ok(())
    }
}

const fn done(how: Repair) -> &'static str {
    match how {
        Repair::Tighten => "tightened or remade",
        Repair::Clean => "cleaned",
        Repair::Refit => "refitted",
        Repair::Rewire => "rewired",
        Repair::Reset => "reset",
        Repair::Thaw => "thawed",
        Repair::Fit => "fitted",
        Repair::Refill => "refilled",
    }
}
