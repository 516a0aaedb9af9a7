//! Quantities against conversions that are exact by definition.

use super::*;

fn si(text: &str, dimension: Dimension) -> f64 {
    parse_quantity(text, dimension)
        .unwrap_or_else(|refusal| panic!("{text}: {}", refusal.message))
        .si
}

fn refusal(text: &str, dimension: Dimension) -> String {
    parse_quantity(text, dimension).unwrap_err().message
}

fn assert_close(got: f64, expected: f64) {
    assert!(
        (got - expected).abs() <= 1e-9 * expected.abs().max(1e-12),
        "{got} is not {expected}"
    );
}

#[test]
fn us_and_si_units_give_the_same_quantity() {
    assert_close(si("1 psi", Dimension::Pressure), 6_894.757_293_168_361);
    assert_close(si("2.5 bar", Dimension::Pressure), 250_000.0);
    assert_close(si("250 kPa", Dimension::Pressure), 250_000.0);
    assert_close(si("0.25 MPa", Dimension::Pressure), 250_000.0);
    assert_close(si("60 gpm", Dimension::Flow), 0.003_785_411_784);
    assert_close(si("86400 gpd", Dimension::Flow), 0.003_785_411_784);
    assert_close(si("3.6 m3/h", Dimension::Flow), 0.001);
    assert_close(si("60 L/min", Dimension::Flow), 0.001);
    assert_close(si("32 degF", Dimension::Temperature), 273.15);
    assert_close(si("212 °F", Dimension::Temperature), 373.15);
    assert_close(si("20 degC", Dimension::Temperature), 293.15);
    assert_close(si("1 hp", Dimension::Power), 745.699_871_582_270_2);
    assert_close(
        si("60 rpm", Dimension::Rotation),
        2.0 * core::f64::consts::PI,
    );
    assert_close(si("1.5 h", Dimension::Time), 5400.0);
    assert_close(si("1 lb ft2", Dimension::Inertia), 0.042_140_110_093_8);
    assert_close(si("8e-4 kg m2", Dimension::Inertia), 8e-4);
    assert_close(
        si("1 gpm/ft", Dimension::SpecificCapacity),
        6.309_019_64e-5 / 0.3048,
    );
}

#[test]
fn fractions_and_feet_with_inches_are_read() {
    assert_close(si("1-1/4 in", Dimension::Length), 1.25 * 0.0254);
    assert_close(si("1 1/4 in", Dimension::Length), 1.25 * 0.0254);
    assert_close(si("3/4 in", Dimension::Length), 0.75 * 0.0254);
    assert_close(si("5 ft 6 in", Dimension::Length), 5.5 * 0.3048);
    assert_close(si("5ft 6in", Dimension::Length), 5.5 * 0.3048);
    assert_close(si("-5 ft 6 in", Dimension::Length), -5.5 * 0.3048);
    assert_close(si("5 ft 6-1/2 in", Dimension::Length), 66.5 * 0.0254);
    assert_close(si("  60   m ", Dimension::Length), 60.0);
}

#[test]
fn every_spelling_of_every_unit_is_read_back() {
    for unit in UNITS {
        for spelling in unit.spellings {
            let measured = parse_quantity(&format!("3 {spelling}"), unit.dimension).unwrap();
            assert_eq!(measured.unit, unit, "{spelling}");
        }
    }
}

#[test]
fn every_example_is_a_quantity_of_its_dimension() {
    for unit in UNITS {
        assert!(parse_quantity(unit.dimension.example(), unit.dimension).is_ok());
    }
}

#[test]
fn a_wrong_dimension_is_named() {
    assert_eq!(
        refusal("40 m", Dimension::Pressure),
        "\"40 m\" is a length, not a pressure"
    );
    assert_eq!(refusal("40", Dimension::Pressure), "\"40\" has no unit");
    assert_eq!(
        refusal("40 kpa", Dimension::Pressure),
        "\"40 kpa\" has the unknown unit \"kpa\", perhaps meant as kPa"
    );
    assert!(refusal("2,5 bar", Dimension::Pressure).contains("point"));
    assert!(refusal("54 psia", Dimension::Pressure).contains("absolute"));
    assert!(refusal("forty psi", Dimension::Pressure).contains("does not begin with a number"));
    assert!(refusal("1e999 m", Dimension::Length).contains("number"));
    assert!(refusal("1/0 m", Dimension::Length).contains("unknown unit"));
    assert!(refusal("5 ft 13 in", Dimension::Length).contains("unknown unit"));
    assert!(refusal(&"9".repeat(1000), Dimension::Length).contains("too long"));
}

#[test]
fn numbers_are_shown_to_four_digits() {
    assert_eq!(four_digits(0.1 + 0.2), "0.3");
    assert_eq!(four_digits(-1e-30), "-0.000000000000000000000000000001");
    assert_eq!(four_digits(-0.0), "0");
    assert_eq!(four_digits(123_456.0), "123500");
}
