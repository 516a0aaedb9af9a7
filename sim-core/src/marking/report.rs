//! What a mark says: plain data, SI units, complete in itself, so that a debrief needs
//! nothing else.

use serde::Serialize;

use crate::catalog::PartId;
use crate::cues::Cue;
use crate::plant::Tick;
use crate::session::{Action, Entry, Hazard, Mode, Station};

/// A marked visit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Report {
    /// What was worked on.
    pub scenario: ScenarioFacts,
    /// Name that the person typed, or nothing.
    pub person: String,
    /// Practice or graded.
    pub mode: Mode,
    /// Seed of the visit.
    pub seed: u64,
    /// Version of the program that recorded it.
    pub recorded_by: String,
    /// Version of the program that marked it.
    pub marked_by: String,
    /// The logbook's last line was cut off and was left out.
    pub is_torn: bool,
    /// The person closed up, or the exercise was stopped.
    pub is_over: bool,
    /// The mark, of 100.
    pub total: f64,
    /// Least mark that passes.
    pub pass_mark: f64,
    /// Passed.
    pub passes: bool,
    /// The mark was held below the pass mark by a dangerous act.
    pub is_capped: bool,
    /// Call, repair, proof, safety, economy.
    pub parts: Vec<PartMark>,
    /// What was wrong.
    pub hidden: Vec<HiddenFault>,
    /// What was called; none when nothing was.
    pub called: Option<Vec<Called>>,
    /// How the site was left.
    pub condition: EndCondition,
    /// New parts that were not needed, or put in before anything pointed there.
    pub unneeded: Vec<Unneeded>,
    /// Everything done, in order.
    pub timeline: Vec<Row>,
    /// Needle of the gauge over the visit: seconds since arrival and pressure [Pa, gauge].
    pub gauge: Vec<(f64, f64)>,
    /// Time from arrival to the end [min].
    pub minutes: f64,
    /// Money spent [USD].
    pub money: f64,
    /// How often what was done.
    pub counts: Counts,
}

/// What a debrief tells about the scenario.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ScenarioFacts {
    /// Name.
    pub name: String,
    /// One line for people.
    pub title: String,
    /// How hard, 1 to 5.
    pub level: u8,
    /// The site's title.
    pub site: String,
    /// What the customer said.
    pub complaint: String,
    /// Design cut-in [Pa, gauge].
    pub cut_in_pa: f64,
    /// Design cut-out [Pa, gauge].
    pub cut_out_pa: f64,
    /// Time of a practised technician [min].
    pub par_minutes: f64,
    /// Money of a practised technician [USD].
    pub par_money: f64,
    /// Time that the visit may take [min].
    pub budget_minutes: f64,
    /// Money that it may cost [USD].
    pub budget_money: f64,
    /// Notes of the trainer.
    pub teaching: String,
    /// Performance criteria, evidence and where they come from.
    pub references: Vec<String>,
}

/// One part of the mark.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PartMark {
    /// Name: call, repair, proof, safety, economy.
    pub name: &'static str,
    /// For people.
    pub label: &'static str,
    /// Most that it can give.
    pub weight: f64,
    /// What it gave.
    pub earned: f64,
    /// Why.
    pub findings: Vec<Finding>,
}

/// Why points were given or not.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    /// One sentence or two.
    pub sentence: String,
    /// Number of the action that earned or lost it.
    pub action: Option<u64>,
    /// Share of the part's weight that it brought or, below zero, cost; 0 for a remark.
    pub share: f64,
}

/// Something that was wrong.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HiddenFault {
    /// Name: part and mechanism.
    pub name: &'static str,
    /// A few words for people.
    pub title: String,
    /// The part.
    pub part: PartId,
    /// What happens and why.
    pub mechanism: String,
    /// How bad, in its own unit.
    pub severity: f64,
    /// That unit.
    pub unit: &'static str,
    /// What is done about it, the usual remedy first.
    pub remedies: Vec<String>,
    /// The check that closes the job.
    pub proof: String,
    /// What can be observed.
    pub signs: Vec<String>,
    /// What it is mistaken for, and what tells the two apart.
    pub look_alikes: Vec<(String, String)>,
    /// It was well at the end.
    pub is_cured: bool,
}

/// Something that was called.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Called {
    /// Name: part and mechanism.
    pub name: &'static str,
    /// A few words for people.
    pub title: String,
    /// It, or one that counts as the same, was hidden.
    pub is_right: bool,
}

/// How the site was left.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct EndCondition {
    /// What the visit spoilt.
    pub spoilt: Vec<String>,
    /// What was not left as it should be.
    pub untidy: Vec<String>,
    /// The source was opened and not disinfected.
    pub owes_disinfection: bool,
}

/// A new part too many or too early.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Unneeded {
    /// Which.
    pub part: PartId,
    /// Number of the action.
    pub action: u64,
    /// Why it is listed.
    pub why: WhyUnneeded,
    /// What the action cost [USD].
    pub money: f64,
}

/// Why a new part is listed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum WhyUnneeded {
    /// The old one was sound.
    Sound,
    /// The old one was faulty, but nothing that was read before pointed at it.
    NoEvidence,
}

/// One action of the timeline.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Row {
    /// Number, from 1.
    pub n: u64,
    /// When it was begun.
    pub begun: Tick,
    /// When it was done with.
    pub ended: Tick,
    /// Where the person stood.
    pub station: Station,
    /// What was done.
    pub action: Action,
    /// What was read.
    pub readings: Vec<Entry>,
    /// What was perceived.
    pub cues: Vec<Cue>,
    /// What there was to say besides.
    pub remarks: Vec<String>,
    /// Money that it cost [USD].
    pub money: f64,
    /// A dangerous act.
    pub hazard: Option<Hazard>,
    /// It was undone later (practice only).
    pub is_undone: bool,
}

/// How often what was done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Counts {
    /// Actions, undone ones included.
    pub actions: u64,
    /// Readings taken.
    pub readings: u64,
    /// Things perceived.
    pub cues: u64,
    /// Repairs and settings.
    pub repairs: u64,
    /// New parts.
    pub parts: u64,
    /// Calls.
    pub calls: u64,
    /// Hints asked for.
    pub hints: u64,
    /// Actions undone.
    pub undone: u64,
    /// Dangerous acts.
    pub hazards: u64,
}
