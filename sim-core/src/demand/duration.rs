//! Lengths of time as people write them: `90`, `90s`, `10min`, `2h`, `30d`, `1:05:30`.

use thiserror::Error;

/// Longest accepted length of time [s]: 100 years of 365 days.
const LONGEST_S: f64 = 100.0 * 365.0 * 86_400.0;

/// Why a text is not a length of time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum DurationError {
    /// Neither a number with a unit nor h:mm:ss.
    #[error("not a time: write seconds, a number with s, min, h or d, or h:mm:ss")]
    NotATime,
    /// Minutes or seconds of h:mm:ss out of range.
    #[error("minutes and seconds in h:mm:ss go from 00 to 59")]
    SexagesimalRange,
    /// Below zero.
    #[error("a time must not be negative")]
    Negative,
    /// Above 100 years.
    #[error("a time must not be longer than 100 years")]
    TooLong,
}

/// Reads a length of time and gives it in seconds.
///
/// A bare number is seconds.  `m` alone is not accepted: it could be months or meters.
///
/// ```
/// use sim_core::demand::seconds_from_text;
///
/// assert_eq!(seconds_from_text("1.5 min"), Ok(90.0));
/// assert_eq!(seconds_from_text("1:00:30"), Ok(3630.0));
/// ```
///
/// # Errors
/// [`DurationError`] when the text is no length of time, is negative or is above
/// 100 years.
pub fn seconds_from_text(text: &str) -> Result<f64, DurationError> {
    let text = text.trim();
    let seconds = if text.contains(':') {
        sexagesimal(text)?
    } else {
        let unit_at = text
            .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+')))
            .unwrap_or(text.len());
        let (number, unit) = text.split_at(unit_at);
        let number: f64 = number.parse().map_err(|_| DurationError::NotATime)?;
        let unit_s = match unit.trim() {
            "" | "s" | "sec" => 1.0,
            "min" => 60.0,
            "h" => 3_600.0,
            "d" => 86_400.0,
            _ => return Err(DurationError::NotATime),
        };
        number * unit_s
    };
    if seconds < 0.0 {
        Err(DurationError::Negative)
    } else if seconds > LONGEST_S {
        Err(DurationError::TooLong)
    } else {
        Ok(seconds)
    }
}

fn sexagesimal(text: &str) -> Result<f64, DurationError> {
    let fields: Vec<&str> = text.split(':').collect();
    let &[hours, minutes, seconds] = fields.as_slice() else {
        return Err(DurationError::NotATime);
    };
    let is_number = |field: &str, point_allowed: bool| {
        field.starts_with(|c: char| c.is_ascii_digit())
            && field
                .chars()
                .all(|c| c.is_ascii_digit() || (point_allowed && c == '.'))
    };
    if !(is_number(hours, false) && is_number(minutes, false) && is_number(seconds, true)) {
        return Err(DurationError::NotATime);
    }
    let number = |field: &str| field.parse::<f64>().map_err(|_| DurationError::NotATime);
    let (hours, minutes, seconds) = (number(hours)?, number(minutes)?, number(seconds)?);
    if minutes >= 60.0 || seconds >= 60.0 {
        return Err(DurationError::SexagesimalRange);
    }
    Ok(hours * 3_600.0 + minutes * 60.0 + seconds)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_read_as_people_write_them() {
        for (text, seconds) in [
            ("0", 0.0),
            ("90", 90.0),
            ("90s", 90.0),
            (" 10 min ", 600.0),
            ("2h", 7_200.0),
            ("30d", 2_592_000.0),
            ("0:00:05.5", 5.5),
            ("26:00:00", 93_600.0),
        ] {
            assert_eq!(seconds_from_text(text), Ok(seconds), "{text}");
        }
    }

    #[test]
    fn what_is_no_time_is_refused_and_never_guessed() {
        use DurationError::{Negative, NotATime, SexagesimalRange, TooLong};
        for (text, error) in [
            ("", NotATime),
            ("soon", NotATime),
            ("5m", NotATime),
            ("6:30", NotATime),
            ("nan", NotATime),
            ("inf", NotATime),
            ("1:-2:00", NotATime),
            ("1:2.5:00", NotATime),
            ("1:60:00", SexagesimalRange),
            ("-1", Negative),
            ("101000d", TooLong),
            ("9999999999999999999h", TooLong),
        ] {
            assert_eq!(seconds_from_text(text), Err(error), "{text}");
        }
    }
}
