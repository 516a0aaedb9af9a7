//! Source and intake as read.

use super::value;
use crate::file::fields::{Fields, Found, Variant};
use crate::parts::FlowRating;
use crate::parts::{CisternShape, IntakeMount, IntakeSpec, SourceSpec};
use crate::site::ranges;
use crate::units::{CubicMetersPerSecond, Meters, SquareMetersPerSecond};

pub(super) const SOURCES: &[Variant] = &[
    (
        "Cistern",
        &[
            "shape",
            "floor_depth",
            "floor_height",
            "water_depth",
            "refill",
        ],
    ),
    (
        "Well",
        &[
            "static_level_depth",
            "depth",
            "casing_diameter",
            "specific_capacity",
        ],
    ),
];

pub(super) const SHAPES: &[Variant] = &[
    ("UprightCylinder", &["diameter", "height"]),
    ("LyingCylinder", &["diameter", "length"]),
    ("Box", &["length", "width", "height"]),
];

/// Where the water comes from, as read.
#[derive(Debug)]
pub(in crate::site) enum SourceDraft {
    /// A closed vessel.
    Cistern {
        shape: Option<ShapeDraft>,
        floor: Found<Meters>,
        water_depth: Found<Meters>,
        refill: Found<CubicMetersPerSecond>,
    },
    /// A drilled well; levels are heights, negative below ground.
    Well {
        static_level: Found<Meters>,
        bottom: Found<Meters>,
        casing_diameter: Found<Meters>,
        specific_capacity: Found<SquareMetersPerSecond>,
    },
}

/// A cistern's inside shape, as read.
#[derive(Debug)]
pub(in crate::site) enum ShapeDraft {
    UprightCylinder {
        diameter: Found<Meters>,
        height: Found<Meters>,
    },
    LyingCylinder {
        diameter: Found<Meters>,
        length: Found<Meters>,
    },
    Box {
        length: Found<Meters>,
        width: Found<Meters>,
        height: Found<Meters>,
    },
}

impl SourceDraft {
    /// Reads the section `source` of a site.
    pub(super) fn read(site: &Fields<'_>) -> Option<Self> {
        let (name, fields) = site.variant("source", SOURCES)?;
        Some(match name {
            "Cistern" => Self::Cistern {
                shape: ShapeDraft::read(&fields),
                floor: fields.elevation(
                    ("floor_depth", ranges::CISTERN_FLOOR_DEPTH),
                    ("floor_height", ranges::CISTERN_FLOOR_HEIGHT),
                ),
                water_depth: fields.quantity("water_depth", ranges::WATER_DEPTH),
                refill: fields.quantity_or("refill", ranges::REFILL, "0 L/min"),
            },
            _ => Self::Well {
                static_level: below_ground(
                    fields.quantity("static_level_depth", ranges::STATIC_LEVEL_DEPTH),
                ),
                bottom: below_ground(fields.quantity("depth", ranges::WELL_DEPTH)),
                casing_diameter: fields.quantity("casing_diameter", ranges::CASING_DIAMETER),
                specific_capacity: fields.quantity("specific_capacity", ranges::SPECIFIC_CAPACITY),
            },
        })
    }

    /// Height of the floor or bottom above ground [m].
    pub(in crate::site) fn floor_m(&self) -> Option<f64> {
        let (Self::Cistern { floor, .. } | Self::Well { bottom: floor, .. }) = self;
        floor.as_ref().map(|floor| floor.value.si())
    }

    /// Height of the top of the vessel, or of the resting water in a well that has
    /// some [m].
    pub(in crate::site) fn top_m(&self) -> Option<f64> {
        match self {
            Self::Cistern { shape, .. } => {
                let height = shape.as_ref()?.height()?;
                Some(self.floor_m()? + height.si())
            }
            Self::Well {
                static_level,
                bottom,
                ..
            } => {
                let level_m = static_level.as_ref()?.value.si();
                (level_m > bottom.as_ref()?.value.si()).then_some(level_m)
            }
        }
    }

    pub(super) fn finish(self) -> Option<SourceSpec> {
        Some(match self {
            Self::Cistern {
                shape,
                floor,
                water_depth,
                refill,
            } => SourceSpec::Cistern {
                shape: shape?.finish()?,
                floor: value(floor)?,
                initial_depth: value(water_depth)?,
                refill: value(refill)?,
            },
            Self::Well {
                static_level,
                bottom,
                casing_diameter,
                specific_capacity,
            } => SourceSpec::Well {
                static_level: value(static_level)?,
                bottom: value(bottom)?,
                casing_diameter: value(casing_diameter)?,
                specific_capacity: value(specific_capacity)?,
            },
        })
    }
}

impl ShapeDraft {
    fn read(cistern: &Fields<'_>) -> Option<Self> {
        let (name, fields) = cistern.variant("shape", SHAPES)?;
        let side = |name| fields.quantity(name, ranges::CISTERN_SIDE);
        Some(match name {
            "UprightCylinder" => Self::UprightCylinder {
                diameter: side("diameter"),
                height: side("height"),
            },
            "LyingCylinder" => Self::LyingCylinder {
                diameter: side("diameter"),
                length: side("length"),
            },
            _ => Self::Box {
                length: side("length"),
                width: side("width"),
                height: side("height"),
            },
        })
    }

    /// Inside height from floor to top.
    pub(in crate::site) fn height(&self) -> Option<Meters> {
        let (Self::UprightCylinder { height, .. }
        | Self::LyingCylinder {
            diameter: height, ..
        }
        | Self::Box { height, .. }) = self;
        height.as_ref().map(|height| height.value)
    }

    fn finish(self) -> Option<CisternShape> {
        Some(match self {
            Self::UprightCylinder { diameter, height } => CisternShape::UprightCylinder {
                diameter: value(diameter)?,
                height: value(height)?,
            },
            Self::LyingCylinder { diameter, length } => CisternShape::LyingCylinder {
                diameter: value(diameter)?,
                length: value(length)?,
            },
            Self::Box {
                length,
                width,
                height,
            } => CisternShape::Box {
                length: value(length)?,
                width: value(width)?,
                height: value(height)?,
            },
        })
    }
}

/// A depth as a height above ground.
fn below_ground(depth: Found<Meters>) -> Found<Meters> {
    depth.map(|depth| depth.map(|depth| Meters(-depth.si())))
}

/// Fields of `intake`.
pub(super) const INTAKE_FIELDS: &[&str] = &["mount", "vortex_free", "screen"];

pub(super) const MOUNTS: &[Variant] = &[
    ("Floating", &["below_surface", "lowest_above_floor"]),
    ("Fixed", &["depth", "height", "above_floor"]),
];

/// The intake as read.
#[derive(Debug)]
pub(in crate::site) struct IntakeDraft {
    pub(in crate::site) mount: Option<MountDraft>,
    pub(in crate::site) vortex_free: Found<Meters>,
    pub(in crate::site) screen: Found<FlowRating>,
}

/// How the intake is held, as read.
#[derive(Debug)]
pub(in crate::site) enum MountDraft {
    Floating {
        below_surface: Found<Meters>,
        lowest_above_floor: Found<Meters>,
    },
    /// At a height above ground.
    Fixed { elevation: Found<Meters> },
    /// At a height above the floor of the source.
    FixedAboveFloor { above_floor: Found<Meters> },
}

impl IntakeDraft {
    pub(super) fn read(fields: &Fields<'_>) -> Self {
        Self {
            mount: MountDraft::read(fields),
            vortex_free: fields.quantity_or("vortex_free", ranges::VORTEX_FREE, "0.15 m"),
            screen: fields.rating("screen"),
        }
    }

    /// Height of a fixed opening above ground, `None` when it floats.
    pub(in crate::site) fn fixed_elevation(&self, source: &SourceDraft) -> Found<Meters> {
        match self.mount.as_ref()? {
            MountDraft::Floating { .. } => None,
            MountDraft::Fixed { elevation } => elevation.clone(),
            MountDraft::FixedAboveFloor { above_floor } => {
                let floor_m = source.floor_m()?;
                let above_floor = above_floor.clone()?;
                Some(above_floor.map(|above| Meters(floor_m + above.si())))
            }
        }
    }

    pub(super) fn finish(self, source: &SourceDraft) -> Option<IntakeSpec> {
        let fixed = self.fixed_elevation(source);
        Some(IntakeSpec {
            mount: match self.mount? {
                MountDraft::Floating {
                    below_surface,
                    lowest_above_floor,
                } => IntakeMount::Floating {
                    below_surface: value(below_surface)?,
                    lowest_above_floor: value(lowest_above_floor)?,
                },
                MountDraft::Fixed { .. } | MountDraft::FixedAboveFloor { .. } => {
                    IntakeMount::Fixed {
                        elevation: value(fixed)?,
                    }
                }
            },
            vortex_free: value(self.vortex_free)?,
            screen: value(self.screen)?,
        })
    }
}

impl MountDraft {
    fn read(intake: &Fields<'_>) -> Option<Self> {
        let (name, fields) = intake.variant("mount", MOUNTS)?;
        Some(match name {
            "Floating" => Self::Floating {
                below_surface: fields.quantity("below_surface", ranges::BELOW_SURFACE),
                lowest_above_floor: fields.quantity("lowest_above_floor", ranges::ABOVE_FLOOR),
            },
            _ if fields.is_given("above_floor") => {
                let also = ["depth", "height"]
                    .into_iter()
                    .find(|name| fields.is_given(name));
                if let Some(also) = also {
                    fields.report_conflict("above_floor", also);
                }
                Self::FixedAboveFloor {
                    above_floor: fields.quantity("above_floor", ranges::ABOVE_FLOOR),
                }
            }
            _ => Self::Fixed {
                elevation: fields.elevation(("depth", ranges::DEPTH), ("height", ranges::HEIGHT)),
            },
        })
    }
}
