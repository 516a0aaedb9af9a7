//! Tables and rules of the electrical codes that size a motor circuit.
//!
//! Sources: NFPA 70 (NEC) Table 430.248 (full-load currents, read in three copies that
//! agree), Table 430.7(B) (code letters, read in three copies), 430.22, 430.32(A)(2)
//! (read in copies), Table 430.52 (from memory); NEMA MG 1-12.44.1 (read).
//! Left out: the many exceptions; a trainee who needs them needs the code itself.

use crate::units::convert::HORSEPOWER;

/// Branch-circuit conductors of one continuous motor, over full-load current (430.22).
pub const CONDUCTOR_AMPACITY_RATIO: f64 = 1.25;
/// Largest inverse-time breaker over full-load current (Table 430.52, from memory).
pub const BREAKER_MAXIMUM_RATIO: f64 = 2.5;
/// Permitted variation of running voltage, either way, at rated frequency (MG 1-12.44.1).
pub const VOLTAGE_VARIATION: f64 = 0.10;

/// hp, full-load current at 115 V, at 230 V [A] (Table 430.248).
const FULL_LOAD: [(f64, f64, f64); 9] = [
    (1.0 / 6.0, 4.4, 2.2),
    (0.25, 5.8, 2.9),
    (1.0 / 3.0, 7.2, 3.6),
    (0.5, 9.8, 4.9),
    (0.75, 13.8, 6.9),
    (1.0, 16.0, 8.0),
    (1.5, 20.0, 10.0),
    (2.0, 24.0, 12.0),
    (3.0, 34.0, 17.0),
];

/// Letter and least kVA/hp (Table 430.7(B)); each band ends where the next begins.
const LETTERS: [(char, f64); 19] = [
    ('A', 0.0),
    ('B', 3.15),
    ('C', 3.55),
    ('D', 4.0),
    ('E', 4.5),
    ('F', 5.0),
    ('G', 5.6),
    ('H', 6.3),
    ('J', 7.1),
    ('K', 8.0),
    ('L', 9.0),
    ('M', 10.0),
    ('N', 11.2),
    ('P', 12.5),
    ('R', 14.0),
    ('S', 16.0),
    ('T', 18.0),
    ('U', 20.0),
    ('V', 22.4),
];

/// Column of the full-load table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TableVoltage {
    /// 110 to 120 V systems.
    V115,
    /// 220 to 240 V systems.
    V230,
}

/// Full-load current of a single-phase motor [A]; none for a size not in the table.
#[must_use]
pub fn full_load_current_a(horsepower: f64, voltage: TableVoltage) -> Option<f64> {
    let row = FULL_LOAD
        .iter()
        .find(|row| (row.0 - horsepower).abs() < 1e-3)?;
    Some(match voltage {
        TableVoltage::V115 => row.1,
        TableVoltage::V230 => row.2,
    })
}

/// Least and largest printed locked-rotor kVA/hp of a code letter; the last band has no
/// largest.
#[must_use]
pub fn code_letter_band_kva_per_hp(letter: char) -> Option<(f64, f64)> {
    let at = LETTERS.iter().position(|row| row.0 == letter)?;
    // Printed to two decimals: a band ends a hundredth below the next.
    let end = LETTERS.get(at + 1).map_or(f64::INFINITY, |next| {
        ((next.1 - 0.01) * 100.0).round() / 100.0
    });
    Some((LETTERS[at].1, end))
}

/// Code letter of a locked-rotor kVA/hp; none below zero.
#[must_use]
pub fn code_letter(kva_per_hp: f64) -> Option<char> {
    LETTERS
        .iter()
        .rev()
        .find(|row| kva_per_hp >= row.1)
        .map(|row| row.0)
}

/// Locked-rotor current of a single-phase motor [A].
#[must_use]
pub fn locked_rotor_current_a(kva_per_hp: f64, horsepower: f64, volts: f64) -> f64 {
    kva_per_hp * 1_000.0 * horsepower / volts
}

/// Locked-rotor kVA per horsepower from what is measured.
#[must_use]
pub fn locked_rotor_kva_per_hp(current_a: f64, volts: f64, rated_power_w: f64) -> f64 {
    current_a * volts / 1_000.0 / (rated_power_w / HORSEPOWER)
}

/// Largest ultimate trip current of a thermal protector in the motor over full-load
/// current (430.32(A)(2)).
#[must_use]
pub fn protector_trip_ratio(full_load_a: f64) -> f64 {
    if full_load_a <= 9.0 {
        1.70
    } else if full_load_a <= 20.0 {
        1.56
    } else {
        1.40
    }
}

/// Least ampacity of the branch-circuit conductors [A].
#[must_use]
pub fn conductor_ampacity_a(full_load_a: f64) -> f64 {
    CONDUCTOR_AMPACITY_RATIO * full_load_a
}

/// Largest inverse-time breaker before exceptions [A].
#[must_use]
pub fn breaker_maximum_a(full_load_a: f64) -> f64 {
    BREAKER_MAXIMUM_RATIO * full_load_a
}

/// Whether a running voltage is within what a motor must bear.
#[must_use]
pub fn is_voltage_within_limits(volts: f64, rated_v: f64) -> bool {
    (volts - rated_v).abs() <= VOLTAGE_VARIATION * rated_v * (1.0 + 1e-12)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_letter_holds_its_own_band() {
        for (letter, least) in LETTERS {
            assert_eq!(code_letter(least), Some(letter));
            let (first, last) = code_letter_band_kva_per_hp(letter).unwrap();
            assert_eq!(first, least);
            if last.is_finite() {
                assert_eq!(code_letter(last), Some(letter));
            }
        }
        assert_eq!(code_letter(-1.0), None);
        assert_eq!(code_letter_band_kva_per_hp('I'), None);
    }

    #[test]
    fn the_high_voltage_column_is_half_of_the_low_one() {
        for (hp, low, high) in FULL_LOAD {
            assert!((low / high - 2.0).abs() < 1e-12, "{hp}");
        }
        assert_eq!(full_load_current_a(0.6, TableVoltage::V115), None);
    }

    #[test]
    fn ten_percent_either_way_is_allowed_and_no_more() {
        assert!(is_voltage_within_limits(207.0, 230.0));
        assert!(is_voltage_within_limits(253.0, 230.0));
        assert!(!is_voltage_within_limits(206.0, 230.0));
    }
}
