//! Fittings along a pipe as the trade counts them: `["4 elbow", "1 tee through"]`.
//!
//! Loss coefficients K on the velocity head, threaded fittings, as tabulated in
//! fluid mechanics textbooks (B. R. Munson et al., Fundamentals of Fluid
//! Mechanics, table of loss coefficients for pipe components, as reprinted in
//! public tables).  One K per fitting whatever its size: real ones spread by
//! half around it.  Entrance and exit: 0.5 and 1.0, common practice.

use crate::file::problem::{nearest, one_of, quoted};
use crate::file::quantity::Refusal;

/// Fittings and their K.
pub(super) const FITTINGS: &[(&str, f64)] = &[
    ("elbow", 1.5),
    ("long elbow", 0.7),
    ("45 elbow", 0.4),
    ("return bend", 1.5),
    ("tee through", 0.9),
    ("tee branch", 2.0),
    ("union", 0.08),
    ("gate valve", 0.15),
    ("ball valve", 0.05),
    ("globe valve", 10.0),
    ("angle valve", 2.0),
    ("entrance", 0.5),
    ("exit", 1.0),
];

/// Most fittings of one sort in one item.
const MAX_COUNT: u32 = 200;

/// The K of `"4 elbow"`, or of `"elbow"` for one.
///
/// # Errors
/// A [`Refusal`] that lists the fittings.
pub(super) fn parse_fitting(text: &str) -> Result<f64, Refusal> {
    let words: Vec<&str> = text.split_whitespace().take(6).collect();
    let whole = words.join(" ").to_lowercase();
    let (count, name) = match words.split_first() {
        // "45 elbow" is one fitting, not forty-five.
        Some((first, rest)) if !rest.is_empty() && k_of(&whole).is_none() => {
            match first.parse::<u32>() {
                Ok(count) => (count, rest.join(" ").to_lowercase()),
                Err(_) => (1, whole),
            }
        }
        _ => (1, whole),
    };
    let accepted = || {
        format!(
            "a count from 1 to {MAX_COUNT} and one of {}",
            one_of(FITTINGS.iter().map(|(name, _)| *name))
        )
    };
    let Some(k) = k_of(&name) else {
        let hint = nearest(&name, FITTINGS.iter().map(|(name, _)| *name))
            .map(|name| format!(", perhaps meant as {name}"))
            .unwrap_or_default();
        return Err(Refusal {
            message: format!("{} is not a known fitting{hint}", quoted(text)),
            accepted: accepted(),
        });
    };
    if count == 0 || count > MAX_COUNT {
        return Err(Refusal {
            message: format!("{} has a count out of range", quoted(text)),
            accepted: accepted(),
        });
    }
    Ok(f64::from(count) * k)
}

/// K by the name that [`FITTINGS`] uses; a plural counts as well.
fn k_of(name: &str) -> Option<f64> {
    FITTINGS
        .iter()
        .find(|(candidate, _)| *candidate == name || name.strip_suffix('s') == Some(candidate))
        .map(|(_, k)| *k)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fittings_are_counted() {
        assert_eq!(parse_fitting("4 elbow"), Ok(6.0));
        assert_eq!(parse_fitting("2 elbows"), Ok(3.0));
        assert_eq!(parse_fitting("45 elbow"), Ok(0.4));
        assert_eq!(parse_fitting("2 45 elbow"), Ok(0.8));
        assert_eq!(parse_fitting("Tee through"), Ok(0.9));
    }

    #[test]
    fn unknown_fittings_are_refused_with_the_choices() {
        let refusal = parse_fitting("2 elbwo").unwrap_err();
        assert!(refusal.message.contains("perhaps meant as elbow"));
        assert!(refusal.accepted.contains("gate valve"));
        assert!(parse_fitting("0 elbow").is_err());
        assert!(parse_fitting("").is_err());
    }
}
