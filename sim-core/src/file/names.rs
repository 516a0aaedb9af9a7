//! Rules that every sort of file shares: version, name, title.

use super::fields::Located;
use super::problem::Problems;

/// Longest name [characters].
const MAX_NAME_CHARS: usize = 40;
/// Longest title [characters].
const MAX_TITLE_CHARS: usize = 120;

/// The format's version is the one that this program reads.
pub(crate) fn check_version(version: Option<&Located<f64>>, known: f64, problems: &Problems) {
    if let Some(version) = version
        && version.value != known
    {
        problems.report_spot(
            &version.spot,
            format!("version {} is not known to this program", version.written),
            format!("{known}"),
        );
    }
}

/// A name is kebab-case and, for a `.ron` file, the file's own name.
pub(crate) fn check_own_name(name: &Located<String>, file_name: &str, problems: &Problems) {
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

/// A title is one line that people can read.
pub(crate) fn check_title(title: &Located<String>, problems: &Problems) {
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

/// Lower-case words and digits joined by single hyphens, beginning with a letter.
pub(crate) fn check_kebab_case(name: &Located<String>, problems: &Problems) -> bool {
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
