//! Version, names and title.

use std::collections::BTreeMap;

use crate::file::names;
use crate::file::problem::{Position, Problems};
use crate::site::draft::{FORMAT_VERSION, SiteDraft};

/// The format's version is the one that this program reads.
pub(super) fn check_version(site: &SiteDraft, problems: &Problems) {
    names::check_version(site.version.as_ref(), FORMAT_VERSION, problems);
}

/// The site's name is kebab-case and, for a `.ron` file, the file's own name.
pub(super) fn check_site_name(site: &SiteDraft, file_name: &str, problems: &Problems) {
    if let Some(name) = &site.name {
        names::check_own_name(name, file_name, problems);
    }
}

/// The title is one line that people can read.
pub(super) fn check_title(site: &SiteDraft, problems: &Problems) {
    if let Some(title) = &site.title {
        names::check_title(title, problems);
    }
}

/// Names of outlets are kebab-case and no two are the same.
pub(super) fn check_fixture_names(site: &SiteDraft, problems: &Problems) {
    let mut seen: BTreeMap<&str, Position> = BTreeMap::new();
    for name in site.house.fixtures.iter().filter_map(|f| f.name.as_ref()) {
        if !names::check_kebab_case(name, problems) {
            continue;
        }
        match seen.get(name.value.as_str()) {
            Some(first) => problems.report_spot(
                &name.spot,
                format!("{} is the name of two outlets", name.written),
                format!("a name other than that on line {}", first.line),
            ),
            None => {
                seen.insert(&name.value, name.spot.at);
            }
        }
    }
}
