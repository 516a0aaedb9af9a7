//! What a technician does about a fault.

use std::fmt;

use super::PartId;

/// One remedy.
///
/// Typed, so that a session can offer it as an action and a rubric can ask whether the
/// right one was taken; [`fmt::Display`] gives it in words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Remedy {
    /// Put a new one in.
    Replace(PartId),
    /// Put one in where there is none.
    Fit(PartId),
    /// Clear it of dirt, scale or insects.
    Clean(PartId),
    /// Tighten it, or make the joint anew.
    Tighten(PartId),
    /// Take it out or free it, and set it again in its right place.
    Refit(PartId),
    /// Connect it as it should be.
    Rewire(PartId),
    /// Set cut-in and cut-out of the pressure switch.
    AdjustSwitch,
    /// Set the tank's air with the tank drained: add or let off.
    SetPrecharge,
    /// Bleed air out of pump and pipe, and prime with water.
    Prime,
    /// Open a valve.
    Open(PartId),
    /// Reset what has tripped, once, after the cause is found.
    Reset(PartId),
    /// Thaw with gentle heat, never a flame, and insulate.
    Thaw(PartId),
    /// Wait for the source, or bring water.
    Refill,
    /// Explain to the owner what the system can do.
    Explain,
    /// Leave it to a person who is qualified for it: utility, electrician, well driller.
    CallQualified,
}

impl Remedy {
    /// The part that it is done to; none when it is done to no one part.
    #[must_use]
    pub const fn part(self) -> Option<PartId> {
        match self {
            Self::Replace(part)
            | Self::Fit(part)
            | Self::Clean(part)
            | Self::Tighten(part)
            | Self::Refit(part)
            | Self::Rewire(part)
            | Self::Open(part)
            | Self::Reset(part)
            | Self::Thaw(part) => Some(part),
            Self::AdjustSwitch => Some(PartId::PressureSwitch),
            Self::SetPrecharge => Some(PartId::Tank),
            Self::Prime => Some(PartId::Pump),
            Self::Refill => Some(PartId::Source),
            Self::Explain | Self::CallQualified => None,
        }
    }

    /// Name of the kind of remedy, as in the catalogue file.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Replace(_) => "Replace",
            Self::Fit(_) => "Fit",
            Self::Clean(_) => "Clean",
            Self::Tighten(_) => "Tighten",
            Self::Refit(_) => "Refit",
            Self::Rewire(_) => "Rewire",
            Self::AdjustSwitch => "AdjustSwitch",
            Self::SetPrecharge => "SetPrecharge",
            Self::Prime => "Prime",
            Self::Open(_) => "Open",
            Self::Reset(_) => "Reset",
            Self::Thaw(_) => "Thaw",
            Self::Refill => "Refill",
            Self::Explain => "Explain",
            Self::CallQualified => "CallQualified",
        }
    }
}

impl fmt::Display for Remedy {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Replace(part) => write!(f, "replace the {part}"),
            Self::Fit(part) => write!(f, "fit a {part}"),
            Self::Clean(part) => write!(f, "clean the {part}"),
            Self::Tighten(part) => write!(f, "tighten or remake the {part}"),
            Self::Refit(part) => write!(f, "put the {part} back in its place"),
            Self::Rewire(part) => write!(f, "rewire the {part}"),
            Self::AdjustSwitch => f.write_str("adjust the pressure switch"),
            Self::SetPrecharge => f.write_str("set the precharge"),
            Self::Prime => f.write_str("bleed the air and prime"),
            Self::Open(part) => write!(f, "open the {part}"),
            Self::Reset(part) => write!(f, "reset the {part}, once"),
            Self::Thaw(part) => write!(f, "thaw the {part}, insulate"),
            Self::Refill => f.write_str("refill or wait for water"),
            Self::Explain => f.write_str("explain it to the owner"),
            Self::CallQualified => f.write_str("call a qualified person"),
        }
    }
}
