//! An action is carried out: checked, done, written down.

use std::sync::Arc;

use super::action::Action;
use super::hazard::HazardKind;
use super::kit::Tool;
use super::outcome::{Entry, Observation, Outcome, Refusal};
use super::station::{Cover, Station};
use super::visit::{Mode, Visit};
use crate::cues::{self, Attention};
use crate::plant::{CommandError, Device, StepError};

/// Why an action comes to nothing.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Stop {
    /// It cannot be done.
    Refused(Refusal),
    /// It must not be done.
    Hazard(HazardKind),
}

impl From<Refusal> for Stop {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(refusal)
    }
}

impl From<StepError> for Stop {
    fn from(error: StepError) -> Self {
        Self::Refused(Refusal::Plant(error.to_string()))
    }
}

impl From<CommandError> for Stop {
    fn from(error: CommandError) -> Self {
        Self::Refused(Refusal::BadNumber {
            what: error.to_string(),
            accepted: "what the part can be set to".to_owned(),
        })
    }
}

/// Short for what each action gives.
pub(super) type Worked = Result<(), Stop>;

impl Visit {
    /// Does something.
    ///
    /// # Errors
    /// When it cannot be done as things stand; nothing has changed then.
    pub fn perform(&mut self, action: &Action) -> Result<Outcome, Refusal> {
        if self.is_over {
            return Err(Refusal::Over);
        }
        if *action == Action::Undo {
            return self.undo();
        }
        if self.is_stopped && *action != Action::CloseUp {
            return Err(Refusal::First(
                "a dangerous act has stopped the exercise: undo it, or close up".to_owned(),
            ));
        }
        let before = Arc::new(self.clone());
        let mut out = Outcome::default();
        match self.carry_out(action, &mut out) {
            Ok(()) => {}
            Err(Stop::Refused(refusal)) => {
                *self = Arc::unwrap_or_clone(before);
                return Err(refusal);
            }
            Err(Stop::Hazard(kind)) => {
                // What would have happened is told; it does not happen.
                *self = (*before).clone();
                out = Outcome::default();
                self.meet(kind, &mut out);
            }
        }
        self.tell_damage(&mut out);
        let begun = before.now();
        out.seconds = self.now().seconds() - begun.seconds();
        self.hear(&before, action, &mut out);
        self.actions_done = before.actions_done + 1;
        self.trail.text(&format!("{action:?} {out:?}"));
        if self.fixed.mode == Mode::Practice {
            self.before = Some(before);
        }
        out.ended = self.is_over;
        Ok(out)
    }

    /// A dangerous act: told, counted, and the end of it.
    fn meet(&mut self, kind: HazardKind, out: &mut Outcome) {
        let hazard = kind.told();
        self.hazards.push(hazard.clone());
        out.hazard = Some(hazard);
        match self.fixed.mode {
            Mode::Graded => self.is_over = true,
            Mode::Practice => self.is_stopped = true,
        }
    }

    /// What the plant has spoilt during the action.
    fn tell_damage(&mut self, out: &mut Outcome) {
        let (told, now) = (self.damage_told, self.plant.modes().damage);
        self.damage_told = now;
        let is_new = (now.seal && !told.seal)
            || (now.winding && !told.winding)
            || (now.impellers && !told.impellers);
        if is_new && out.hazard.is_none() {
            self.meet(HazardKind::PumpRuined, out);
        }
    }

    /// What could be heard from where one stood meanwhile.
    fn hear(&mut self, before: &Self, action: &Action, out: &mut Outcome) {
        let events = self.plant.take_events();
        if events.is_empty() || matches!(action, Action::Go { .. }) || out.hazard.is_some() {
            return;
        }
        let open = before.open_covers();
        let attention = Attention {
            station: before.station,
            open: &open,
            events: &events,
            ticks: self.now().0 - before.now().0,
            pump_is_out: before.hands.pump_is_out,
        };
        for cue in cues::heard_while(&self.plant, &attention) {
            if !out.cues.iter().any(|c| c.name == cue.name) {
                self.write_cue(&cue, out);
            }
        }
    }

    /// Back to the visit before the last action; dangerous acts stay counted.
    fn undo(&mut self) -> Result<Outcome, Refusal> {
        if self.fixed.mode == Mode::Graded {
            return Err(Refusal::PracticeOnly { what: "undo" });
        }
        let Some(before) = self.before.take() else {
            return Err(Refusal::First("there is nothing to undo".to_owned()));
        };
        let hazards = std::mem::take(&mut self.hazards);
        let (actions_done, mut trail, hints) = (self.actions_done, self.trail, self.hints_given);
        *self = Arc::unwrap_or_clone(before);
        trail.text("undo");
        self.hazards = hazards;
        self.actions_done = actions_done + 1;
        self.trail = trail;
        self.hints_given = hints;
        Ok(Outcome {
            remarks: vec!["Back to before the last action.".to_owned()],
            ..Outcome::default()
        })
    }

    fn carry_out(&mut self, action: &Action, out: &mut Outcome) -> Worked {
        match action {
            Action::Go { to } => self.go(*to),
            Action::Wait { seconds } => self.wait(*seconds),
            Action::WaitUntil { until, at_most } => self.wait_until(*until, *at_most, out),
            Action::Look { at } => self.look(*at, out),
            Action::Listen => self.listen(out),
            Action::Feel { part } => self.feel(*part, out),
            Action::Smell => self.smell(out),
            Action::KnockTank => self.knock_tank(out),
            Action::ReadGauge => self.read_gauge(out),
            Action::TapGauge => self.tap_gauge(out),
            Action::LogGauge { seconds, every } => self.log_gauge(*seconds, *every, out),
            Action::SetBreaker { on } => self.set_breaker(*on, out),
            Action::SetHouseValve { opening } => self.set_house_valve(*opening, out),
            Action::SetTankValve { opening } => self.set_tank_valve(*opening, out),
            Action::SetSourceValve { opening } => self.set_source_valve(*opening, out),
            Action::SetDrain { opening } => self.set_drain(*opening, out),
            Action::SetOutlet { outlet, opening } => self.set_outlet(outlet, *opening, out),
            Action::HoldLever { held } => self.hold_lever(*held, out),
            Action::OpenCover { cover } => self.open_cover(*cover, out),
            Action::CloseCover { cover } => self.close_cover(*cover, out),
            Action::DressForLiveWork => self.dress(out),
            Action::LockOut => self.lock_out(out),
            Action::RemoveLock => self.remove_lock(out),
            Action::ProveDead => self.prove_dead(out),
            Action::DischargeCapacitor => self.discharge(out),
            Action::TakeLeadsApart => self.take_leads_apart(out),
            Action::JoinLeads => self.join_leads(out),
            Action::Measure {
                meter,
                from,
                to,
                moment,
            } => self.measure(*meter, from, to.as_deref(), *moment, out),
            Action::FitGauge { port } => self.fit_gauge(*port, out),
            Action::RemoveGauge => self.remove_gauge(out),
            Action::ReadSecondGauge => self.read_second_gauge(out),
            Action::ReadAirValve => self.read_air_valve(out),
            Action::PressAirValve => self.press_air_valve(out),
            Action::SetAir { pressure } => self.set_air(*pressure, out),
            Action::MeasureFlow { outlet, volume } => self.measure_flow(outlet, *volume, out),
            Action::MeasureLevel => self.measure_level(out),
            Action::MeasureVacuum => self.measure_vacuum(out),
            Action::MeasureTemperature { part } => self.measure_temperature(*part, out),
            Action::AdjustSwitch { cut_in, cut_out } => self.adjust_switch(*cut_in, *cut_out, out),
            Action::Repair { part, how } => self.repair(*part, *how, out),
            Action::Replace { part } => self.replace(*part, out),
            Action::PullPump => self.pull_pump(out),
            Action::LowerPump { vented } => self.lower_pump(*vented, out),
            Action::Vent => self.vent(out),
            Action::Prime => self.prime(out),
            Action::CallHelper => self.call_helper(out),
            Action::CallQualified => self.call_qualified(out),
            Action::Disinfect => self.disinfect(out),
            Action::EnterSource => Err(Stop::Hazard(HazardKind::ConfinedSpace)),
            Action::Explain { about } => self.explain(*about, out),
            Action::Note { text } => self.write_note(text, out),
            Action::Suspect { fault, keep } => self.suspect(*fault, *keep),
            Action::Call { faults } => self.call_faults(faults, out),
            Action::Prove => self.prove(out),
            Action::CloseUp => self.close_up(out),
            Action::Hint => self.hint(out),
            Action::Undo => Err(Refusal::First("there is nothing to undo".to_owned()).into()),
        }
    }

    /// Refuses what is done elsewhere.
    pub(super) fn must_be_at(&self, at: Station) -> Worked {
        if self.station == at {
            Ok(())
        } else {
            Err(Refusal::WrongStation {
                at,
                here: self.station,
            }
            .into())
        }
    }

    /// Refuses what needs a tool that is not in the kit.
    pub(super) fn must_have(&self, tool: Tool) -> Worked {
        if self.kit().contains(&tool) {
            Ok(())
        } else {
            Err(Refusal::NotInKit { tool: tool.label() }.into())
        }
    }

    /// Refuses what is under a cover that is shut.
    pub(super) fn must_be_open(&self, cover: Cover) -> Worked {
        if self.hands.open_covers.contains(&cover) {
            Ok(())
        } else {
            Err(Refusal::Covered {
                cover: cover.label(),
            }
            .into())
        }
    }

    /// Writes an observation into the notebook and the outcome.
    pub(super) fn write(&mut self, observation: Observation, out: &mut Outcome) {
        let entry = Entry {
            tick: self.now(),
            station: self.station,
            observation,
            state: self.state_in_words(),
        };
        out.readings.push(entry.clone());
        self.notebook.push(entry);
    }

    /// Writes a cue into the notebook and the outcome.
    pub(super) fn write_cue(&mut self, cue: &cues::Cue, out: &mut Outcome) {
        let entry = Entry {
            tick: self.now(),
            station: self.station,
            observation: Observation::Perceived {
                cue: cue.name.clone(),
                part: cue.part,
                caption: cue.caption.clone(),
            },
            state: self.state_in_words(),
        };
        self.notebook.push(entry);
        out.cues.push(cue.clone());
    }

    /// The state in which something is read, as far as the person has set or can see it.
    fn state_in_words(&self) -> String {
        let controls = self.plant.controls();
        let circuit = &self.plant.modes().circuit;
        let tripped = circuit.breaker == Device::Open || circuit.ground_fault == Device::Open;
        let mut words = vec![
            match (self.hands.is_locked_out, tripped, controls.breaker_on) {
                (true, _, _) => "locked out",
                (false, true, _) => "breaker tripped",
                (false, false, true) => "breaker on",
                (false, false, false) => "breaker off",
            },
        ];
        if controls.house_valve_opening == 0.0 {
            words.push("house valve shut");
        }
        if controls.tank_valve_opening == 0.0 {
            words.push("tank valve shut");
        }
        if controls.source_valve_opening == 0.0 {
            words.push("source valve shut");
        }
        if controls.drain_opening > 0.0 {
            words.push("drain open");
        }
        if self.hands.leads_are_apart {
            words.push("leads apart");
        }
        words.join(", ")
    }
}
