//! Covers, lock, tag, and the proof that a circuit is dead.
//!
//! The rules: a switch or float is no isolator.  Hands go near terminals only when the
//! breaker is locked off and the absence of voltage was proved here, or when a qualified
//! person dressed for it works live.

use super::cautions;
use super::hazard::HazardKind;
use super::kit::Tool;
use super::outcome::{Observation, Outcome, Refusal};
use super::perform::{Stop, Worked};
use super::station::{Cover, Station};
use super::visit::Visit;
use crate::catalog::PartId;
use crate::instruments::Bench;
use crate::plant::Command;

/// Voltage from which a part is live [V] (29 CFR 1910.333).
const LIVE_V: f64 = 50.0;

impl Visit {
    /// Live work, or dead and proved: what hands near terminals ask for.
    pub(super) fn hands_near_terminals(&self, station: Station) -> Worked {
        if self.is_dead_here(station) || self.may_work_live() {
            return Ok(());
        }
        Err(Stop::Hazard(if self.hands.is_locked_out {
            HazardKind::NotProvedDead
        } else {
            HazardKind::LiveWorkUnprotected
        }))
    }

    /// Work with bare hands on conductors: only dead and proved, whoever does it.
    pub(super) fn must_be_dead(&self, station: Station) -> Worked {
        if self.is_dead_here(station) {
            Ok(())
        } else {
            Err(Stop::Hazard(HazardKind::NotProvedDead))
        }
    }

    pub(super) fn is_dead_here(&self, station: Station) -> bool {
        self.hands.is_locked_out && self.hands.proved_dead.contains(&station)
    }

    pub(super) fn open_cover(&mut self, cover: Cover, out: &mut Outcome) -> Worked {
        self.must_be_at(cover.station())?;
        if self.hands.open_covers.contains(&cover) {
            return Err(Refusal::First(format!("{} is open already", cover.label())).into());
        }
        self.must_have(Tool::HandTools)?;
        match cover {
            Cover::Source => {
                out.warn(cautions::SOURCE_OPENED);
            }
            Cover::Panel => {
                // The lugs above the breaker stay live whatever is locked.
                if !self.may_work_live() {
                    return Err(Stop::Hazard(HazardKind::LiveWorkUnprotected));
                }
            }
            Cover::Switch | Cover::Splice => {
                if !self.hands.is_locked_out && !self.may_work_live() {
                    return Err(Stop::Hazard(HazardKind::LiveWorkUnprotected));
                }
            }
        }
        self.work(Self::cover_work(cover), out)?;
        self.hands.open_covers.insert(cover);
        if cover == Cover::Source {
            self.hands.source_was_opened = true;
        } else {
            out.warn(cautions::LIVE_PARTS);
            if cover == Cover::Panel {
                out.warn(cautions::PANEL_LUGS);
            }
        }
        Ok(())
    }

    pub(super) fn close_cover(&mut self, cover: Cover, out: &mut Outcome) -> Worked {
        self.must_be_at(cover.station())?;
        if !self.hands.open_covers.contains(&cover) {
            return Err(Refusal::First(format!("{} is closed already", cover.label())).into());
        }
        self.work(Self::cover_work(cover), out)?;
        self.hands.open_covers.remove(&cover);
        Ok(())
    }

    const fn cover_work(cover: Cover) -> &'static str {
        match cover {
            Cover::Panel => "panel_cover",
            Cover::Switch => "switch_cover",
            Cover::Splice => "splice_cover",
            Cover::Source => "source_cover",
        }
    }

    pub(super) fn dress(&mut self, out: &mut Outcome) -> Worked {
        self.must_have(Tool::LiveWorkSet)?;
        self.work("dress", out)?;
        self.hands.is_dressed = true;
        if !self.may_work_live() {
            out.remarks.push(
                "Gloves and glasses do not make you qualified: live readings are still for a \
                 qualified person, and asking one is never held against you."
                    .to_owned(),
            );
        }
        Ok(())
    }

    pub(super) fn lock_out(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Panel)?;
        self.must_have(Tool::LockoutSet)?;
        if self.hands.is_locked_out {
            return Err(Refusal::First("the breaker is locked off already".to_owned()).into());
        }
        self.work("lock_out", out)?;
        self.apply(Command::SetBreaker(false))?;
        self.hands.is_locked_out = true;
        out.warn(cautions::NOT_YET_PROVED);
        Ok(())
    }

    pub(super) fn remove_lock(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Panel)?;
        if !self.hands.is_locked_out {
            return Err(Refusal::First("there is no lock on the breaker".to_owned()).into());
        }
        self.work("remove_lock", out)?;
        self.hands.is_locked_out = false;
        self.hands.proved_dead.clear();
        out.warn(cautions::LOCK_OFF);
        Ok(())
    }

    /// Tester on a known source, on every conductor here, on the known source again.
    pub(super) fn prove_dead(&mut self, out: &mut Outcome) -> Worked {
        self.must_have(Tool::LockoutSet)?;
        let cover = match self.station {
            Station::Panel => Cover::Panel,
            Station::Wall => Cover::Switch,
            Station::Splice => Cover::Splice,
            Station::Source | Station::House => {
                return Err(Refusal::NotHere {
                    what: "terminals to test at this place".to_owned(),
                }
                .into());
            }
        };
        self.must_be_open(cover)?;
        if !self.hands.is_locked_out {
            return Err(Refusal::First(
                "lock the breaker off first: what is only switched off proves nothing".to_owned(),
            )
            .into());
        }
        self.work("prove_dead", out)?;
        out.warn(cautions::PROOF_OF_DEAD);
        let live = self.live_points(self.station);
        let shown = if live.is_empty() {
            self.hands.proved_dead.insert(self.station);
            "no voltage on any conductor, tester good before and after".to_owned()
        } else {
            format!("VOLTAGE at {}", live.join(", "))
        };
        self.write(
            Observation::NoReading {
                instrument: "voltage_tester".to_owned(),
                place: vec![self.station.name().to_owned()],
                shown,
            },
            out,
        );
        Ok(())
    }

    /// Points at a station that stand at 50 V or more to earth, the panel's line side left
    /// out: it stays live behind a locked breaker and is not what is worked on.
    fn live_points(&self, station: Station) -> Vec<String> {
        let Ok(bench) = Bench::of(&self.plant, self.seed()) else {
            return Vec::new();
        };
        let at = match station {
            Station::Panel => "breaker.",
            Station::Wall => "switch.",
            _ => "splice.",
        };
        bench
            .points()
            .into_iter()
            .filter(|point| point.name.starts_with(at))
            .filter(|point| {
                bench
                    .low_impedance_volts(point.name, "panel.earth")
                    .is_ok_and(|reading| reading.figure.value >= LIVE_V)
            })
            .map(|point| point.name.to_owned())
            .collect()
    }

    pub(super) fn discharge(&mut self, out: &mut Outcome) -> Worked {
        self.must_have(Tool::LockoutSet)?;
        if !self.hands.is_locked_out {
            return Err(Refusal::First("lock the breaker off first".to_owned()).into());
        }
        self.work("discharge", out)?;
        self.hands.is_discharged = true;
        out.warn(cautions::DISCHARGE);
        Ok(())
    }

    pub(super) fn take_leads_apart(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Splice)?;
        self.must_have(Tool::HandTools)?;
        self.must_be_open(Cover::Splice)?;
        if self.hands.leads_are_apart {
            return Err(Refusal::First("the conductors are apart already".to_owned()).into());
        }
        self.must_be_dead(Station::Splice)?;
        self.work("leads_apart", out)?;
        self.hands.leads_are_apart = true;
        out.warn(cautions::LEADS_APART);
        Ok(())
    }

    pub(super) fn join_leads(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Splice)?;
        if !self.hands.leads_are_apart {
            return Err(Refusal::First("the conductors are joined already".to_owned()).into());
        }
        self.must_be_dead(Station::Splice)?;
        self.work("join_leads", out)?;
        self.hands.leads_are_apart = false;
        out.warn(cautions::LEADS_JOINED);
        // A joint just taken apart and made anew is a new joint.
        self.mend(&[PartId::Splice], super::repairs::Deed::Remade, out)
    }

    pub(super) fn call_qualified(&mut self, out: &mut Outcome) -> Worked {
        if self.hands.has_qualified {
            return Err(Refusal::First("the electrician is here already".to_owned()).into());
        }
        self.work("call_qualified", out)?;
        self.hands.has_qualified = true;
        out.remarks.push(
            "A qualified electrician is with you and does the live and wired work at your word."
                .to_owned(),
        );
        Ok(())
    }

    pub(super) fn call_helper(&mut self, out: &mut Outcome) -> Worked {
        if self.hands.has_helper {
            return Err(Refusal::First("your helper is here already".to_owned()).into());
        }
        self.work("call_helper", out)?;
        self.hands.has_helper = true;
        out.remarks
            .push("A second pair of hands is here.".to_owned());
        Ok(())
    }
}
