//! What must not be done, and what would have happened.
//!
//! Safety is a constraint: a hazard stops the exercise where it stands; no amount of time
//! or money saved makes up for it.

use serde::{Deserialize, Serialize};

/// A dangerous act.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum HazardKind {
    /// Climbed into the source.
    ConfinedSpace,
    /// Reached into or worked on wiring that was not locked out and proved dead.
    NotProvedDead,
    /// Touched live parts.
    LiveContact,
    /// Worked on live parts unqualified or without protection.
    LiveWorkUnprotected,
    /// Put a meter with a source of its own on a live circuit.
    MeterOnLiveCircuit,
    /// Touched a charged capacitor.
    ChargedCapacitor,
    /// Reset a tripped breaker again without a test between.
    RepeatedReset,
    /// Opened pipework, tank or filter under pressure.
    StoredPressure,
    /// Charged the tank above its rating.
    TankOverpressure,
    /// Set cut-out above what tank or relief valve stand.
    SettingAboveRating,
    /// Lifted alone what needs two.
    LiftedAlone,
    /// Let the pump run dry, or against a shut valve, until it was spoilt.
    PumpRuined,
}

/// A dangerous act, told.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Hazard {
    /// Which.
    pub kind: HazardKind,
    /// What would have happened, in plain words.
    pub consequence: String,
    /// What should have been done instead.
    pub instead: String,
    /// Basis: a public rule, or "common practice".
    pub basis: String,
}

impl HazardKind {
    /// The act with what would have happened, what to do instead, and on what that rests.
    #[must_use]
    pub fn told(self) -> Hazard {
        let (consequence, instead, basis) = match self {
            Self::ConfinedSpace => (
                "A closed tank can hold too little oxygen or foul gas. You would have lost \
                 consciousness within breaths, and whoever climbed in after you as well.",
                "Nobody enters. Work from outside with lid, light, rope and hoist; if \
                 somebody must go in, that is a job for a crew with a permit, air tests, \
                 ventilation, a harness and a standby outside.",
                "29 CFR 1910.146; more than half of those who die in confined spaces are \
                 would-be rescuers (as public safety agencies report)",
            ),
            Self::NotProvedDead => (
                "A switch, float or breaker that is merely off can close at any moment, and \
                 what you took for dead may not be. Your hands would have been on it.",
                "Lock the breaker off, tag it, open the cover, then prove the absence of \
                 voltage with a tester that you prove before and after.",
                "29 CFR 1910.333(b); NFPA 70E 120.5",
            ),
            Self::LiveContact => (
                "You would have touched a live part: shock, and an arc if metal slips.",
                "Lock out and prove dead before hands go near a terminal.",
                "29 CFR 1910.333: parts of 50 V or more",
            ),
            Self::LiveWorkUnprotected => (
                "Bare hands and unrated leads beside live terminals: a slip is a shock or \
                 an arc in your face.",
                "Live readings are for a qualified person with gloves, glasses, rated leads \
                 and one hand away. If that is not you, call one: it is never held against \
                 you. Or lock out, and measure what can be measured dead.",
                "29 CFR 1910.333(c), 1910.335; NFPA 70E",
            ),
            Self::MeterOnLiveCircuit => (
                "The supply would have driven current through a meter that is set for dead \
                 circuits: a blown fuse at best, an arc in your hand at worst.",
                "Ohms, insulation and capacitance belong on a circuit that is locked out and \
                 proved dead.",
                "common practice, no source; meter makers' instructions",
            ),
            Self::ChargedCapacitor => (
                "A capacitor keeps its charge after the power is off. It would have gone \
                 through your hand or your meter.",
                "Take it as charged until you have discharged it through a resistor.",
                "29 CFR 1910.333(b)(2)(ii)(C): stored energy; common practice",
            ),
            Self::RepeatedReset => (
                "A breaker that trips again is telling of a fault. Each reset puts the whole \
                 fault current through it and through cable and motor once more.",
                "Reset once; if it trips again, lock out, then measure ohms and insulation \
                 before the next try.",
                "common practice; 29 CFR 1910.334(b)(2)",
            ),
            Self::StoredPressure => (
                "Fittings under pressure fly, and the tank behind them pushes until its water \
                 is gone.",
                "Lock the power off, open the drain, and see the gauge at nothing before a \
                 fitting is loosened.",
                "common practice, no source",
            ),
            Self::TankOverpressure => (
                "Air above the tank's rating can burst it. Air stores far more energy than \
                 water does.",
                "Never above the rating on the plate; the precharge belongs 2 psi or so below \
                 cut-in, with the tank drained.",
                "the tank's nameplate; common practice",
            ),
            Self::SettingAboveRating => (
                "The pump would have run against the relief valve or burst what is rated for \
                 less.",
                "Keep cut-out below the ratings of tank and pipes, below the relief valve, and \
                 below what the pump can reach.",
                "nameplates; UPC 608 for buildings; common practice",
            ),
            Self::LiftedAlone => (
                "A pump with its pipe full of water, or a wet tank, is more than one back \
                 carries; what slips is gone down the well, or on your foot.",
                "Two people and a hoist with a safety rope.",
                "common practice, no source",
            ),
            Self::PumpRuined => (
                "The pump was left to run in a state that it cannot stand, and is spoilt.",
                "Stop a pump that moves no water within a minute or two, and look for the \
                 reason before the next start.",
                "common practice, no source",
            ),
        };
        Hazard {
            kind: self,
            consequence: consequence.to_owned(),
            instead: instead.to_owned(),
            basis: basis.to_owned(),
        }
    }
}
