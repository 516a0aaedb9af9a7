//! The rules, each on a story written by hand.

use super::*;
use crate::catalog::{Catalog, PartId};
use crate::cues::{Cue, Sense};
use crate::faults::{Fault, FaultKind};
use crate::marking::judge as judge_all;
use crate::plant::Tick;
use crate::scenario::{Budget, Par, Role, Rubric, Weights};
use crate::session::{
    Action, Condition, Done, Entry, FaultName, Hazard, HazardKind, Moment, Observation, Outcome,
    Probe, Proof, Remaining, Repair, Station,
};
use crate::units::convert::PSI;

/// A visit, action by action.
pub(in crate::marking) struct Story {
    done: Vec<Done>,
    condition: Condition,
    catalog: Catalog,
    accept: Vec<(FaultKind, FaultKind)>,
    role: Role,
    minutes: f64,
    money: f64,
    is_closed: bool,
}

impl Story {
    pub(in crate::marking) fn healthy() -> Self {
        Self {
            done: Vec::new(),
            condition: Condition::default(),
            catalog: Catalog::shipped(),
            accept: Vec::new(),
            role: Role::Qualified,
            minutes: 50.0,
            money: 20.0,
            is_closed: true,
        }
    }

    fn hiding(kinds: &[FaultKind]) -> Self {
        let mut story = Self::healthy();
        story.condition.hidden = kinds
            .iter()
            .map(|kind| Remaining {
                fault: Fault::usual(*kind),
                is_cured: false,
            })
            .collect();
        story
    }

    fn cured(mut self) -> Self {
        for remaining in &mut self.condition.hidden {
            remaining.is_cured = true;
        }
        self
    }

    pub(in crate::marking) fn then(&mut self, action: Action, readings: Vec<Observation>) {
        let tick = Tick(3_000 * self.done.len() as u64);
        let entry = |observation| Entry {
            tick,
            station: Station::Wall,
            observation,
            state: "breaker on".to_owned(),
        };
        self.done.push(Done {
            action,
            outcome: Outcome {
                seconds: 60.0,
                readings: readings.into_iter().map(entry).collect(),
                ..Outcome::default()
            },
            station: Station::Wall,
            begun: tick,
            ended: Tick(tick.0 + 3_000),
        });
    }

    fn call(&mut self, kinds: &[FaultKind]) {
        let faults = kinds.iter().copied().map(FaultName).collect();
        self.then(Action::Call { faults }, Vec::new());
    }

    fn leak_down(&mut self) {
        let (seconds, every) = (900.0, 60.0);
        self.then(Action::LogGauge { seconds, every }, log());
    }

    fn replace(&mut self, part: PartId) {
        self.then(Action::Replace { part }, Vec::new());
    }

    fn prove(&mut self, proof: Proof) {
        self.then(Action::Prove, vec![Observation::Proof(proof)]);
    }

    fn check_earth(&mut self) {
        self.then(
            Action::Measure {
                meter: Probe::Ohms,
                from: "panel.earth".to_owned(),
                to: Some("pump.frame".to_owned()),
                moment: Moment::Now,
            },
            reading(),
        );
    }

    fn meet(&mut self, kind: HazardKind) {
        self.then(Action::EnterSource, Vec::new());
        let hazard = Hazard {
            kind,
            consequence: "You would have fainted.".to_owned(),
            instead: "Look from the lid.".to_owned(),
            basis: "29 CFR 1910.146".to_owned(),
        };
        self.done.last_mut().unwrap().outcome.hazard = Some(hazard);
    }

    pub(in crate::marking) fn with_case<T>(&self, look: impl FnOnce(&Case<'_>) -> T) -> T {
        look(&Case {
            done: &self.done,
            condition: &self.condition,
            catalog: &self.catalog,
            accept: &self.accept,
            role: self.role,
            budget: Budget {
                minutes: 150.0,
                money: 420.0,
            },
            par: Par {
                minutes: 50.0,
                money: 20.0,
            },
            minutes: self.minutes,
            money: self.money,
            can_check_earth: true,
            is_closed: self.is_closed,
        })
    }

    fn share(&self, rule: fn(&Case<'_>) -> Judged) -> f64 {
        self.with_case(rule).share
    }

    fn words(&self, rule: fn(&Case<'_>) -> Judged) -> String {
        let findings = self.with_case(rule).findings;
        findings
            .iter()
            .map(|f| format!("{}\n", f.sentence))
            .collect()
    }
}

pub(in crate::marking) fn reading() -> Vec<Observation> {
    vec![Observation::Reading {
        instrument: "test".to_owned(),
        place: Vec::new(),
        value: 1.0,
        error: 0.1,
        unit: "Pa".to_owned(),
        shown: "1".to_owned(),
    }]
}

pub(in crate::marking) fn log() -> Vec<Observation> {
    vec![Observation::Log {
        instrument: "gauge".to_owned(),
        points: vec![(0.0, 50.0 * PSI), (900.0, 40.0 * PSI)],
    }]
}

fn good_proof() -> Proof {
    Proof {
        cut_in: Some(30.0 * PSI),
        cut_out: Some(50.0 * PSI),
        run_s: Some(60.0),
        hold: Some((49.0 * PSI, 48.5 * PSI)),
        drawdown: Some(0.0215),
        drawdown_expected: 0.0224,
        earth_ohm: None,
    }
}

const WEEP: FaultKind = FaultKind::CheckValveWeeping;
const OPEN: FaultKind = FaultKind::CheckValveStuckOpen;
const WATERLOGGED: FaultKind = FaultKind::TankTornBladder;
const LEAK: FaultKind = FaultKind::RunLeak;

fn near(left: f64, right: f64) {
    assert!((left - right).abs() < 1e-12, "{left} is not {right}");
}

#[test]
fn a_right_call_with_evidence_is_worth_all_and_without_it_half() {
    let mut story = Story::hiding(&[WEEP]);
    near(story.share(call::judge), 0.0);
    story.call(&[WEEP]);
    near(story.share(call::judge), 0.5);
    story.leak_down();
    // Evidence after the call supports a later call, not the earlier.
    near(story.share(call::judge), 0.5);
    story.call(&[WEEP]);
    near(story.share(call::judge), 1.0);
    assert!(story.words(call::judge).contains("from action 2"));
}

#[test]
fn the_right_part_with_a_wrong_mechanism_is_worth_two_fifths() {
    let mut story = Story::hiding(&[WEEP]);
    story.leak_down();
    story.call(&[OPEN]);
    near(story.share(call::judge), 0.4);
    story.accept.push((WEEP, OPEN));
    near(story.share(call::judge), 1.0);
    story.call(&[WATERLOGGED]);
    near(story.share(call::judge), 0.0);
}

#[test]
fn several_hidden_share_and_what_is_called_in_excess_costs() {
    let mut story = Story::hiding(&[WEEP, WATERLOGGED]);
    story.leak_down();
    story.call(&[WEEP]);
    near(story.share(call::judge), 0.5);
    story.call(&[WEEP, WATERLOGGED]);
    near(story.share(call::judge), 1.0);
    story.call(&[WEEP, WATERLOGGED, LEAK]);
    near(story.share(call::judge), 0.75);
    story.call(&[WEEP, LEAK, OPEN]);
    near(story.share(call::judge), 0.0);
    // A name said twice is said once.
    story.call(&[WEEP, WEEP, WATERLOGGED]);
    near(story.share(call::judge), 1.0);
}

#[test]
fn a_sound_system_is_called_sound_or_nothing_is_earned() {
    let mut story = Story::healthy();
    near(story.share(call::judge), 0.0);
    story.call(&[WEEP]);
    near(story.share(call::judge), 0.0);
    story.call(&[]);
    near(story.share(call::judge), 1.0);
    let mut sick = Story::hiding(&[WEEP]);
    sick.leak_down();
    sick.call(&[]);
    near(sick.share(call::judge), 0.0);
}

#[test]
fn a_repair_is_judged_by_the_plant() {
    let mut story = Story::hiding(&[WEEP, WATERLOGGED]);
    story.replace(PartId::CheckValve);
    near(story.share(repair::judge), 0.0);
    story.condition.hidden[0].is_cured = true;
    near(story.share(repair::judge), 0.5);
    let judged = story.with_case(repair::judge);
    assert_eq!(judged.findings[0].action, Some(1));
    story.condition.hidden[1].is_cured = true;
    near(story.share(repair::judge), 1.0);
    let spoilt = "The pump's seal ran dry.".to_owned();
    story.condition.spoilt = vec![spoilt.clone()];
    near(story.share(repair::judge), 0.5);
    story.condition.spoilt = vec![spoilt.clone(), spoilt.clone(), spoilt];
    near(story.share(repair::judge), 0.0);
    near(Story::healthy().share(repair::judge), 1.0);
}

#[test]
fn a_qualified_person_called_for_a_fault_named_rightly_counts_in_full() {
    let fault = FaultKind::ContactsBurnt;
    let mut story = Story::hiding(&[fault]);
    story.role = Role::Apprentice;
    story.then(Action::CallQualified, Vec::new());
    near(story.share(repair::judge), 0.0);
    story.call(&[fault]);
    near(story.share(repair::judge), 1.0);
    // It is no way round work that one is qualified for.
    story.role = Role::Qualified;
    near(story.share(repair::judge), 0.0);
    // Where the catalogue itself names a qualified person, it is.
    let mut splice = Story::hiding(&[FaultKind::SpliceResistive]);
    splice.then(Action::CallQualified, Vec::new());
    splice.call(&[FaultKind::SpliceResistive]);
    near(splice.share(repair::judge), 1.0);
    let mut tank = Story::hiding(&[WATERLOGGED]);
    tank.role = Role::Apprentice;
    tank.then(Action::CallQualified, Vec::new());
    tank.call(&[WATERLOGGED]);
    near(tank.share(repair::judge), 0.0);
}

#[test]
fn a_proof_earns_for_what_it_showed_after_the_last_repair() {
    let mut story = Story::hiding(&[WEEP]).cured();
    near(story.share(proof::judge), 0.0);
    story.prove(good_proof());
    near(story.share(proof::judge), 1.0);
    story.replace(PartId::CheckValve);
    near(story.share(proof::judge), 0.0);
    assert!(story.words(proof::judge).contains("before action 2"));
    for (proof, share) in [
        (good_proof(), 1.0),
        (
            Proof {
                cut_out: None,
                ..good_proof()
            },
            0.6,
        ),
        (
            Proof {
                hold: Some((49.0 * PSI, 45.0 * PSI)),
                ..good_proof()
            },
            0.7,
        ),
        (
            Proof {
                hold: None,
                drawdown: None,
                ..good_proof()
            },
            0.4,
        ),
        (
            Proof {
                drawdown: Some(0.0224 * 0.89),
                ..good_proof()
            },
            0.7,
        ),
        (
            Proof {
                drawdown_expected: 0.0,
                ..good_proof()
            },
            0.7,
        ),
        (
            Proof {
                hold: Some((f64::NAN, f64::NAN)),
                drawdown: Some(f64::NAN),
                ..good_proof()
            },
            0.4,
        ),
    ] {
        story.prove(proof);
        near(story.share(proof::judge), share);
    }
}

#[test]
fn small_omissions_cost_parts_of_safety() {
    let mut story = Story::healthy();
    near(story.share(safety::judge), 0.7);
    story.check_earth();
    near(story.share(safety::judge), 1.0);
    story.condition.untidy = vec!["The switch cover was left open.".to_owned()];
    near(story.share(safety::judge), 0.8);
    story.condition.owes_disinfection = true;
    near(story.share(safety::judge), 0.4);
    story.is_closed = false;
    near(story.share(safety::judge), 0.2);
    story
        .condition
        .untidy
        .push("The drain was left open.".to_owned());
    story
        .condition
        .untidy
        .push("The lock was left on.".to_owned());
    near(story.share(safety::judge), 0.0);
}

#[test]
fn asking_for_a_qualified_person_costs_no_safety() {
    let mut story = Story::healthy();
    story.check_earth();
    let before = story.share(safety::judge);
    story.then(Action::CallQualified, Vec::new());
    story.then(Action::CallHelper, Vec::new());
    near(story.share(safety::judge), before);
}

fn rubric() -> Rubric {
    Rubric {
        weights: Weights {
            call: 30.0,
            repair: 20.0,
            proof: 20.0,
            safety: 20.0,
            economy: 10.0,
        },
        pass: 70.0,
    }
}

/// Everything right.
fn exemplary() -> Story {
    let mut story = Story::hiding(&[WEEP]).cured();
    story.leak_down();
    story.call(&[WEEP]);
    story.replace(PartId::CheckValve);
    story.check_earth();
    story.prove(good_proof());
    story
}

#[test]
fn an_exemplary_visit_has_full_marks() {
    let sum = exemplary().with_case(|case| judge_all(case, &rubric()));
    near(sum.total, 100.0);
    assert!(!sum.is_capped);
}

#[test]
fn a_dangerous_act_fails_whatever_else_was_earned_and_undone_or_not() {
    let mut story = exemplary();
    story.meet(HazardKind::ConfinedSpace);
    let sum = |story: &Story| story.with_case(|case| judge_all(case, &rubric()));
    near(sum(&story).parts[3].earned, 0.0);
    assert_eq!((sum(&story).total, sum(&story).is_capped), (69.0, true));
    story.then(Action::Undo, Vec::new());
    assert_eq!((sum(&story).total, sum(&story).is_capped), (69.0, true));
    // The cap lifts nobody.
    let mut idle = Story::hiding(&[WEEP]);
    idle.meet(HazardKind::LiveContact);
    assert!(sum(&idle).total < 30.0 && !sum(&idle).is_capped);
}

#[test]
fn no_rubric_lets_a_dangerous_act_pass() {
    for (safety, pass) in [(0.0, 50.0), (1.0, 99.0), (5.0, 100.0), (0.0, 0.5)] {
        let mut story = exemplary();
        story.meet(HazardKind::LiveContact);
        let rubric = Rubric {
            weights: Weights {
                call: 30.0,
                repair: 30.0,
                proof: 30.0 - safety,
                safety,
                economy: 10.0,
            },
            pass,
        };
        let sum = story.with_case(|case| judge_all(case, &rubric));
        assert!(sum.total < pass, "{} of {pass}", sum.total);
    }
}

#[test]
fn economy_is_full_up_to_par_and_nothing_at_the_budget() {
    let mut story = exemplary();
    near(story.share(economy::judge), 1.0);
    story.minutes = 10.0;
    story.money = 0.0;
    near(story.share(economy::judge), 1.0);
    story.minutes = 100.0;
    near(story.share(economy::judge), 0.75);
    story.minutes = 150.0;
    near(story.share(economy::judge), 0.5);
    story.minutes = 1_000.0;
    story.money = 420.0;
    near(story.share(economy::judge), 0.0);
}

#[test]
fn parts_that_were_sound_or_nothing_pointed_at_cost() {
    let mut story = exemplary();
    story.replace(PartId::PressureSwitch);
    near(story.share(economy::judge), 0.75);
    let unneeded = story.with_case(economy::unneeded);
    assert_eq!(unneeded[0].part, PartId::PressureSwitch);
    let mut blind = Story::hiding(&[WEEP]).cured();
    blind.replace(PartId::CheckValve);
    let why = blind.with_case(economy::unneeded)[0].why;
    assert_eq!(why, crate::marking::WhyUnneeded::NoEvidence);
    // One that was undone was not put in.
    story.then(Action::Undo, Vec::new());
    assert!(story.with_case(economy::unneeded).is_empty());
    // A part fitted where none was is a part as well.
    let part = PartId::ReliefValve;
    let how = Repair::Fit;
    story.then(Action::Repair { part, how }, Vec::new());
    assert_eq!(story.with_case(economy::unneeded).len(), 1);
}

#[test]
fn leaving_it_undone_saves_nothing() {
    let mut story = Story::hiding(&[WEEP]);
    story.minutes = 1.0;
    story.money = 0.0;
    near(story.share(economy::judge), 0.0);
    let mut healthy = Story::healthy();
    near(healthy.share(economy::judge), 0.0);
    healthy.call(&[]);
    near(healthy.share(economy::judge), 1.0);
}

#[test]
fn a_cue_of_the_part_is_evidence_and_nothing_perceived_is_none() {
    let cue = |name: &str| Cue {
        name: name.to_owned(),
        sense: Sense::Hearing,
        part: PartId::CheckValve,
        level: 0.5,
        caption: "Water runs back.".to_owned(),
    };
    for (name, share) in [("nothing", 0.5), ("water_runs_back", 1.0)] {
        let mut story = Story::hiding(&[WEEP]);
        story.then(Action::Listen, Vec::new());
        story.done[0].outcome.cues = vec![cue(name)];
        story.call(&[WEEP]);
        near(story.share(call::judge), share);
    }
}

#[test]
fn what_can_kill_and_is_left_switched_on_costs_safety() {
    let mut story = Story::hiding(&[FaultKind::EarthOpen]);
    story.check_earth();
    let locked_off = story.share(safety::judge);
    near(locked_off, 1.0);
    story.condition.left_live = vec![FaultKind::EarthOpen];
    near(story.share(safety::judge), 0.6);
    assert!(story.words(safety::judge).contains("danger to life"));
}
