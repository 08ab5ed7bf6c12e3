//! Tests: any text.

use super::*;
use proptest::prelude::*;

/// Any unit of the grammar, from a few symbols.
fn units() -> impl Strategy<Value = String> {
    let symbols = prop::sample::select(vec!["mm", "in", "L", "deg", "kN", "psi", "K", "%", "cSt"]);
    let power = (symbols, prop::sample::select(vec!["", "^2", "³", "^-1"]));
    let power = power.prop_map(|(s, p)| format!("{s}{p}"));
    let below = prop::collection::vec(power.clone(), 1..3);
    (prop::collection::vec(power, 1..3), prop::option::of(below)).prop_map(|(above, below)| {
        let above = above.join("·");
        match below {
            None => above,
            Some(one) if one.len() == 1 => format!("{above}/{}", one.join("")),
            Some(many) => format!("{above}/({})", many.join("*")),
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, failure_persistence: None, ..Default::default() })]

    #[test]
    fn what_is_printed_is_read_as_the_same_value(
        written in prop::num::f64::NORMAL.prop_filter("of a usual size", |v| (1e-4..1e6).contains(&v.abs())),
        unit in units(),
    ) {
        let (unit, length) = parse_unit(&unit).map_err(|e| TestCaseError::fail(e.0))?;
        prop_assert_eq!(length, unit.symbol.len());
        let si = unit.to_si(written);
        let text = print_in(si, 0.0, &unit);
        let read = parse_quantity(&scalar(&text)).map_err(|e| TestCaseError::fail(e.message))?;
        // Four significant digits at least: half a unit of the fourth.
        prop_assert!((read.value - si).abs() <= 0.5e-3 * si.abs() * (1.0 + 1e-9), "{}", text);
        prop_assert_eq!(read.unit.dimension, unit.dimension);
        let u = si.abs() / 37.0;
        let text = print_in(si, u, &unit);
        let read = parse_quantity(&scalar(&text)).map_err(|e| TestCaseError::fail(e.message))?;
        prop_assert!((read.value - si).abs() <= 0.051 * u, "{}", text);
    }

    #[test]
    fn pairs_differ_whenever_their_values_do(a in -1.0e3..1.0e3_f64, ulps in 1_u64..1_000_000) {
        let b = f64::from_bits(a.to_bits() + ulps);
        let (x, y) = print_pair(a, b, 0.0, Dimension::NUMBER);
        prop_assert_ne!(x, y);
    }

    #[test]
    fn no_text_makes_the_readers_panic_or_point_outside(text in "\\PC{0,24}") {
        check_any(&text)?;
    }

    #[test]
    fn no_text_of_the_grammars_signs_makes_the_readers_panic(
        parts in prop::collection::vec(prop::sample::select(vec![
            "1", "62.4", "1/2", " ", " ", "±", "+/-", "mm", "degC", "kJ/(kg·K)", "/", "·", "*", "^", "²",
            "(", ")", "u", "U", "at k", "by", "assumed", "%", ",", ".", "e", "-", "+", "0", "é", "\u{a0}",
        ]), 0..12),
    ) {
        check_any(&parts.concat())?;
    }
}

fn check_any(text: &str) -> Result<(), TestCaseError> {
    match parse_quantity(&scalar(text)) {
        Ok(q) => {
            prop_assert!(q.value.is_finite() && q.last_digit.is_finite());
            prop_assert!(parse_number(&text[q.number_range.clone()]).is_some());
            prop_assert_eq!(&text[q.unit_range.clone()], q.unit.symbol);
        }
        Err(p) => {
            let (start, end) =
                (p.primary.span.start as usize - 100, p.primary.span.end as usize - 100);
            prop_assert!(text.get(start..end).is_some(), "{}..{} in {:?}", start, end, text);
            prop_assert!(!p.message.ends_with('.') && p.help.is_some());
        }
    }
    if let Some((value, length)) = parse_number(text) {
        prop_assert!(value.is_finite() && text.is_char_boundary(length));
    }
    match parse_unit(text) {
        Ok((unit, length)) => prop_assert_eq!(&text[..length], unit.symbol),
        Err((_, range)) => prop_assert!(text.get(range).is_some()),
    }
    Ok(())
}
