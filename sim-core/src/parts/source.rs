//! Cistern or drilled well: how much water there is and how high it stands.
//!
//! Depth h is measured from the floor of the cistern or the bottom of the well.
//! Upright cylinder, box and casing: V = A·h.  Lying cylinder of radius R and length L
//! with flat ends: V = L·(R²·acos(1 − h/R) − (R − h)·√(h·(2R − h))), surface
//! 2·L·√(h·(2R − h)) (circular segment).
//!
//! Leaves out: domed ends, ribs, sloping floors, the volume of what hangs inside.
//!
//! Invariants: volume rises with depth and depth with volume, each is held inside the
//! vessel, and one undoes the other.

use core::f64::consts::PI;

use serde::{Deserialize, Serialize};

use crate::math;
use crate::units::{CubicMetersPerSecond, Meters, SquareMetersPerSecond};

/// Where the water comes from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum SourceSpec {
    /// A closed vessel that rain, a truck or a spring fills.
    Cistern {
        /// Inside shape -- constant.
        shape: CisternShape,
        /// Height of its floor above ground level (negative when buried) [m] -- constant.
        floor: Meters,
        /// Depth of water at the start [m] -- constant.
        initial_depth: Meters,
        /// Steady inflow [m³/s] -- constant.
        refill: CubicMetersPerSecond,
    },
    /// A drilled well: a narrow casing fed by the ground in proportion to its drawdown.
    Well {
        /// Height of the resting water level above ground level (negative) [m] -- constant.
        static_level: Meters,
        /// Height of the bottom of the well above ground level (negative) [m] -- constant.
        bottom: Meters,
        /// Inside diameter of the casing [m] -- constant.
        casing_diameter: Meters,
        /// Yield per metre of drawdown [m²/s] -- constant.
        specific_capacity: SquareMetersPerSecond,
    },
}

/// Inside shape of a cistern.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum CisternShape {
    /// A standing cylinder.
    UprightCylinder {
        /// Inside diameter [m] -- constant.
        diameter: Meters,
        /// Inside height [m] -- constant.
        height: Meters,
    },
    /// A lying cylinder with flat ends.
    LyingCylinder {
        /// Inside diameter [m] -- constant.
        diameter: Meters,
        /// Inside length [m] -- constant.
        length: Meters,
    },
    /// A box.
    Box {
        /// Inside length [m] -- constant.
        length: Meters,
        /// Inside width [m] -- constant.
        width: Meters,
        /// Inside height [m] -- constant.
        height: Meters,
    },
}

impl SourceSpec {
    /// Height above ground level from which depth counts [m].
    #[must_use]
    pub const fn bottom_elevation_m(&self) -> f64 {
        match self {
            Self::Cistern { floor, .. } => floor.si(),
            Self::Well { bottom, .. } => bottom.si(),
        }
    }

    /// Depth of water at the start [m]: as filled, or up to the resting level.
    #[must_use]
    pub fn initial_depth_m(&self) -> f64 {
        match self {
            Self::Cistern { initial_depth, .. } => initial_depth.si(),
            Self::Well {
                static_level,
                bottom,
                ..
            } => static_level.si() - bottom.si(),
        }
    }

    /// Water that stands in it at a depth [m³], depth held between empty and full.  A
    /// well's casing has no lid to hold its depth.
    #[must_use]
    pub fn volume_m3(&self, depth_m: f64) -> f64 {
        match self {
            Self::Cistern { shape, .. } => shape.volume_m3(depth_m),
            Self::Well {
                casing_diameter, ..
            } => circle_m2(casing_diameter.si()) * depth_m.max(0.0),
        }
    }

    /// Depth at which that much water stands [m].
    #[must_use]
    pub fn depth_m(&self, volume_m3: f64) -> f64 {
        match self {
            Self::Cistern { shape, .. } => shape.depth_m(volume_m3),
            Self::Well {
                casing_diameter, ..
            } => volume_m3.max(0.0) / circle_m2(casing_diameter.si()),
        }
    }

    /// Free surface at a depth, dV/dh [m²].
    #[must_use]
    pub fn surface_m2(&self, depth_m: f64) -> f64 {
        match self {
            Self::Cistern { shape, .. } => shape.surface_m2(depth_m),
            Self::Well {
                casing_diameter, ..
            } => circle_m2(casing_diameter.si()),
        }
    }
}

impl CisternShape {
    /// Inside height [m].
    #[must_use]
    pub const fn height_m(&self) -> f64 {
        match self {
            Self::UprightCylinder { height, .. } | Self::Box { height, .. } => height.si(),
            Self::LyingCylinder { diameter, .. } => diameter.si(),
        }
    }

    /// Volume when full [m³].
    #[must_use]
    pub fn capacity_m3(&self) -> f64 {
        self.volume_m3(self.height_m())
    }

    /// Volume of water at a depth [m³], depth held between 0 and the height.
    ///
    /// ```
    /// use sim_core::parts::CisternShape;
    /// use sim_core::units::Meters;
    ///
    /// let tank = CisternShape::LyingCylinder { diameter: Meters(1.2), length: Meters(2.5) };
    /// // Half the depth is half the volume.
    /// assert!((tank.volume_m3(0.6) - 0.5 * tank.capacity_m3()).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn volume_m3(&self, depth_m: f64) -> f64 {
        let depth_m = depth_m.clamp(0.0, self.height_m());
        match self {
            Self::UprightCylinder { diameter, .. } => circle_m2(diameter.si()) * depth_m,
            Self::Box { length, width, .. } => length.si() * width.si() * depth_m,
            Self::LyingCylinder { diameter, length } => {
                length.si() * segment_m2(0.5 * diameter.si(), depth_m)
            }
        }
    }

    /// Depth at which a volume of water stands [m], volume held between 0 and capacity.
    #[must_use]
    pub fn depth_m(&self, volume_m3: f64) -> f64 {
        let depth_m = match self {
            Self::UprightCylinder { diameter, .. } => volume_m3 / circle_m2(diameter.si()),
            Self::Box { length, width, .. } => volume_m3 / (length.si() * width.si()),
            Self::LyingCylinder { diameter, length } => {
                segment_depth_m(0.5 * diameter.si(), volume_m3 / length.si())
            }
        };
        depth_m.clamp(0.0, self.height_m())
    }

    /// Free surface at a depth, dV/dh [m²], depth held between 0 and the height.  That of
    /// a lying cylinder is nothing at its very bottom and top.
    #[must_use]
    pub fn surface_m2(&self, depth_m: f64) -> f64 {
        match self {
            Self::UprightCylinder { diameter, .. } => circle_m2(diameter.si()),
            Self::Box { length, width, .. } => length.si() * width.si(),
            Self::LyingCylinder { diameter, length } => {
                let depth_m = depth_m.clamp(0.0, diameter.si());
                length.si() * chord_m(0.5 * diameter.si(), depth_m)
            }
        }
    }
}

/// Area of a circle [m²].
fn circle_m2(diameter_m: f64) -> f64 {
    PI * diameter_m * diameter_m / 4.0
}

/// Width of the water surface across a circle [m].
fn chord_m(radius_m: f64, depth_m: f64) -> f64 {
    2.0 * (depth_m * (2.0 * radius_m - depth_m)).max(0.0).sqrt()
}

/// Wetted area of a circle filled to a depth [m²].
fn segment_m2(radius_m: f64, depth_m: f64) -> f64 {
    let half_angle = math::acos((1.0 - depth_m / radius_m).clamp(-1.0, 1.0));
    radius_m * radius_m * half_angle - (radius_m - depth_m) * 0.5 * chord_m(radius_m, depth_m)
}

/// Depth to which a circle is filled by a wetted area [m]: Newton on the area, whose
/// derivative is the chord, inside a bracket that only shrinks.
fn segment_depth_m(radius_m: f64, area_m2: f64) -> f64 {
    let full_m2 = PI * radius_m * radius_m;
    if area_m2 <= 0.0 {
        return 0.0;
    }
    if area_m2 >= full_m2 {
        return 2.0 * radius_m;
    }
    let (mut low, mut high) = (0.0, 2.0 * radius_m);
    let mut depth = high * area_m2 / full_m2;
    // 100 halvings exhaust an f64; Newton needs five or six steps but near the ends.
    for _ in 0..100 {
        let excess = segment_m2(radius_m, depth) - area_m2;
        if excess > 0.0 {
            high = depth;
        } else {
            low = depth;
        }
        let newton = depth - excess / chord_m(radius_m, depth);
        let next = if newton > low && newton < high {
            newton
        } else {
            0.5 * (low + high)
        };
        let step = (next - depth).abs();
        depth = next;
        if step <= 2.0 * f64::EPSILON * radius_m {
            break;
        }
    }
    depth
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    use super::*;

    const UPRIGHT: CisternShape = CisternShape::UprightCylinder {
        diameter: Meters(1.5),
        height: Meters(2.2),
    };
    const LYING: CisternShape = CisternShape::LyingCylinder {
        diameter: Meters(1.2),
        length: Meters(2.5),
    };
    const BOX: CisternShape = CisternShape::Box {
        length: Meters(2.0),
        width: Meters(1.5),
        height: Meters(1.8),
    };

    #[test]
    fn a_full_lying_cylinder_holds_what_an_upright_one_of_its_size_does() {
        let upright = CisternShape::UprightCylinder {
            diameter: Meters(1.2),
            height: Meters(2.5),
        };
        assert_relative_eq!(
            LYING.capacity_m3(),
            upright.capacity_m3(),
            max_relative = 1e-14
        );
    }

    #[test]
    fn a_quarter_deep_lying_cylinder_matches_the_segment_formula_by_hand() {
        // h = R/2: half angle 60°, area R²·(π/3 − √3/4).
        let by_hand = 2.5 * 0.36 * (PI / 3.0 - 3.0_f64.sqrt() / 4.0);
        assert_relative_eq!(LYING.volume_m3(0.3), by_hand, max_relative = 1e-14);
    }

    #[test]
    fn water_beyond_the_lid_or_below_the_floor_is_not_counted() {
        for shape in [UPRIGHT, LYING, BOX] {
            assert_relative_eq!(shape.volume_m3(-0.1), 0.0);
            assert_relative_eq!(shape.volume_m3(99.0), shape.capacity_m3());
            assert_relative_eq!(shape.depth_m(-1.0), 0.0);
            assert_relative_eq!(shape.depth_m(99.0), shape.height_m());
        }
    }

    #[test]
    fn a_well_stands_at_its_resting_level_and_counts_its_casing() {
        let well = SourceSpec::Well {
            static_level: Meters(-12.0),
            bottom: Meters(-60.0),
            casing_diameter: Meters(0.15),
            specific_capacity: SquareMetersPerSecond(1e-4),
        };
        assert_relative_eq!(well.initial_depth_m(), 48.0);
        assert_relative_eq!(well.bottom_elevation_m(), -60.0);
        let volume = well.volume_m3(48.0);
        assert_relative_eq!(volume, 48.0 * PI * 0.15 * 0.15 / 4.0, max_relative = 1e-14);
        assert_relative_eq!(well.depth_m(volume), 48.0, max_relative = 1e-14);
        assert_relative_eq!(well.surface_m2(48.0) * 48.0, volume, max_relative = 1e-14);
    }

    proptest! {
        #[test]
        fn depth_undoes_volume(share in 0.0..=1.0_f64) {
            for shape in [UPRIGHT, LYING, BOX] {
                let depth = share * shape.height_m();
                let back = shape.depth_m(shape.volume_m3(depth));
                prop_assert!((back - depth).abs() < 1e-9, "{shape:?}: {depth} came back as {back}");
            }
        }

        #[test]
        fn volume_undoes_depth(share in 0.0..=1.0_f64) {
            for shape in [UPRIGHT, LYING, BOX] {
                let volume = share * shape.capacity_m3();
                let back = shape.volume_m3(shape.depth_m(volume));
                prop_assert!((back - volume).abs() <= 1e-14 * shape.capacity_m3());
            }
        }

        #[test]
        fn surface_is_the_rate_of_volume_with_depth(share in 0.01..0.99_f64) {
            for shape in [UPRIGHT, LYING, BOX] {
                let depth = share * shape.height_m();
                let step = 1e-5 * shape.height_m();
                let rise = shape.volume_m3(depth + step) - shape.volume_m3(depth - step);
                let surface = shape.surface_m2(depth);
                prop_assert!((rise / (2.0 * step) / surface - 1.0).abs() < 1e-6);
            }
        }
    }
}
