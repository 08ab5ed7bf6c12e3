//! Good formulas: canonical text, dimension, and the kind of object they are read for.

use super::*;

/// Text, canonical text, dimension in words, family of the objects it is read for (empty for the pan).
const GOOD: &[(&str, &str, &str, &str)] = &[
    ("8 mm", "8 mm", "a length", ""),
    ("8mm", "8 mm", "a length", ""),
    ("8   mm", "8 mm", "a length", ""),
    ("-8 mm", "-8 mm", "a length", ""),
    ("+8 mm", "+8 mm", "a length", ""),
    ("-(8 mm)", "-(8 mm)", "a length", ""),
    ("1/4 in", "1/4 in", "a length", ""),
    ("1 1/4in", "1 1/4 in", "a length", ""),
    ("62.4e-3 m", "62.4e-3 m", "a length", ""),
    ("12 L/min", "12 L/min", "a volume flow", ""),
    ("2.1 kJ/(kg·K)", "2.1 kJ/(kg·K)", "a specific heat capacity", ""),
    ("(2.1 kJ/(kg·K))", "2.1 kJ/(kg·K)", "a specific heat capacity", ""),
    ("40 degC", "40 degC", "a temperature", ""),
    ("-40 °C", "-40 °C", "a temperature", ""),
    ("3 1/K", "3 1/K", "an expansion coefficient", ""),
    ("5 %", "5 %", "a plain number", ""),
    ("5%", "5 %", "a plain number", ""),
    ("5 min", "5 min", "a time", ""),
    ("pickup.gap", "pickup.gap", "a length", ""),
    ("-pickup.gap", "-pickup.gap", "a length", ""),
    ("  pickup.gap  ", "pickup.gap", "a length", ""),
    ("pickup.gap + wall.side - 1 mm", "pickup.gap + wall.side - 1 mm", "a length", ""),
    ("pickup.gap - (wall.side - 1 mm)", "pickup.gap - (wall.side - 1 mm)", "a length", ""),
    ("(pickup.gap - wall.side) - 1 mm", "pickup.gap - wall.side - 1 mm", "a length", ""),
    ("pickup.gap - -3 mm", "pickup.gap - -3 mm", "a length", ""),
    ("2 * (pickup.gap + wall.side)", "2 * (pickup.gap + wall.side)", "a length", ""),
    ("2 * pickup.gap + wall.side", "2 * pickup.gap + wall.side", "a length", ""),
    ("inlet.area / (2 * pickup.gap)", "inlet.area / (2 * pickup.gap)", "a length", ""),
    ("inlet.area / 2 * pickup.gap", "inlet.area / 2 * pickup.gap", "a volume", ""),
    ("12 L / min(pickup.gap, 1 mm)", "12 L / min(pickup.gap, 1 mm)", "an area", ""),
    ("min( 8 mm ,  pickup.gap )", "min(8 mm, pickup.gap)", "a length", ""),
    ("max(1, 2, 3, oil.share)", "max(1, 2, 3, oil.share)", "a plain number", ""),
    ("max(3 mm, spread(pickup.gap))", "max(3 mm, spread(pickup.gap))", "a length", ""),
    ("-max(3 mm, wall.side)", "-max(3 mm, wall.side)", "a length", ""),
    ("abs(-pickup.gap)", "abs(-pickup.gap)", "a length", ""),
    ("sqrt(inlet.area)", "sqrt(inlet.area)", "a length", ""),
    ("sqrt(pickup.gap * wall.side)", "sqrt(pickup.gap * wall.side)", "a length", ""),
    ("sqrt(oil.share)", "sqrt(oil.share)", "a plain number", ""),
    ("oil.warmth - case.warmth", "oil.warmth - case.warmth", "a temperature difference", ""),
    ("oil.warmth - 5 K", "oil.warmth - 5 K", "a temperature", ""),
    ("oil.warmth + 5 K", "oil.warmth + 5 K", "a temperature", ""),
    ("min(oil.warmth, 40 degC)", "min(oil.warmth, 40 degC)", "a temperature", ""),
    ("baseline(oil.warmth)", "baseline(oil.warmth)", "a temperature", ""),
    ("spread(oil.warmth)", "spread(oil.warmth)", "a temperature difference", ""),
    ("oil.litres / oil.flow", "oil.litres / oil.flow", "a time", ""),
    ("drain.rest / oil.litres", "drain.rest / oil.litres", "a plain number", "drains"),
    ("fin.root - baseline(fin.root)", "fin.root - baseline(fin.root)", "a length", "fins"),
    ("least(drain.width)", "least(drain.width)", "a length", ""),
    ("least(drain.width - pickup.gap)", "least(drain.width - pickup.gap)", "a length", ""),
    ("fin.root - most(drain.width)", "fin.root - most(drain.width)", "a length", "fins"),
    ("sum(drain.rest) / oil.litres", "sum(drain.rest) / oil.litres", "a plain number", ""),
    ("baseline(least(fin.root))", "baseline(least(fin.root))", "a length", ""),
    ("least(baseline(fin.root))", "least(baseline(fin.root))", "a length", ""),
];

#[test]
fn good_formulas_are_read_with_their_dimension_and_kind() {
    for (text, canonical, dimension, family) in GOOD {
        let formula = formula(text);
        assert_eq!(formula.to_string(), *canonical, "{text}");
        assert_eq!(formula.dimension.name(), *dimension, "{text}");
        let found = formula.each.map_or("", |each| each.kind.family());
        assert_eq!(found, *family, "{text}");
    }
}

#[test]
fn a_number_is_held_in_si_and_as_written() {
    for (text, value) in [
        ("8 mm", 0.008),
        ("-1/2 in", -0.0127),
        ("12 L/min", 0.0002),
        ("-40 degC", 233.15),
        ("5 %", 0.05),
        ("0.05", 0.05),
    ] {
        let formula = formula(text);
        let numbers = formula.numbers();
        assert_eq!(numbers.len(), 1, "{text}");
        let (number, span) = numbers[0];
        assert_eq!(number.written, text);
        assert_eq!(slice(text, span), Some(text));
        // The product and the quotient of the unit's factor are each rounded once.
        assert!((number.value - value).abs() <= 2.0 * f64::EPSILON * value.abs(), "{text}");
    }
}

#[test]
fn every_part_knows_where_it_stands() {
    let text = "2 * (pickup.gap + 8mm) - max(-1 mm, wall.side)";
    let formula = formula(text);
    assert_eq!(slice(text, formula.span), Some(text));
    let numbers: Vec<_> = formula.numbers().iter().map(|(_, s)| slice(text, *s)).collect();
    assert_eq!(numbers, [Some("2"), Some("8mm"), Some("-1 mm")]);
}

#[test]
fn a_kind_is_asked_for_where_its_first_name_stands() {
    let text = "oil.litres - 2 * drain.rest - drain.rest";
    let each = formula(text).each.unwrap();
    assert_eq!(slice(text, each.span), Some("drain.rest"));
    assert_eq!(each.span.start, START + 17);
}

#[test]
fn a_text_that_stands_otherwise_in_its_source_is_shown_whole() {
    let folded = Scalar { verbatim_at: None, ..scalar("pickup.gab") };
    let problem = parse_formula(&folded, &NAMES).unwrap_err();
    assert_eq!(problem.primary.span, folded.span);
}
