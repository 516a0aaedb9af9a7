//! Studies as a whole: files, settings, figures.

mod files;
mod households;
mod rules;

use crate::scenario::{ShippedSites, SiteFile, Sites};
use crate::study::{Study, StudyFiles};

/// Shipped sites, and one file of draws.
pub(super) struct Files;

impl Sites for Files {
    fn site_file(&self, name: &str) -> Result<SiteFile, String> {
        ShippedSites.site_file(name)
    }
}

impl StudyFiles for Files {
    fn draws_file(&self, name: &str) -> Result<Vec<u8>, String> {
        match name {
            "draws.csv" => Ok(b"start,fixture,duration\n7h,shower,8 min\n".to_vec()),
            "broken.csv" => Ok(b"start,fixture,duration\n7h,fountain,8 min\n".to_vec()),
            _ => Err("draws.csv".to_owned()),
        }
    }
}

/// A study of the orchard cottage with this much put into it.
pub(super) fn text(body: &str) -> String {
    format!(
        "(version: 1, name: \"a-study\", title: \"A study\", site: \"orchard-cottage\",\n{body}\n)"
    )
}

pub(super) fn study(body: &str) -> Study {
    Study::parse("a-study.ron", text(body), &Files).unwrap_or_else(|problems| {
        let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{}", lines.join("\n"))
    })
}
