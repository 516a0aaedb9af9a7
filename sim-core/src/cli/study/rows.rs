//! The rows of a study, read from the file of results one at a time: memory holds where they
//! stand and not what they say, so that it hardly grows with their number.

use std::cell::RefCell;

use anyhow::{Result, bail};

use super::store::{Header, Lines, Store};
use crate::study::SettingRow;

/// The rows of a finished file, in the order of the settings.
#[derive(Debug)]
pub(super) struct Rows {
    lines: RefCell<Lines>,
    /// Where each begins.
    begins: Vec<u64>,
}

impl Rows {
    /// Reads the file of a store once, handing each row to `each`.
    ///
    /// # Errors
    /// When the file does not hold what was written into it.
    pub(super) fn of(
        store: Store,
        header: &Header,
        settings: &[usize],
        each: &mut dyn FnMut(&SettingRow),
    ) -> Result<Self> {
        let mut lines = store.into_lines()?;
        if lines.next_as::<Header>()?.as_ref() != Some(header) {
            bail!(
                "{} does not begin as it was written",
                lines.path().display()
            );
        }
        let mut begins = Vec::with_capacity(settings.len());
        for setting in settings {
            let begin = lines.n_bytes();
            match lines.next_as::<SettingRow>()? {
                Some(row) if row.setting == *setting => {
                    begins.push(begin);
                    each(&row);
                }
                _ => bail!(
                    "{} has no row for setting {setting}",
                    lines.path().display()
                ),
            }
        }
        Ok(Self {
            lines: RefCell::new(lines),
            begins,
        })
    }

    /// How many.
    pub(super) fn len(&self) -> usize {
        self.begins.len()
    }

    /// One of them.
    ///
    /// # Errors
    /// When the file has changed meanwhile.
    pub(super) fn get(&self, row: usize) -> Result<SettingRow> {
        let mut lines = self.lines.borrow_mut();
        if let Some(begin) = self.begins.get(row)
            && (*begin == lines.n_bytes() || lines.go_to(*begin).is_ok())
            && let Some(found) = lines.next_as()?
        {
            return Ok(found);
        }
        bail!("{} was changed meanwhile", lines.path().display())
    }

    /// All of them, one after another.
    pub(super) fn iter(&self) -> impl Iterator<Item = Result<SettingRow>> {
        (0..self.len()).map(|row| self.get(row))
    }
}
