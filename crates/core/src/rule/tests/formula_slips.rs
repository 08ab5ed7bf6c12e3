//! Formulas that are refused: the code, the token, and what is said.

use super::*;
use crate::rule::parse::{DEEPEST, LONGEST};

const SIGNS_AND_BLANKS: &[Slip] = &[
    ("pickup.gap -wall.side", "bad-formula", "-", "blank on both sides"),
    ("pickup.gap- wall.side", "bad-formula", "-", "`pickup.gap - wall.side`"),
    ("pickup.gap-wall.side", "bad-formula", "-", "one name"),
    ("pickup.gap*wall.side", "bad-formula", "*", "blank on both sides"),
    ("8 mm -1 mm", "bad-formula", "-", "blank on both sides"),
    ("8 mm-1 mm", "bad-formula", "-", "blank on both sides"),
    ("8 mm/2", "bad-formula", "/", "blank on both sides"),
    ("2*3", "bad-formula", "*", "blank on both sides"),
    ("(8 mm)-(1 mm)", "bad-formula", "-", "blank on both sides"),
    ("8 mm +", "bad-formula", "+", "a value is missing behind `+`"),
    ("* 8 mm", "bad-formula", "*", "a value is missing before `*`"),
    ("8 mm + * 2", "bad-formula", "*", "a value is missing before `*`"),
    ("- pickup.gap", "bad-formula", "-", "directly before its value"),
    ("-", "bad-formula", "-", "before no value"),
    ("--3 mm", "bad-formula", "-", "before no value"),
    ("+pickup.gap", "bad-formula", "+", "only a number"),
    ("8 mm \u{2212} 1 mm", "bad-formula", "\u{2212}", "hyphen"),
    ("2 × pickup.gap", "bad-formula", "×", "write `*`"),
    ("inlet.area ÷ 2", "bad-formula", "÷", "write `/`"),
    ("pickup.gap^2", "bad-formula", "^", "`a * a`"),
    ("pickup.gap ± 1 mm", "bad-formula", "±", "does not belong"),
    ("pickup.gap ; 1", "bad-formula", ";", "does not belong"),
];

const BRACKETS_AND_COMMAS: &[Slip] = &[
    ("(8 mm", "bad-formula", "(", "never closed"),
    ("2 * (pickup.gap + (wall.side)", "bad-formula", "(", "never closed"),
    ("max(8 mm, 9 mm", "bad-formula", "(", "never closed"),
    ("8 mm)", "bad-formula", ")", "closes nothing"),
    ("(8 mm))", "bad-formula", ")", "closes nothing"),
    ("()", "bad-formula", ")", "a value is missing before `)`"),
    ("max()", "bad-formula", ")", "a value is missing before `)`"),
    ("max(8 mm, )", "bad-formula", ")", "a value is missing before `)`"),
    ("8,5 mm", "bad-formula", "8,5", "write `8.5`"),
    ("8,5", "bad-formula", "8,5", "decimal comma"),
    ("max(8 mm,9 mm)", "bad-formula", ",", "a blank behind it"),
    ("max(pickup.gap,wall.side)", "bad-formula", ",", "`max(a, b)`"),
    ("8 mm, 9 mm", "bad-formula", ",", "only between arguments"),
    ("(8 mm, 9 mm)", "bad-formula", ",", "only between arguments"),
    ("2 (pickup.gap)", "bad-formula", "(", "operator is missing"),
    ("pickup.gap(2)", "bad-formula", "(", "operator is missing"),
    ("8 mm(2)", "bad-formula", "(", "cannot stand behind the unit"),
    ("max (8 mm, 9 mm)", "bad-formula", "max", "a blank stands behind it"),
    ("abs", "bad-formula", "abs", "brackets are missing"),
    ("2 * max", "bad-formula", "max", "`max( )`"),
];

const NUMBERS_AND_UNITS: &[Slip] = &[
    ("pickup.gap % 2", "bad-formula", "%", "no operator"),
    ("oil.share at", "bad-formula", "at", "conditions stand under `when`"),
    ("5 % 2", "bad-formula", "2", "operator is missing"),
    ("12 L / min", "bad-formula", "min", "`12 L/min`"),
    ("5 N * m", "bad-formula", "m", "`5 N*m`"),
    ("10 N m", "bad-formula", "m", "blank stands inside a unit"),
    ("2 kJ/kg K", "bad-formula", "K", "blank stands inside a unit"),
    ("2 kJ/(kg K)", "bad-formula", "kJ/(kg", "`kJ/(kg·K)`"),
    ("2 kJ/kg·K", "bad-formula", "kJ/kg·K", "below the line"),
    ("8 mmm", "bad-formula", "mmm", "`mm`"),
    ("8 inch", "bad-formula", "inch", "`in`"),
    ("12 min(1, 2)", "bad-formula", "min", "operator is missing"),
    ("2 sqrt(inlet.area)", "bad-formula", "sqrt", "operator is missing"),
    ("2 pickup.gap", "bad-formula", "pickup.gap", "operator is missing"),
    ("8 mm 9 mm", "bad-formula", "9 mm", "operator is missing"),
    ("pickup.gap wall.side", "bad-formula", "wall.side", "operator is missing"),
    (".5 mm", "bad-formula", ".", "write `0.5`"),
    ("5. mm", "bad-formula", ".", "`0.5`"),
    ("1_000 mm", "bad-formula", "_", "without a gap"),
    ("1e999 mm", "not-finite", "1e999", "exponent"),
    ("-1.5e+999 mm", "not-finite", "-1.5e+999", "too large"),
    ("1e307 km", "not-finite", "1e307", "too large"),
    ("1/0 mm", "bad-formula", "1/0", "divides by zero"),
    ("1 1/0 mm", "bad-formula", "1 1/0", "divides by zero"),
];

const NAMES_AND_FUNCTIONS: &[Slip] = &[
    ("pickup.gab", "unknown-name", "pickup.gab", "did you mean `pickup.gap`"),
    ("2 * wal.side", "unknown-name", "wal.side", "did you mean `wall.side`"),
    ("quite.another", "unknown-name", "quite.another", "`explain` lists the measures"),
    ("pickup.gap-wall.sidd", "unknown-name", "pickup.gap-wall.sidd", "no measure"),
    ("mean(pickup.gap)", "unknown-name", "mean", "the functions are min, max"),
    ("sprad(pickup.gap)", "unknown-name", "sprad", "did you mean `spread`"),
    ("min(pickup.gap)", "bad-formula", "min", "`least( )`"),
    ("max(pickup.gap)", "bad-formula", "max", "`most( )`"),
    ("abs(pickup.gap, wall.side)", "bad-formula", "abs", "takes one argument, found 2"),
    ("least(pickup.gap)", "bad-formula", "pickup.gap", "`min(a, b)`"),
    ("most(2 * pickup.gap)", "bad-formula", "2 * pickup.gap", "`max(a, b)`"),
    ("sum(oil.litres)", "bad-formula", "oil.litres", "` + `"),
    ("least(least(drain.width))", "bad-formula", "least(drain.width)", "nothing in `least( )`"),
    ("baseline(baseline(pickup.gap))", "bad-formula", "baseline(pickup.gap)", "not followed"),
    ("baseline(2 * spread(pickup.gap))", "bad-formula", "spread(pickup.gap)", "not followed"),
    ("drain.width - fin.root", "two-kinds", "fin.root", "`least( )`"),
    ("max(drain.width, fin.root)", "two-kinds", "fin.root", "each of the drains"),
    ("least(drain.width * fin.root)", "two-kinds", "fin.root", "each of the fins"),
];

const DIMENSIONS: &[Slip] = &[
    ("pickup.gap + oil.litres", "wrong-formula-dimension", "oil.litres", "a volume"),
    ("min(pickup.gap, inlet.area)", "wrong-formula-dimension", "inlet.area", "an area"),
    ("pickup.gap + 8", "wrong-formula-dimension", "8", "write `8 mm`"),
    ("8 - pickup.gap", "wrong-formula-dimension", "8", "write `8 mm`"),
    ("max(-8, pickup.gap)", "wrong-formula-dimension", "-8", "write `-8 mm`"),
    ("max(-(8), pickup.gap)", "wrong-formula-dimension", "8", "write `8 mm`"),
    ("oil.warmth - 40", "wrong-formula-dimension", "40", "write `40 degC`"),
    ("pickup.gap + 5 %", "wrong-formula-dimension", "5 %", "a plain number"),
    ("sqrt(pickup.gap)", "wrong-formula-dimension", "pickup.gap", "even power"),
    ("sqrt(oil.litres)", "wrong-formula-dimension", "oil.litres", "even power"),
    ("oil.warmth + case.warmth", "wrong-formula-dimension", "case.warmth", "cannot be added"),
    ("oil.warmth * 2", "wrong-formula-dimension", "oil.warmth", "multiplied"),
    ("2 / oil.warmth", "wrong-formula-dimension", "oil.warmth", "divided"),
    ("-oil.warmth", "wrong-formula-dimension", "oil.warmth", "opposite"),
    ("abs(oil.warmth)", "wrong-formula-dimension", "oil.warmth", "no abs( )"),
    ("sqrt(oil.warmth)", "wrong-formula-dimension", "oil.warmth", "no sqrt( )"),
    ("5 K - oil.warmth", "wrong-formula-dimension", "oil.warmth", "taken from a difference"),
    ("5 K + oil.warmth", "wrong-formula-dimension", "oil.warmth", "a difference in K"),
    ("max(oil.warmth, 5 K)", "wrong-formula-dimension", "5 K", "a temperature difference"),
];

#[test]
fn every_slip_is_told_at_its_token() {
    for slips in
        [SIGNS_AND_BLANKS, BRACKETS_AND_COMMAS, NUMBERS_AND_UNITS, NAMES_AND_FUNCTIONS, DIMENSIONS]
    {
        assert_slips(slips, read_formula);
    }
}

#[test]
fn words_of_conditions_are_sent_to_when() {
    let slips: &[Slip] = &[
        ("pickup.gap and wall.side", "bad-formula", "and", "`when`"),
        ("pickup.gap at least 8 mm", "bad-formula", "at", "`when`"),
        ("pickup.gap is given", "bad-formula", "is", "`when`"),
        ("pickup.gap AND wall.side", "bad-formula", "AND", "write `and`"),
    ];
    assert_slips(slips, read_formula);
}

#[test]
fn a_formula_of_nothing_is_shown_whole() {
    for text in ["", "  "] {
        assert_slips(&[(text, "bad-formula", text, "nothing stands here")], read_formula);
    }
}

#[test]
fn two_dimensions_are_each_named_where_they_stand() {
    let text = "pickup.gap + 2 L";
    let problem = read_formula(text).unwrap_err();
    assert_eq!(problem.primary.text, "a volume");
    assert_eq!(problem.others.len(), 1);
    assert_eq!(problem.others[0].text, "a length");
    assert_eq!(slice(text, problem.others[0].span), Some("pickup.gap"));
}

#[test]
fn two_kinds_are_each_shown_where_they_are_asked_for() {
    let text = "drain.width + pickup.gap - fin.root";
    let problem = read_formula(text).unwrap_err();
    assert_eq!(slice(text, problem.others[0].span), Some("drain.width"));
}

#[test]
fn powers_out_of_all_measure_are_refused() {
    let text = format!("pickup.gap{}", " * pickup.gap".repeat(200));
    let problem = read_formula(&text).unwrap_err();
    assert_eq!(problem.code.word(), "wrong-formula-dimension");
    assert_eq!(slice(&text, problem.primary.span), Some("pickup.gap"));
}

#[test]
fn a_formula_that_is_too_long_is_told_both_lengths() {
    let fits = format!("{:<LONGEST$}", "8 mm");
    assert!(read_formula(&fits).is_ok());
    let problem = read_formula(&format!("{fits} ")).unwrap_err();
    assert_eq!(problem.code.word(), "limit-reached");
    for number in [LONGEST, LONGEST + 1] {
        assert!(problem.message.contains(&number.to_string()), "{}", problem.message);
    }
    assert!(problem.help.is_some());
}

#[test]
fn brackets_that_stand_too_deep_are_shown_where_they_first_do() {
    let nested = |depth: usize| format!("{}8 mm{}", "(".repeat(depth), ")".repeat(depth));
    assert!(read_formula(&nested(DEEPEST)).is_ok());
    let text = nested(DEEPEST + 3);
    let problem = read_formula(&text).unwrap_err();
    assert_eq!(problem.code.word(), "limit-reached");
    for number in [DEEPEST, DEEPEST + 3] {
        assert!(problem.message.contains(&number.to_string()), "{}", problem.message);
    }
    assert_eq!(problem.primary.span.start, START + u32::try_from(DEEPEST).unwrap());
    assert_eq!(slice(&text, problem.primary.span), Some("("));
    // Brackets of functions and of tests count the same.
    let functions = format!("{}8 mm{}", "abs(".repeat(DEEPEST + 1), ")".repeat(DEEPEST + 1));
    assert_eq!(read_formula(&functions).unwrap_err().code.word(), "limit-reached");
    let many = DEEPEST + 1;
    let tests = format!("{}pickup is given{}", "(".repeat(many), ")".repeat(many));
    assert_eq!(read_condition(&tests).unwrap_err().code.word(), "limit-reached");
}
