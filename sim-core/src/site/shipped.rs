//! The sites that come with the program.

/// A site file that comes with the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ShippedSite {
    /// The site's name, which is the file's without its ending.
    pub name: &'static str,
    /// The file's text.
    pub text: &'static str,
}

macro_rules! sites {
    ($($name:literal,)*) => {
        &[$(ShippedSite {
            name: $name,
            text: include_str!(concat!("../../../scenarios/sites/", $name, ".ron")),
        },)*]
    };
}

/// Every file in `scenarios/sites`, in order of name; a test compares.
const SHIPPED: &[ShippedSite] = sites![
    "boatyard-washdown",
    "garden-shed",
    "hill-farm",
    "orchard-cottage",
];

/// Every site that comes with the program, in order of name.
#[must_use]
pub fn shipped() -> &'static [ShippedSite] {
    SHIPPED
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_shipped_site_is_listed_in_order_and_sound() {
        let names: Vec<&str> = shipped().iter().map(|site| site.name).collect();
        assert!(names.is_sorted());
        for site in shipped() {
            let file = format!("{}.ron", site.name);
            let spec = crate::site::parse(&file, site.text).unwrap_or_else(|p| panic!("{p:?}"));
            assert_eq!(spec.name, site.name);
        }
    }
}
