//! The number at the beginning of a quantity.

/// Takes a number off the beginning of `text`: decimal, fraction or mixed.
///
/// Returns the number, finite, and what follows it.
pub(crate) fn take_number(text: &str) -> Option<(f64, &str)> {
    let (sign, unsigned) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (-1.0, rest),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)),
    };
    let (whole, rest) = take_decimal(unsigned)?;
    let (magnitude, rest) = if let Some((fraction, after)) = take_fraction_tail(whole, rest) {
        (fraction, after)
    } else if let Some(after_joint) = rest.strip_prefix(['-', ' '])
        && let Some((numerator, tail)) = take_digits(after_joint)
        && let Some((fraction, after)) = take_fraction_tail(numerator, tail)
    {
        (whole + fraction, after)
    } else {
        (whole, rest)
    };
    let number = sign * magnitude;
    number.is_finite().then_some((number, rest))
}

/// `/4` after a numerator.
fn take_fraction_tail(numerator: f64, rest: &str) -> Option<(f64, &str)> {
    let (denominator, after) = take_digits(rest.strip_prefix('/')?)?;
    (denominator > 0.0).then(|| (numerator / denominator, after))
}

/// A row of digits without point or exponent.
fn take_digits(text: &str) -> Option<(f64, &str)> {
    let end = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    Some((digits.parse().ok()?, rest))
}

/// Digits with an optional point and an optional exponent, such as `8e-4`.
fn take_decimal(text: &str) -> Option<(f64, &str)> {
    let bytes = text.as_bytes();
    let digits_from = |mut idx: usize| {
        while bytes.get(idx).is_some_and(u8::is_ascii_digit) {
            idx += 1;
        }
        idx
    };
    let mut end = digits_from(0);
    if end == 0 && bytes.first() != Some(&b'.') {
        return None;
    }
    if bytes.get(end) == Some(&b'.') {
        let after_point = digits_from(end + 1);
        if after_point == end + 1 {
            return None;
        }
        end = after_point;
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'-' | b'+')));
        let after_exponent = digits_from(end + 1 + sign);
        if after_exponent > end + 1 + sign {
            end = after_exponent;
        }
    }
    let (written, rest) = text.split_at(end);
    Some((written.parse().ok()?, rest))
}
