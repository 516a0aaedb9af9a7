//! Water surface of the source against its content, for the inner loop.

use crate::math::{MonotoneTable, Scalar};
use crate::parts::{CisternShape, SourceSpec};

/// Surface of the neck above a cistern's brim [m²] (training value).
const NECK_M2: f64 = 0.3;

/// Width of the overflow, as a weir [m], and its coefficient [√m/s] (C_d·⅔·√2g with
/// C_d 0.62, Poleni; coefficient from memory).
const OVERFLOW_WIDTH_M: f64 = 0.1;
const WEIR: f64 = 1.83;

/// Surface against content, and what flows in and over.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct SourceMap {
    spec: SourceSpec,
    depth: Depth,
}

#[derive(Debug, Clone, PartialEq)]
enum Depth {
    /// Even walls: depth = volume / area.
    Even(f64),
    Table(MonotoneTable),
}

impl SourceMap {
    pub(crate) fn new(spec: &SourceSpec) -> Self {
        let depth = match spec {
            SourceSpec::Cistern {
                shape: shape @ CisternShape::LyingCylinder { diameter, .. },
                ..
            } => {
                // Even steps of angle put close points where the walls close in.
                let cells = 128_u32;
                let radius = 0.5 * diameter.si();
                let (x, y) = (0..=cells)
                    .map(|i| {
                        let angle = core::f64::consts::PI * f64::from(i) / f64::from(cells);
                        let h = radius * (1.0 - crate::math::cos(angle));
                        (shape.volume_m3(h), h)
                    })
                    .unzip();
                Depth::Table(MonotoneTable::through(x, y))
            }
            _ => Depth::Even(spec.surface_m2(spec.initial_depth_m())),
        };
        Self { spec: *spec, depth }
    }

    pub(crate) fn floor_m(&self) -> f64 {
        self.spec.bottom_elevation_m()
    }

    pub(crate) fn initial_volume_m3(&self) -> f64 {
        self.spec.volume_m3(self.spec.initial_depth_m())
    }

    /// Height of the surface above ground [m].
    #[inline]
    pub(crate) fn surface_elevation_m<S: Scalar>(&self, volume: S) -> S {
        let floor = self.floor_m();
        if let SourceSpec::Cistern { shape, .. } = &self.spec {
            let brim = shape.capacity_m3();
            if volume.value() > brim {
                return (volume - brim) / NECK_M2 + (floor + shape.height_m());
            }
        }
        match &self.depth {
            Depth::Even(area) => volume / *area + floor,
            Depth::Table(table) => table.at(volume) + floor,
        }
    }

    /// What comes in from outside [m³/s]: refill, or the ground giving to a drawn-down well.
    #[inline]
    pub(crate) fn inflow_m3_per_s<S: Scalar>(&self, surface: S) -> S {
        match &self.spec {
            SourceSpec::Cistern { refill, .. } => S::constant(refill.si()),
            SourceSpec::Well {
                static_level,
                specific_capacity,
                ..
            } => (-surface + static_level.si()) * specific_capacity.si(),
        }
    }

    /// What runs over the brim [m³/s].
    #[inline]
    pub(crate) fn overflow_m3_per_s<S: Scalar>(&self, surface: S) -> S {
        if let SourceSpec::Cistern { shape, .. } = &self.spec {
            let over = surface - (self.floor_m() + shape.height_m());
            if over.value() > 0.0 {
                return over * over.sqrt() * (WEIR * OVERFLOW_WIDTH_M);
            }
        }
        S::constant(0.0)
    }
}
