//! Pictures of a study: what varies against what matters, the spread of starts, and what
//! one gives up for the other.

mod field;
mod front;
pub(super) mod heat;
mod line;
mod spread;

use anyhow::Result;

use super::Done;
use crate::cli::display::Units;
use crate::cli::plot::figure::Figure;
use crate::study::Standing;

/// A picture with its file's name and a caption.
pub(super) struct Picture {
    pub(super) name: &'static str,
    pub(super) caption: String,
    pub(super) figure: Figure,
}

/// Every picture that the study has something to show for.
pub(super) fn pictures(done: &Done<'_>, units: Units) -> Result<Vec<Picture>> {
    let mut pictures = Vec::new();
    if done.standings.iter().all(|s| *s == Standing::Refused) {
        return Ok(pictures);
    }
    if let Some(picture) = heat::picture(done)? {
        pictures.push(picture);
    } else if let Some(picture) = line::picture(done, units)? {
        pictures.push(picture);
    }
    pictures.push(spread::picture(done)?);
    if let Some(picture) = front::picture(done, units)? {
        pictures.push(picture);
    }
    Ok(pictures)
}
