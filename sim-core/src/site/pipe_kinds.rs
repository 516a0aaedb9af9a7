//! Pipe as the trade names it: `"1 in sch40 pvc"` to bore, wall, roughness and modulus.
//!
//! Dimensions: PVC schedule 40, ASTM D1785 (outside diameter and minimum wall,
//! bore = OD − 2·wall; as reprinted in public tables).  PE100 metric, ISO 4427-2
//! (OD and minimum wall, PN 16 = SDR 11, PN 10 = SDR 17; as reprinted in public
//! tables).  Copper type L, ASTM B88 (OD and wall; as reprinted).  From memory,
//! to be checked against the standards: PE with controlled inside diameter, ASTM
//! D2239 (bore of schedule 40, wall = bore / SIDR); metric copper, EN 1057
//! (the 1 mm and 1.2 mm walls); galvanised steel, ASTM A53 schedule 40.
//! Roughness: smooth plastic and drawn tubing 0.0015 mm, galvanised iron 0.15 mm
//! (L. F. Moody, Trans. ASME 66, 1944, p. 671).  Moduli: short-term values at
//! 20 °C from memory; for PE100 data sheets give 750 to 1250 MPa (ISO 527).

use crate::file::problem::{nearest, one_of, quoted};
use crate::file::quantity::{Refusal, find_unit, take_number};
use crate::units::convert::INCH;
use crate::units::{Meters, Pascals};

/// What a pipe's name stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Bore {
    /// Inside diameter.
    pub(super) inside_diameter: Meters,
    /// Wall thickness.
    pub(super) wall_thickness: Meters,
    /// Absolute roughness.
    pub(super) roughness: Meters,
    /// Young's modulus of the wall.
    pub(super) wall_modulus: Pascals,
}

/// A kind of pipe with its sizes.
#[derive(Debug)]
pub(super) struct PipeKind {
    /// Names; the first is shown.
    pub(super) names: &'static [&'static str],
    /// Unit of size, outside diameter and wall, `in` or `mm`.
    pub(super) unit: &'static str,
    /// Size as sold, outside diameter, wall.
    pub(super) sizes: &'static [(f64, f64, f64)],
    /// Absolute roughness [m].
    pub(super) roughness_m: f64,
    /// Young's modulus [Pa].
    pub(super) modulus_pa: f64,
}

/// Smooth plastic and drawn tubing (Moody 1944) [m].
const SMOOTH: f64 = 1.5e-6;
/// Galvanised iron (Moody 1944) [m].
const GALVANISED: f64 = 1.5e-4;
/// PVC (from memory) [Pa].
const PVC_MODULUS: f64 = 2.9e9;
/// PE100 (middle of 750 to 1250 MPa, ISO 527 data sheets) [Pa].
const PE_MODULUS: f64 = 1.0e9;
/// Copper (from memory) [Pa].
const COPPER_MODULUS: f64 = 1.17e11;
/// Steel (from memory) [Pa].
const STEEL_MODULUS: f64 = 2.0e11;

const SCHEDULE_40: &[(f64, f64, f64)] = &[
    (0.5, 0.840, 0.109),
    (0.75, 1.050, 0.113),
    (1.0, 1.315, 0.133),
    (1.25, 1.660, 0.140),
    (1.5, 1.900, 0.145),
    (2.0, 2.375, 0.154),
];

/// Schedule 40 bores with the wall of a given ratio of bore to wall.
macro_rules! controlled_inside {
    ($sidr:literal) => {
        &[
            (0.5, 0.622 * (1.0 + 2.0 / $sidr), 0.622 / $sidr),
            (0.75, 0.824 * (1.0 + 2.0 / $sidr), 0.824 / $sidr),
            (1.0, 1.049 * (1.0 + 2.0 / $sidr), 1.049 / $sidr),
            (1.25, 1.380 * (1.0 + 2.0 / $sidr), 1.380 / $sidr),
            (1.5, 1.610 * (1.0 + 2.0 / $sidr), 1.610 / $sidr),
            (2.0, 2.067 * (1.0 + 2.0 / $sidr), 2.067 / $sidr),
        ]
    };
}

const fn kind(
    names: &'static [&'static str],
    unit: &'static str,
    sizes: &'static [(f64, f64, f64)],
    roughness_m: f64,
    modulus_pa: f64,
) -> PipeKind {
    PipeKind {
        names,
        unit,
        sizes,
        roughness_m,
        modulus_pa,
    }
}

/// Every kind of pipe that a site file can name.
pub(super) const PIPE_KINDS: &[PipeKind] = &[
    kind(
        &["sch40 pvc", "pvc sch40", "schedule 40 pvc"],
        "in",
        SCHEDULE_40,
        SMOOTH,
        PVC_MODULUS,
    ),
    kind(
        &["pe sidr7", "sidr7 pe", "pe sidr 7"],
        "in",
        controlled_inside!(7.0),
        SMOOTH,
        PE_MODULUS,
    ),
    kind(
        &["pe sidr11.5", "sidr11.5 pe", "pe sidr 11.5"],
        "in",
        controlled_inside!(11.5),
        SMOOTH,
        PE_MODULUS,
    ),
    kind(
        &["pe sidr15", "sidr15 pe", "pe sidr 15"],
        "in",
        controlled_inside!(15.0),
        SMOOTH,
        PE_MODULUS,
    ),
    kind(
        &["hdpe pn16", "pe100 pn16", "pe100 sdr11", "hdpe sdr11"],
        "mm",
        &[
            (20.0, 20.0, 2.0),
            (25.0, 25.0, 2.3),
            (32.0, 32.0, 3.0),
            (40.0, 40.0, 3.7),
            (50.0, 50.0, 4.6),
            (63.0, 63.0, 5.8),
        ],
        SMOOTH,
        PE_MODULUS,
    ),
    kind(
        &["hdpe pn10", "pe100 pn10", "pe100 sdr17", "hdpe sdr17"],
        "mm",
        &[
            (32.0, 32.0, 2.0),
            (40.0, 40.0, 2.4),
            (50.0, 50.0, 3.0),
            (63.0, 63.0, 3.8),
        ],
        SMOOTH,
        PE_MODULUS,
    ),
    kind(
        &["copper l", "type l copper", "copper type l"],
        "in",
        &[
            (0.5, 0.625, 0.040),
            (0.75, 0.875, 0.045),
            (1.0, 1.125, 0.050),
            (1.25, 1.375, 0.055),
            (1.5, 1.625, 0.060),
            (2.0, 2.125, 0.070),
        ],
        SMOOTH,
        COPPER_MODULUS,
    ),
    kind(
        &["copper", "en1057 copper", "copper en1057"],
        "mm",
        &[
            (12.0, 12.0, 1.0),
            (15.0, 15.0, 1.0),
            (18.0, 18.0, 1.0),
            (22.0, 22.0, 1.0),
            (28.0, 28.0, 1.0),
            (35.0, 35.0, 1.2),
            (42.0, 42.0, 1.2),
        ],
        SMOOTH,
        COPPER_MODULUS,
    ),
    kind(
        &[
            "galvanized steel",
            "galvanised steel",
            "galvanized",
            "galvanised",
        ],
        "in",
        SCHEDULE_40,
        GALVANISED,
        STEEL_MODULUS,
    ),
];

impl PipeKind {
    /// The sizes as sold, for a message.
    fn size_names(&self) -> String {
        one_of(
            self.sizes
                .iter()
                .map(|(size, _, _)| format!("{} {}", size_name(*size), self.unit)),
        )
    }
}

/// Inch sizes are spoken as fractions.
fn size_name(size: f64) -> String {
    for (value, name) in [(0.5, "1/2"), (0.75, "3/4"), (1.25, "1-1/4"), (1.5, "1-1/2")] {
        if size == value {
            return name.to_owned();
        }
    }
    format!("{size}")
}

/// Looks a pipe up by what the trade calls it.
///
/// # Errors
/// A [`Refusal`] that lists the kinds, or the sizes of the kind.
pub(super) fn parse_bore(text: &str) -> Result<Bore, Refusal> {
    let all_kinds = || {
        format!(
            "size and kind such as \"1 in sch40 pvc\", the kind one of {}; or \
             Custom(inside: .., wall: .., roughness: .., modulus: ..)",
            one_of(PIPE_KINDS.iter().map(|kind| kind.names[0]))
        )
    };
    let refuse = |message: String| Refusal {
        message,
        accepted: all_kinds(),
    };
    let Some((size, rest)) = take_number(text.trim()) else {
        return Err(refuse(format!(
            "{} does not begin with a size",
            quoted(text)
        )));
    };
    let mut words = rest.split_whitespace();
    let unit = words.next().unwrap_or_default();
    if !matches!(unit, "in" | "mm") {
        return Err(refuse(format!(
            "{} has no size in \"in\" or \"mm\"",
            quoted(text)
        )));
    }
    let written_kind = words.take(8).collect::<Vec<_>>().join(" ").to_lowercase();
    if written_kind.is_empty() {
        return Err(refuse(format!(
            "{} does not say what kind of pipe",
            quoted(text)
        )));
    }
    let Some(kind) = PIPE_KINDS
        .iter()
        .find(|kind| kind.names.contains(&written_kind.as_str()))
    else {
        let names = PIPE_KINDS
            .iter()
            .flat_map(|kind| kind.names.iter().copied());
        let hint = nearest(&written_kind, names)
            .map(|name| format!(", perhaps meant as {name}"))
            .unwrap_or_default();
        return Err(refuse(format!(
            "{} names an unknown kind of pipe{hint}",
            quoted(text)
        )));
    };
    let size_refusal = || Refusal {
        message: format!("{} is not a size of {}", quoted(text), kind.names[0]),
        accepted: kind.size_names(),
    };
    let found = kind
        .sizes
        .iter()
        .find(|(candidate, _, _)| (candidate - size).abs() < 1e-9)
        .filter(|_| unit == kind.unit)
        .ok_or_else(size_refusal)?;
    let factor = find_unit(kind.unit).map_or(INCH, |unit| unit.factor);
    let (_, outside, wall) = *found;
    Ok(Bore {
        inside_diameter: Meters((outside - 2.0 * wall) * factor),
        wall_thickness: Meters(wall * factor),
        roughness: Meters(kind.roughness_m),
        wall_modulus: Pascals(kind.modulus_pa),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inside_mm(text: &str) -> f64 {
        parse_bore(text)
            .unwrap_or_else(|refusal| panic!("{text}: {}", refusal.message))
            .inside_diameter
            .si()
            * 1000.0
    }

    /// Inside diameters as printed beside outside diameter and wall in public
    /// reprints of ASTM D1785, three decimals of an inch.
    #[test]
    fn schedule_40_bores_match_the_printed_ones() {
        for (size, inside_in) in [
            ("1/2", 0.622),
            ("3/4", 0.824),
            ("1", 1.049),
            ("1-1/4", 1.380),
            ("1-1/2", 1.610),
            ("2", 2.067),
        ] {
            for kind in ["sch40 pvc", "galvanized steel", "pe sidr15"] {
                let got = inside_mm(&format!("{size} in {kind}"));
                assert!(
                    (got - inside_in * 25.4).abs() < 1e-6,
                    "{size} {kind}: {got}"
                );
            }
        }
    }

    #[test]
    fn metric_bores_are_outside_less_two_walls() {
        assert!((inside_mm("32 mm hdpe pn16") - 26.0).abs() < 1e-9);
        assert!((inside_mm("40 mm PE100 PN10") - 35.2).abs() < 1e-9);
        assert!((inside_mm("22 mm copper") - 20.0).abs() < 1e-9);
        assert!((inside_mm("1.25 in sch40 pvc") - 1.380 * 25.4).abs() < 1e-6);
    }

    #[test]
    fn what_is_not_in_the_table_is_refused_with_the_choices() {
        let sizes = parse_bore("33 mm hdpe pn16").unwrap_err();
        assert!(sizes.accepted.contains("32 mm"));
        let kinds = parse_bore("1 in sch40 pcv").unwrap_err();
        assert!(kinds.message.contains("perhaps meant as sch40 pvc"));
        assert!(parse_bore("1 in").is_err());
        assert!(parse_bore("pvc").is_err());
        assert!(parse_bore("25 mm sch40 pvc").is_err());
    }
}
