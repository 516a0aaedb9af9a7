//! Everything behind the house valve, as read.

use super::{PipeDraft, finish_optional, value};
use crate::file::fields::{Fields, Found};
use crate::parts::{FixtureSpec, FlowRating};
use crate::site::ranges;
use crate::site::spec::HouseSpec;
use crate::units::{CubicMetersPerSecond, Meters};

/// Fields of `house`.
pub(super) const HOUSE_FIELDS: &[&str] = &["valve", "filter", "pipe", "fixtures"];
pub(super) const FIXTURE_FIELDS: &[&str] = &["name", "height", "rating", "limit"];

/// The house as read.
#[derive(Debug)]
pub(in crate::site) struct HouseDraft {
    pub(in crate::site) valve: Found<FlowRating>,
    pub(in crate::site) filter: Option<Found<FlowRating>>,
    pub(in crate::site) pipe: PipeDraft,
    pub(in crate::site) fixtures: Vec<FixtureDraft>,
}

/// An outlet as read.
#[derive(Debug)]
pub(in crate::site) struct FixtureDraft {
    pub(in crate::site) name: Found<String>,
    pub(in crate::site) height: Found<Meters>,
    pub(in crate::site) rating: Found<FlowRating>,
    pub(in crate::site) limit: Option<Found<CubicMetersPerSecond>>,
}

impl HouseDraft {
    pub(super) fn read(fields: &Fields<'_>) -> Self {
        Self {
            valve: fields.rating("valve"),
            filter: fields.optional_rating("filter"),
            pipe: PipeDraft::read(&fields.section("pipe", super::pipe::PIPE_FIELDS)),
            fixtures: fields
                .groups("fixtures", (1, ranges::MAX_FIXTURES), FIXTURE_FIELDS)
                .iter()
                .map(FixtureDraft::read)
                .collect(),
        }
    }

    /// Outlets are put in order of name, so that their order in the file means nothing.
    pub(super) fn finish(self) -> Option<HouseSpec> {
        let mut fixtures = self
            .fixtures
            .into_iter()
            .map(FixtureDraft::finish)
            .collect::<Option<Vec<_>>>()?;
        fixtures.sort_by(|a, b| a.name.cmp(&b.name));
        Some(HouseSpec {
            valve: value(self.valve)?,
            filter: finish_optional(self.filter, value)?,
            pipe: self.pipe.finish()?,
            fixtures,
        })
    }
}

impl FixtureDraft {
    fn read(fields: &Fields<'_>) -> Self {
        Self {
            name: fields.text("name", "a name such as \"kitchen-tap\""),
            height: fields.quantity("height", ranges::FIXTURE_HEIGHT),
            rating: fields.rating("rating"),
            limit: fields.optional_quantity("limit", ranges::FIXTURE_LIMIT),
        }
    }

    fn finish(self) -> Option<FixtureSpec> {
        Some(FixtureSpec {
            name: value(self.name)?,
            elevation: value(self.height)?,
            rating: value(self.rating)?,
            limit: finish_optional(self.limit, value)?,
        })
    }
}
