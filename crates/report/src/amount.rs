//! Readings and bounds in words.

use sumpwright_core::measure::Bounds;
use sumpwright_core::quantity::{Dimension, print_amount};
use sumpwright_core::review::Reading;

/// How often digits are added until two values differ in print.
const MOST_EXTRA_DIGITS: usize = 12;

/// Two values that are compared, with as many digits as the larger uncertainty deserves, and more until
/// they differ if the values do: text never says `5.00 is less than 5.00`.
pub(crate) fn pair(a: f64, b: f64, u: f64, dimension: Dimension) -> (String, String) {
    let mut digits_for = u.abs();
    let (mut first, mut second) =
        (print_amount(a, digits_for, dimension), print_amount(b, digits_for, dimension));
    if digits_for <= 0.0 {
        digits_for = (a - b).abs();
    }
    for _ in 0..MOST_EXTRA_DIGITS {
        if first != second || a.total_cmp(&b).is_eq() {
            break;
        }
        first = print_amount(a, digits_for, dimension);
        second = print_amount(b, digits_for, dimension);
        digits_for /= 10.0;
    }
    (first, second)
}

/// A value with its standard uncertainty: `23.0 mm (u 2.6 mm)`.
pub(crate) fn with_uncertainty(value: f64, u: f64, dimension: Dimension) -> String {
    let printed = print_amount(value, u, dimension);
    if u > 0.0 {
        let difference = Dimension { point: false, ..dimension };
        format!("{printed} (u {})", print_amount(u, u, difference))
    } else {
        printed
    }
}

/// A reading in full: a value, or the bounds that it is known to lie between.
pub(crate) fn reading(reading: &Reading, dimension: Dimension) -> String {
    in_words(reading.bounds, &|value, low| {
        with_uncertainty(value, if low { reading.u_low } else { reading.u_high }, dimension)
    })
}

/// Bounds in words, without uncertainty.
pub(crate) fn bounds(bounds: Bounds, u: f64, dimension: Dimension) -> String {
    in_words(bounds, &|value, _| print_amount(value, u, dimension))
}

fn in_words(bounds: Bounds, print: &dyn Fn(f64, bool) -> String) -> String {
    match (bounds.value(), bounds.low.is_finite(), bounds.high.is_finite()) {
        (Some(value), true, _) => print(value, true),
        (_, true, true) => {
            format!("between {} and {}", print(bounds.low, true), print(bounds.high, false))
        }
        (_, false, true) => format!("at most {}", print(bounds.high, false)),
        (_, true, false) => format!("at least {}", print(bounds.low, true)),
        (_, false, false) => "not known".to_owned(),
    }
}

/// The uncertainty that decides how many digits a reading deserves: the larger of its two.
pub(crate) fn coarser(reading: &Reading) -> f64 {
    if reading.u_low > reading.u_high { reading.u_low } else { reading.u_high }
}
