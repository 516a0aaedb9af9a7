//! What the troubleshooter goes by beside the catalogue: `scenarios/troubleshoot.ron`.

use serde::Deserialize;

use crate::faults::{FaultKind, kinds};

const TEXT: &str = include_str!("../../../scenarios/troubleshoot.ron");

/// The file, checked.
#[derive(Debug, Clone, PartialEq)]
pub struct Book {
    /// What a minute on site is worth [USD].
    pub usd_per_minute: f64,
    /// How often nothing is wrong, on the scale of the catalogue's weights.
    pub healthy_weight: f64,
    /// Share of visits on which the earth conductor is open beside whatever else is wrong.
    pub open_earth_share: f64,
    /// Pairs that come together.
    pub compounds: Vec<Compound>,
}

/// Faults that come together.
#[derive(Debug, Clone, PartialEq)]
pub struct Compound {
    /// Which.
    pub kinds: Vec<FaultKind>,
    /// How often, on the scale of the catalogue's weights.
    pub weight: f64,
    /// Why they come together.
    pub reason: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    version: u32,
    usd_per_minute: f64,
    healthy_weight: f64,
    open_earth_share: f64,
    compounds: Vec<CompoundText>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CompoundText {
    faults: Vec<String>,
    weight: f64,
    reason: String,
}

impl Book {
    /// The one that comes with the program.
    ///
    /// # Panics
    /// Never: a test reads the same text.
    #[must_use]
    pub fn shipped() -> Self {
        Self::parse(TEXT).expect("a test reads the same text")
    }

    fn parse(text: &str) -> Result<Self, String> {
        let file: File = ron::from_str(text).map_err(|error| error.to_string())?;
        if file.version != 1 {
            return Err(format!("version {} is not 1", file.version));
        }
        let kind = |name: &String| {
            kinds()
                .find(|info| info.name == name)
                .map(|info| info.kind)
                .ok_or_else(|| format!("no fault `{name}`"))
        };
        let mut compounds = Vec::new();
        for text in &file.compounds {
            let mut kinds = text
                .faults
                .iter()
                .map(kind)
                .collect::<Result<Vec<_>, _>>()?;
            kinds.sort_unstable();
            kinds.dedup();
            if kinds.len() < 2 {
                return Err("a compound has two faults or more".to_owned());
            }
            compounds.push(Compound {
                kinds,
                weight: text.weight,
                reason: text.reason.clone(),
            });
        }
        Ok(Self {
            usd_per_minute: file.usd_per_minute,
            healthy_weight: file.healthy_weight,
            open_earth_share: file.open_earth_share,
            compounds,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_file_is_read_and_every_compound_says_why() {
        let book = Book::shipped();
        assert!(book.usd_per_minute > 0.0 && book.healthy_weight > 0.0);
        assert!(book.open_earth_share > 0.0 && book.open_earth_share < 1.0);
        for compound in &book.compounds {
            assert!(compound.weight > 0.0 && !compound.reason.is_empty());
        }
        let mut kinds: Vec<_> = book.compounds.iter().map(|c| c.kinds.clone()).collect();
        kinds.sort_unstable();
        kinds.dedup();
        assert_eq!(kinds.len(), book.compounds.len(), "a compound twice");
    }
}
