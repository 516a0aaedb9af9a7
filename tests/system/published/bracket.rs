//! A small root finder for systems that a row asks to be solved.

/// Root of `f` between `low` and `high`, where it has opposite signs, by bisection to the
/// last bit.
pub(super) fn root_between(low: f64, high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (low, high);
    let rising = f(high) > 0.0;
    assert!(
        (f(low) > 0.0) != rising,
        "no change of sign between {low} and {high}"
    );
    loop {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            return middle;
        }
        if (f(middle) > 0.0) == rising {
            high = middle;
        } else {
            low = middle;
        }
    }
}

#[test]
fn a_root_is_found_to_the_last_bit() {
    let root = root_between(0.0, 2.0, |x| x * x - 2.0);
    assert!((root - core::f64::consts::SQRT_2).abs() < 1e-15);
}
