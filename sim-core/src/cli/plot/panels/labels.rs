//! Names at the right ends of lines, moved apart where they would overlap.

use crate::cli::palette::Rgb;
use crate::cli::plot::figure::{Dash, Face};

/// Least distance of two base lines [px].
pub(super) const LINE_HEIGHT: f64 = 17.0;

/// A name at the end of a line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Label {
    /// Where the line ends [px].
    pub(super) y: f64,
    pub(super) words: String,
    pub(super) face: Face,
    pub(super) color: Rgb,
    pub(super) dash: Dash,
    /// Whether a piece of the line leads from its end to the name.
    pub(super) marked: bool,
}

/// Heights for labels, in their order, near what they name but never closer to one another
/// than a line of text, within `top..=foot`.
pub(super) fn placed(wanted: &[f64], top: f64, foot: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by(|&a, &b| wanted[a].total_cmp(&wanted[b]));
    // Groups of touching labels, each spread about the middle of what its labels want.
    let mut groups: Vec<Vec<usize>> = order.into_iter().map(|i| vec![i]).collect();
    let span = |group: &[usize]| {
        let height = (group.len() - 1) as f64 * LINE_HEIGHT;
        let middle = group.iter().map(|&i| wanted[i]).sum::<f64>() / group.len() as f64;
        let first = (middle - height / 2.0).min(foot - height).max(top);
        (first, first + height)
    };
    while let Some(i) =
        (1..groups.len()).find(|&i| span(&groups[i]).0 - span(&groups[i - 1]).1 < LINE_HEIGHT)
    {
        let lower = groups.remove(i);
        groups[i - 1].extend(lower);
    }
    let mut heights = vec![0.0; wanted.len()];
    for group in groups {
        let (first, _) = span(&group);
        for (i, label) in group.into_iter().enumerate() {
            heights[label] = first + i as f64 * LINE_HEIGHT;
        }
    }
    heights
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_keep_their_order_and_their_distance() {
        let heights = placed(&[50.0, 52.0, 200.0, 51.0], 0.0, 300.0);
        assert_eq!(heights, [34.0, 68.0, 200.0, 51.0]);
    }

    #[test]
    fn labels_stay_within_their_panel() {
        assert_eq!(placed(&[99.0, 98.0], 0.0, 100.0), [100.0, 83.0]);
        assert_eq!(placed(&[0.0, 0.0], 0.0, 100.0), [0.0, 17.0]);
        assert!(placed(&[], 0.0, 1.0).is_empty());
    }
}
