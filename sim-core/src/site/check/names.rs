//! Version, names and title.

use std::collections::BTreeMap;

use crate::file::fields::Located;
use crate::file::problem::{Position, Problems};
use crate::site::draft::{FORMAT_VERSION, SiteDraft};

/// Longest name [characters].
const MAX_NAME_CHARS: usize = 40;
/// Longest title [characters].
const MAX_TITLE_CHARS: usize = 120;

/// The format's version is the one that this program reads.
pub(super) fn check_version(site: &SiteDraft, problems: &Problems) {
    if let Some(version) = &site.version
        && version.value != FORMAT_VERSION
    {
        problems.report_spot(
            &version.spot,
            format!("version {} is not known to this program", version.written),
            "1",
        );
    }
}

/// The site's name is kebab-case and, for a `.ron` file, the file's own name.
pub(super) fn check_site_name(site: &SiteDraft, file_name: &str, problems: &Problems) {
    let Some(name) = &site.name else { return };
    if !check_kebab_case(name, problems) {
        return;
    }
    let last = file_name.rsplit(['/', '\\']).next().unwrap_or(file_name);
    if let Some(stem) = last.strip_suffix(".ron")
        && stem != name.value
    {
        problems.report_spot(
            &name.spot,
            format!("{} is not the name of the file", name.written),
            format!("\"{stem}\", or a file called {}.ron", name.value),
        );
    }
}

/// The title is one line that people can read.
pub(super) fn check_title(site: &SiteDraft, problems: &Problems) {
    let Some(title) = &site.title else { return };
    let n_chars = title.value.chars().count();
    if title.value.trim().is_empty()
        || n_chars > MAX_TITLE_CHARS
        || title.value.chars().any(char::is_control)
    {
        problems.report_spot(
            &title.spot,
            format!("{} does not do as a title", title.written),
            format!("one line of 1 to {MAX_TITLE_CHARS} characters"),
        );
    }
}

/// Names of outlets are kebab-case and no two are the same.
pub(super) fn check_fixture_names(site: &SiteDraft, problems: &Problems) {
    let mut seen: BTreeMap<&str, Position> = BTreeMap::new();
    for name in site.house.fixtures.iter().filter_map(|f| f.name.as_ref()) {
        if !check_kebab_case(name, problems) {
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

/// Lower-case words and digits joined by single hyphens, beginning with a letter.
fn check_kebab_case(name: &Located<String>, problems: &Problems) -> bool {
    let text = &name.value;
    let is_kebab = text.starts_with(|c: char| c.is_ascii_lowercase())
        && text.chars().count() <= MAX_NAME_CHARS
        && text.split('-').all(|word| {
            !word.is_empty()
                && word
                    .chars()
                    .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit())
        });
    if !is_kebab {
        problems.report_spot(
            &name.spot,
            format!("{} is not a kebab-case name", name.written),
            format!(
                "up to {MAX_NAME_CHARS} lower-case letters, digits and single hyphens, such as \
                 \"kitchen-tap\""
            ),
        );
    }
    is_kebab
}
