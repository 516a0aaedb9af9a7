//! Where a scenario finds the site that it names.

use crate::site::shipped;

/// A site file, not yet read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SiteFile {
    /// What problems call it.
    pub file: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// Finds site files.
pub trait Sites {
    /// The site file that a scenario calls `name`.
    ///
    /// # Errors
    /// What would be accepted, when there is none.
    fn site_file(&self, name: &str) -> Result<SiteFile, String>;
}

/// The sites that come with the program, by name.
#[derive(Debug, Clone, Copy, Default)]
pub struct ShippedSites;

impl Sites for ShippedSites {
    fn site_file(&self, name: &str) -> Result<SiteFile, String> {
        shipped()
            .iter()
            .find(|site| site.name == name)
            .map(|site| SiteFile {
                file: format!("{}.ron", site.name),
                bytes: site.text.as_bytes().to_vec(),
            })
            .ok_or_else(|| {
                let names: Vec<&str> = shipped().iter().map(|site| site.name).collect();
                format!("a site that comes with the program: {}", names.join(", "))
            })
    }
}
