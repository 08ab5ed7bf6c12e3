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
