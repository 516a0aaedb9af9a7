//! Inside diameters of pipe by nominal size.
//!
//! - Schedule pipe: outside diameter and minimum wall from ASTM D1785 (PVC) and ASME
//!   B36.10M (steel), which share the sizes listed; inside diameter OD − 2·t.
//! - SDR pipe: wall OD/SDR, so inside diameter OD·(1 − 2/SDR) (definition of the ratio).
//! - Controlled-inside-diameter polyethylene, ASTM D2239: the inside diameter is the
//!   schedule 40 one (from memory; the table of the standard was not seen).
//!
//! Real PVC walls lie between the minimum and the minimum plus a tolerance, so the average
//! bore is smaller than OD − 2·t by the tolerance: 2 % in diameter, nearly 10 % in head
//! loss, for a 1 in pipe.  Which convention a diameter follows must be said.
//!
//! Dimensions from memory of the standards, checked where a published check exists.

use crate::units::Meters;
use crate::units::convert::INCH;

/// Nominal pipe size in inches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum NominalSize {
    /// ½ in.
    Half,
    /// ¾ in.
    ThreeQuarters,
    /// 1 in.
    One,
    /// 1¼ in.
    OneAndQuarter,
    /// 1½ in.
    OneAndHalf,
    /// 2 in.
    Two,
    /// 2½ in.
    TwoAndHalf,
    /// 3 in.
    Three,
    /// 4 in.
    Four,
}

/// Wall schedule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Schedule {
    /// Schedule 40.
    Forty,
    /// Schedule 80.
    Eighty,
}

impl NominalSize {
    /// Every size, small to large.
    pub const ALL: [Self; 9] = [
        Self::Half,
        Self::ThreeQuarters,
        Self::One,
        Self::OneAndQuarter,
        Self::OneAndHalf,
        Self::Two,
        Self::TwoAndHalf,
        Self::Three,
        Self::Four,
    ];

    /// Outside diameter of iron-pipe-size pipe.
    #[must_use]
    pub fn outside_diameter(self) -> Meters {
        Meters(self.inches().0 * INCH)
    }

    /// Minimum wall of PVC, nominal wall of steel.
    #[must_use]
    pub fn wall(self, schedule: Schedule) -> Meters {
        let (_, forty, eighty) = self.inches();
        Meters(
            INCH * match schedule {
                Schedule::Forty => forty,
                Schedule::Eighty => eighty,
            },
        )
    }

    /// Inside diameter OD − 2·t with the wall as listed.
    ///
    /// ```
    /// use sim_core::parts::{NominalSize, Schedule};
    ///
    /// let bore = NominalSize::One.inside_diameter(Schedule::Forty);
    /// assert!((bore.si() / 0.0254 - 1.049).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn inside_diameter(self, schedule: Schedule) -> Meters {
        Meters(self.outside_diameter().si() - 2.0 * self.wall(schedule).si())
    }

    /// Inside diameter of controlled-inside-diameter polyethylene pipe.
    #[must_use]
    pub fn controlled_inside_diameter(self) -> Meters {
        self.inside_diameter(Schedule::Forty)
    }

    /// Outside diameter and walls of schedules 40 and 80 [in].
    const fn inches(self) -> (f64, f64, f64) {
        match self {
            Self::Half => (0.840, 0.109, 0.147),
            Self::ThreeQuarters => (1.050, 0.113, 0.154),
            Self::One => (1.315, 0.133, 0.179),
            Self::OneAndQuarter => (1.660, 0.140, 0.191),
            Self::OneAndHalf => (1.900, 0.145, 0.200),
            Self::Two => (2.375, 0.154, 0.218),
            Self::TwoAndHalf => (2.875, 0.203, 0.276),
            Self::Three => (3.500, 0.216, 0.300),
            Self::Four => (4.500, 0.237, 0.337),
        }
    }
}

/// How much thicker than its minimum a PVC wall may be under ASTM D1785: the larger of
/// 0.020 in and 12 % (from memory; common tables of average bore follow from it).
#[must_use]
pub fn pvc_wall_tolerance(minimum_wall: Meters) -> Meters {
    Meters((0.020 * INCH).max(0.12 * minimum_wall.si()))
}

/// Average inside diameter when the wall lies evenly between the minimum and the minimum
/// plus `wall_tolerance`.
#[must_use]
pub fn average_inside_diameter(
    outside_diameter: Meters,
    minimum_wall: Meters,
    wall_tolerance: Meters,
) -> Meters {
    Meters(outside_diameter.si() - 2.0 * minimum_wall.si() - wall_tolerance.si())
}

/// Inside diameter of pipe with a standard dimension ratio, outside diameter over wall.
#[must_use]
pub fn sdr_inside_diameter(outside_diameter: Meters, dimension_ratio: f64) -> Meters {
    Meters(outside_diameter.si() * (1.0 - 2.0 / dimension_ratio))
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn bores_grow_with_size_and_shrink_with_schedule() {
        for pair in NominalSize::ALL.windows(2) {
            let bore = |size: NominalSize| size.inside_diameter(Schedule::Forty).si();
            assert!(bore(pair[0]) < bore(pair[1]));
        }
        for size in NominalSize::ALL {
            assert!(size.inside_diameter(Schedule::Eighty) < size.inside_diameter(Schedule::Forty));
        }
    }

    #[test]
    fn common_tables_of_average_bore_follow_from_the_tolerance_of_the_standard() {
        // A web table of schedule 40 PVC (ix23.com) prints ½ in 0.602, ¾ in 0.804,
        // 1 in 1.029, 3 in 3.042.
        for (size, printed_in) in [
            (NominalSize::Half, 0.602),
            (NominalSize::ThreeQuarters, 0.804),
            (NominalSize::One, 1.029),
            (NominalSize::Three, 3.042),
        ] {
            let wall = size.wall(Schedule::Forty);
            let ours =
                average_inside_diameter(size.outside_diameter(), wall, pvc_wall_tolerance(wall));
            assert_relative_eq!(ours.si() / INCH, printed_in, epsilon = 5.01e-4);
        }
    }

    #[test]
    fn sdr_eleven_leaves_nine_elevenths() {
        assert_relative_eq!(
            sdr_inside_diameter(Meters(0.11), 11.0).si(),
            0.09,
            max_relative = 1e-12
        );
    }
}
