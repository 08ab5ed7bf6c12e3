//! A value back to text for people. What is printed can be read again as a quantity.
//!
//! With an uncertainty, two significant digits of it decide how many the value shows (JCGM 100:2008,
//! 7.2.6, from memory). Without one, five significant digits, four for a plain number, and no zeros
//! at the end.

use super::{Dimension, Unit};

/// Digits of a value without uncertainty, and of a plain number without.
const DIGITS: i32 = 5;
const DIGITS_OF_NUMBER: i32 = 4;
/// No value shows more digits, however small its uncertainty.
const MOST_DIGITS: i32 = 10;
/// Beyond so many decimals, or digits before the point, a power of ten is written.
const MOST_DECIMALS: i32 = 9;
const MOST_WHOLE: i32 = 9;

/// A value in the unit an author wrote, with as many digits as its uncertainty deserves.
pub fn print_in(si: f64, u: f64, unit: &Unit) -> String {
    let value = unit.from_si(si);
    let u = unit.difference_from_si(u);
    let text = if u > 0.0 && u.is_finite() {
        fixed(value, decimals_for(u))
    } else {
        let digits = if unit.dimension.is_number() { DIGITS_OF_NUMBER } else { DIGITS };
        trimmed(&significant(value, digits))
    };
    with_unit(text, &unit.symbol)
}

/// A value in the usual unit of its dimension (mm, L, deg, MPa …).
pub fn print_amount(si: f64, u: f64, dimension: Dimension) -> String {
    print_in(si, u, &Unit::for_value(dimension, si))
}

/// A value in the usual unit with its standard uncertainty: `23.0 mm (u 2.6 mm)`; without one, the
/// value alone.
pub fn print_standard(si: f64, u: f64, dimension: Dimension) -> String {
    let unit = Unit::for_value(dimension, si);
    let value = print_in(si, u, &unit);
    let written = unit.difference_from_si(u);
    if !(written > 0.0 && written.is_finite()) {
        return value;
    }
    let symbol = if dimension.point { "K" } else { &unit.symbol };
    format!("{value} (u {})", with_unit(fixed(written, decimals_for(written)), symbol))
}

/// Two values in one unit, with as many digits as it takes to tell them apart: `5.00 L` is never
/// printed as greater than `5.00 L`. `u` decides the digits to begin with; 0 for none.
pub fn print_pair(a: f64, b: f64, u: f64, dimension: Dimension) -> (String, String) {
    let larger = if a.abs() > b.abs() { a } else { b };
    print_pair_in(a, b, u, &Unit::for_value(dimension, larger))
}

/// As [`print_pair`], in the unit an author wrote.
pub fn print_pair_in(a: f64, b: f64, u: f64, unit: &Unit) -> (String, String) {
    let plain = (print_in(a, u, unit), print_in(b, u, unit));
    if plain.0 != plain.1 || a.to_bits() == b.to_bits() {
        return plain;
    }
    let (x, y) = (unit.from_si(a), unit.from_si(b));
    let u = unit.difference_from_si(u);
    let shown = if u > 0.0 { decimals_for(u) } else { DIGITS - 1 - exponent(x, 0) };
    let decimals = (shown + 1..=MOST_DECIMALS).map(|n| (fixed(x, n), fixed(y, n)));
    // 17 significant digits tell any two numbers apart.
    let all = decimals.chain((MOST_DIGITS..=17).map(|n| (scientific(x, n), scientific(y, n))));
    for (first, second) in all {
        if first != second {
            return (with_unit(first, &unit.symbol), with_unit(second, &unit.symbol));
        }
    }
    plain
}

/// Four significant digits, for help texts.
pub(super) fn four_digits(value: f64) -> String {
    trimmed(&significant(value, 4))
}

/// Decimals that show two significant digits of `u`; negative where it is larger than 100.
fn decimals_for(u: f64) -> i32 {
    1 - exponent(u, 1)
}

/// Power of ten of the first digit of `value` rounded to so many decimals of its mantissa.
fn exponent(value: f64, decimals: usize) -> i32 {
    let text = format!("{value:.decimals$e}");
    text.split_once('e').and_then(|(_, e)| e.parse().ok()).unwrap_or(0)
}

/// So many significant digits; whole numbers are never rounded.
fn significant(value: f64, digits: i32) -> String {
    let decimals = digits - 1 - exponent(value, at_least_zero(digits - 1));
    if value.abs() > 0.0 && decimals > MOST_DECIMALS {
        return scientific(value, digits);
    }
    fixed(value, if decimals < 0 { 0 } else { decimals })
}

/// So many decimals; for a negative count, rounded to tens, hundreds … .
fn fixed(value: f64, decimals: i32) -> String {
    if !value.is_finite() {
        return if value.is_nan() { "not a number" } else { "infinite" }.to_owned();
    }
    let size = exponent(value, 0);
    let digits = size + decimals + 1;
    if digits > MOST_DIGITS || decimals > MOST_DECIMALS || size > MOST_WHOLE {
        let digits = if digits > MOST_DIGITS { MOST_DIGITS } else { digits };
        return scientific(value, if digits < 1 { 1 } else { digits });
    }
    let text = if decimals >= 0 {
        format!("{value:.places$}", places = at_least_zero(decimals))
    } else {
        let mut step = 1.0;
        for _ in decimals..0 {
            step *= 10.0;
        }
        format!("{:.0}", (value / step).round() * step)
    };
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| matches!(b, b'0' | b'.')) => rest.to_owned(),
        _ => text,
    }
}

fn scientific(value: f64, digits: i32) -> String {
    format!("{value:.places$e}", places = at_least_zero(digits - 1))
}

/// Without zeros at the end of the decimals.
fn trimmed(text: &str) -> String {
    let (mantissa, power) = text.split_at(text.find('e').unwrap_or(text.len()));
    if !mantissa.contains('.') {
        return text.to_owned();
    }
    format!("{}{power}", mantissa.trim_end_matches('0').trim_end_matches('.'))
}

fn with_unit(text: String, symbol: &str) -> String {
    if symbol.is_empty() { text } else { format!("{text} {symbol}") }
}

fn at_least_zero(count: i32) -> usize {
    usize::try_from(count).unwrap_or(0)
}
