//! Scripts of visits: which there are, and what the bad ones promise.

use std::fs;
use std::path::PathBuf;

use sim_core::catalog::PartId;
use sim_core::marking::Report;

/// What the comment lines of a bad run that are checked begin with.
const EXPECTS: &str = "# expects: ";

/// How a visit is played.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// As a good technician does it.
    Good,
    /// As it should not be done.
    Bad,
}

/// A script in `tests/data/runs`: `SCENARIO.good.txt`, `SCENARIO.good-SEED.txt`,
/// `SCENARIO.bad.txt`.
#[derive(Debug, Clone)]
pub(super) struct Script {
    /// Name of the scenario.
    pub(super) scenario: String,
    /// What it shows.
    pub(super) kind: Kind,
    /// Seed of the visit.
    pub(super) seed: u64,
    /// Its file.
    pub(super) path: PathBuf,
}

/// Every script, in order of name.
pub(super) fn scripts() -> Vec<Script> {
    let folder = PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/data/runs"));
    let mut paths: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    paths.sort_unstable();
    paths.into_iter().map(Script::at).collect()
}

impl Script {
    fn at(path: PathBuf) -> Self {
        let name = path.file_name().unwrap().to_str().unwrap();
        let parts: Vec<&str> = name.split('.').collect();
        let [scenario, kind, "txt"] = parts[..] else {
            panic!("{name}: a script is called SCENARIO.good.txt or SCENARIO.bad.txt");
        };
        let (kind, seed) = kind.split_once('-').unwrap_or((kind, "1"));
        Self {
            scenario: scenario.to_owned(),
            kind: match kind {
                "good" => Kind::Good,
                "bad" => Kind::Bad,
                _ => panic!("{name}: good or bad?"),
            },
            seed: seed.parse().unwrap(),
            path,
        }
    }

    /// Its name without the ending.
    pub(super) fn name(&self) -> String {
        self.path.file_stem().unwrap().to_str().unwrap().to_owned()
    }

    /// What its comment lines promise.
    pub(super) fn expectations(&self) -> Vec<Expectation> {
        fs::read_to_string(&self.path)
            .unwrap()
            .lines()
            .filter_map(|line| line.strip_prefix(EXPECTS))
            .map(|text| {
                Expectation::read(text)
                    .unwrap_or_else(|| panic!("{}: `{text}` cannot be expected", self.name()))
            })
            .collect()
    }
}

/// What a bad run promises of its mark.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Expectation {
    /// `hazard NAME`: stopped by that dangerous act.
    Hazard(String),
    /// `call wrong`: a call that earned nothing.
    CallWrong,
    /// `call part`: a call that earned something, not all.
    CallPart,
    /// `call right`: a call that earned all.
    CallRight,
    /// `thrown PART`: a new part that was not needed, or that nothing pointed at.
    Thrown(PartId),
    /// `not repaired`: something hidden is still there.
    NotRepaired,
    /// `no proof`: nothing was earned by a proof.
    NoProof,
    /// `not disinfected`: the source was opened and left so.
    NotDisinfected,
    /// `untidy`: something was left as it should not be.
    Untidy,
    /// `spoilt`: the visit itself has spoilt something.
    Spoilt,
}

impl Expectation {
    fn read(text: &str) -> Option<Self> {
        Some(match text.split_once(' ').unwrap_or((text, "")) {
            ("hazard", name) if !name.is_empty() => Self::Hazard(name.to_owned()),
            ("call", "wrong") => Self::CallWrong,
            ("call", "part") => Self::CallPart,
            ("call", "right") => Self::CallRight,
            ("thrown", name) => {
                Self::Thrown(PartId::ALL.iter().copied().find(|p| p.name() == name)?)
            }
            ("not", "repaired") => Self::NotRepaired,
            ("no", "proof") => Self::NoProof,
            ("not", "disinfected") => Self::NotDisinfected,
            ("untidy", "") => Self::Untidy,
            ("spoilt", "") => Self::Spoilt,
            _ => return None,
        })
    }

    /// Whether a mark is as promised.
    pub(super) fn is_met(&self, report: &Report) -> bool {
        let share = |name: &str| {
            let part = report.parts.iter().find(|part| part.name == name).unwrap();
            part.earned / part.weight
        };
        match self {
            Self::Hazard(name) => report.timeline.iter().any(|row| {
                let hazard = row.hazard.as_ref();
                hazard.is_some_and(|h| serde_json::to_value(h.kind).unwrap() == name.as_str())
            }),
            Self::CallWrong => report.called.is_some() && share("call") == 0.0,
            Self::CallPart => share("call") > 0.0 && share("call") < 1.0,
            Self::CallRight => share("call") == 1.0,
            Self::Thrown(part) => report.unneeded.iter().any(|u| u.part == *part),
            Self::NotRepaired => report.hidden.iter().any(|hidden| !hidden.is_cured),
            Self::NoProof => share("proof") == 0.0,
            Self::NotDisinfected => report.condition.owes_disinfection,
            Self::Untidy => !report.condition.untidy.is_empty(),
            Self::Spoilt => !report.condition.spoilt.is_empty(),
        }
    }
}
