//! Arithmetic on bounds: if every operand lies within its bounds, so does the result.
//!
//! An end at infinity means that no bound is known on that side, never that the value is infinite.
//! What cannot be bounded is unknown with a reason; NaN never comes out. Rounding to nearest is monotone,
//! so results computed from values inside the operands stay inside without rounding outwards.

use super::Operator;
use crate::measure::{Bounds, Unknown};

/// Two operands, one operator.
///
/// # Errors
/// If the result cannot be bounded: a divisor that may be 0, or a result too large for a number.
pub(super) fn combine(operator: Operator, a: Bounds, b: Bounds) -> Result<Bounds, Unknown> {
    let (a, b) = (usable(a)?, usable(b)?);
    usable(match operator {
        Operator::Add => Bounds { low: a.low + b.low, high: a.high + b.high },
        Operator::Subtract => Bounds { low: a.low - b.high, high: a.high - b.low },
        Operator::Multiply => corners(a, b, |x, y| x * y),
        Operator::Divide if b.low <= 0.0 && b.high >= 0.0 => {
            return Err(Unknown::because("the divisor is, or may be, 0"));
        }
        Operator::Divide => corners(a, b, |x, y| x / y),
    })
}

/// `-a`.
pub(super) fn negative(a: Bounds) -> Bounds {
    Bounds { low: -a.high, high: -a.low }
}

/// `abs(a)`.
pub(super) fn absolute(a: Bounds) -> Bounds {
    if a.low >= 0.0 {
        a
    } else if a.high <= 0.0 {
        negative(a)
    } else {
        Bounds { low: 0.0, high: larger(-a.low, a.high) }
    }
}

/// `sqrt(a)`.
///
/// # Errors
/// If the value is or may be negative.
pub(super) fn square_root(a: Bounds) -> Result<Bounds, Unknown> {
    if a.low >= 0.0 {
        usable(Bounds { low: a.low.sqrt(), high: a.high.sqrt() })
    } else {
        Err(Unknown::because("the square root is taken of a value that is, or may be, negative"))
    }
}

/// `min(a, b)`.
pub(super) fn minimum(a: Bounds, b: Bounds) -> Bounds {
    Bounds { low: smaller(a.low, b.low), high: smaller(a.high, b.high) }
}

/// `max(a, b)`.
pub(super) fn maximum(a: Bounds, b: Bounds) -> Bounds {
    Bounds { low: larger(a.low, b.low), high: larger(a.high, b.high) }
}

/// The mean of at least one value.
///
/// # Errors
/// If there is none, or the sum is too large.
pub(super) fn mean(values: &[Bounds]) -> Result<Bounds, Unknown> {
    let mut sum = Bounds::exactly(0.0);
    for value in values {
        sum = combine(Operator::Add, sum, *value)?;
    }
    combine(Operator::Divide, sum, Bounds::exactly(values.len() as f64))
}

/// Half of largest minus least.
///
/// # Errors
/// If there is no value, or it is too large.
pub(super) fn half_range(values: &[Bounds]) -> Result<Bounds, Unknown> {
    let largest = values.iter().copied().reduce(maximum);
    let least = values.iter().copied().reduce(minimum);
    let (Some(largest), Some(least)) = (largest, least) else {
        return Err(Unknown::because("there are no values to spread"));
    };
    let range = combine(Operator::Subtract, largest, least)?;
    Ok(Bounds { low: larger(range.low, 0.0) / 2.0, high: range.high / 2.0 })
}

/// Bounds between which a finite number can lie.
///
/// # Errors
/// If there is none: NaN, ends out of order, or both ends at the same infinity.
pub(super) fn usable(a: Bounds) -> Result<Bounds, Unknown> {
    let holds_a_number = a.low <= a.high && a.low < f64::INFINITY && a.high > f64::NEG_INFINITY;
    if holds_a_number { Ok(a) } else { Err(Unknown::because("the value is not a finite number")) }
}

/// The bounds over the four corners, for operations that are monotone in each operand.
///
/// A corner of NaN is 0 × infinity or infinity ÷ infinity. There the unbounded operand only grows without
/// end while the other stays at 0 (product 0 all the way), or the divisor does (quotient nearing 0).
fn corners(a: Bounds, b: Bounds, operation: impl Fn(f64, f64) -> f64) -> Bounds {
    let corner = |x, y| {
        let result = operation(x, y);
        Bounds::exactly(if result.is_nan() { 0.0 } else { result })
    };
    let others = [corner(a.low, b.high), corner(a.high, b.low), corner(a.high, b.high)];
    others.into_iter().fold(corner(a.low, b.low), |all, next| Bounds {
        low: smaller(all.low, next.low),
        high: larger(all.high, next.high),
    })
}

fn smaller(a: f64, b: f64) -> f64 {
    if b < a { b } else { a }
}

fn larger(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const OPERATORS: [Operator; 4] =
        [Operator::Add, Operator::Subtract, Operator::Multiply, Operator::Divide];

    fn apply(operator: Operator, x: f64, y: f64) -> f64 {
        match operator {
            Operator::Add => x + y,
            Operator::Subtract => x - y,
            Operator::Multiply => x * y,
            Operator::Divide => x / y,
        }
    }

    /// Bounds with a value inside; an end may be at infinity.
    fn bounds_with_a_value() -> impl Strategy<Value = (Bounds, f64)> {
        let end = prop_oneof![4 => 0.0..100.0, 1 => Just(0.0), 1 => Just(f64::INFINITY)];
        let value = prop_oneof![4 => -1e3..1e3, 1 => Just(0.0), 1 => -1e-300..1e-300];
        (value, end.clone(), end).prop_map(|(value, below, above)| {
            (Bounds { low: value - below, high: value + above }, value)
        })
    }

    fn contains(bounds: Bounds, value: f64) -> bool {
        bounds.low <= value && value <= bounds.high
    }

    // Fundamental theorem of interval arithmetic (R. E. Moore, Interval Analysis, 1966; from memory):
    // the result of an operation on intervals holds every result of the operation on members.
    proptest! {
        #[test]
        fn a_result_of_values_inside_lies_inside(
            (a, x) in bounds_with_a_value(),
            (b, y) in bounds_with_a_value(),
        ) {
            for operator in OPERATORS {
                if let Ok(result) = combine(operator, a, b) {
                    prop_assert!(contains(result, apply(operator, x, y)), "{operator:?} {a:?} {b:?} {result:?}");
                }
            }
            prop_assert!(contains(minimum(a, b), smaller(x, y)));
            prop_assert!(contains(maximum(a, b), larger(x, y)));
            prop_assert!(contains(negative(a), -x));
            prop_assert!(contains(absolute(a), x.abs()));
            if let Ok(root) = square_root(a) {
                prop_assert!(contains(root, x.sqrt()));
            }
        }

        #[test]
        fn mean_and_half_range_of_values_inside_lie_inside(
            members in proptest::collection::vec(bounds_with_a_value(), 1..6),
        ) {
            let bounds: Vec<Bounds> = members.iter().map(|m| m.0).collect();
            let values: Vec<f64> = members.iter().map(|m| m.1).collect();
            let sum = values.iter().fold(0.0, |sum, v| sum + v);
            if let Ok(result) = mean(&bounds) {
                prop_assert!(contains(result, sum / values.len() as f64));
            }
            let most = values.iter().copied().reduce(larger).unwrap();
            let least = values.iter().copied().reduce(smaller).unwrap();
            if let Ok(result) = half_range(&bounds) {
                prop_assert!(contains(result, (most - least) / 2.0));
            }
        }

        #[test]
        fn whatever_goes_in_no_nan_comes_out(
            ends in proptest::array::uniform4(any::<f64>()),
        ) {
            let a = Bounds { low: ends[0], high: ends[1] };
            let b = Bounds { low: ends[2], high: ends[3] };
            for operator in OPERATORS {
                if let Ok(result) = combine(operator, a, b) {
                    prop_assert!(result.low <= result.high);
                }
            }
        }

        #[test]
        fn exact_values_stay_exact(x in -1e6..1e6, y in 1e-3..1e6) {
            for operator in OPERATORS {
                let result = combine(operator, Bounds::exactly(x), Bounds::exactly(y)).unwrap();
                prop_assert_eq!(result, Bounds::exactly(apply(operator, x, y)));
            }
        }
    }

    #[test]
    fn nothing_known_minus_nothing_known_is_nothing_known() {
        let anything = Bounds { low: f64::NEG_INFINITY, high: f64::INFINITY };
        assert_eq!(combine(Operator::Subtract, anything, anything), Ok(anything));
    }

    #[test]
    fn zero_times_something_unbounded_is_zero() {
        let result = combine(Operator::Multiply, Bounds::exactly(0.0), Bounds::at_least(1.0));
        assert_eq!(result, Ok(Bounds::exactly(0.0)));
    }

    #[test]
    fn an_unbounded_value_over_an_unbounded_divisor_is_not_negative() {
        let result = combine(Operator::Divide, Bounds::at_least(1.0), Bounds::at_least(2.0));
        assert_eq!(result, Ok(Bounds::at_least(0.0)));
    }

    #[test]
    fn a_divisor_that_may_be_zero_gives_no_value() {
        for divisor in [Bounds::exactly(0.0), Bounds::between(-1.0, 1.0), Bounds::at_most(0.0)] {
            let reason = combine(Operator::Divide, Bounds::exactly(1.0), divisor).unwrap_err();
            assert_eq!(reason.reason, "the divisor is, or may be, 0");
        }
    }

    #[test]
    fn a_product_too_large_for_a_number_gives_no_value() {
        let large = Bounds::exactly(1e200);
        assert!(combine(Operator::Multiply, large, large).is_err());
        assert!(square_root(Bounds::between(-1.0, 4.0)).is_err());
    }
}
