//! What advice is asked about: a scenario, or a bare site.

use std::path::Path;
use std::sync::Arc;

use anyhow::{Result, anyhow};

use crate::cli::practice::setup;
use crate::cli::sites;
use crate::file::MAX_FILE_BYTES;
use crate::plant::Start;
use crate::scenario::{Budget, Role, Scenario, shipped};
use crate::session::Tool;
use crate::site;
use crate::troubleshoot::PublicCase;

/// Budget where nobody sets one: a working day, and a new pump.
const BUDGET: Budget = Budget {
    minutes: 480.0,
    money: 2_000.0,
};

/// A case.
pub(super) struct Found {
    /// What anybody may know.
    pub(super) public: PublicCase,
    /// The scenario, where it is one.
    pub(super) scenario: Option<Arc<Scenario>>,
}

/// Finds a scenario or a site, by name or path.
pub(super) fn find(name_or_path: &str) -> Result<Found> {
    let is_scenario = shipped().iter().any(|known| known.name == name_or_path)
        || is_scenario_file(Path::new(name_or_path));
    if is_scenario {
        let scenario = setup::find(name_or_path)?;
        return Ok(Found {
            public: PublicCase::of(&scenario),
            scenario: Some(scenario),
        });
    }
    let text = sites::find(name_or_path)?;
    let site = site::parse(&text.file, &text.text).map_err(|problems| {
        let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
        anyhow!(lines.join("\n"))
    })?;
    Ok(Found {
        public: PublicCase {
            site,
            start: Start::Charged,
            history: None,
            use_during: None,
            complaint: String::new(),
            role: Role::Apprentice,
            kit: Tool::ALL.to_vec(),
            budget: BUDGET,
        },
        scenario: None,
    })
}

/// Whether a file says what is hidden, which a site file never does.
fn is_scenario_file(path: &Path) -> bool {
    let bytes = sites::read_at_most(path, MAX_FILE_BYTES as u64).unwrap_or_default();
    let text = String::from_utf8_lossy(&bytes);
    text.lines()
        .map(str::trim_start)
        .any(|line| line.starts_with("hidden:") || line.starts_with("complaint:"))
}
