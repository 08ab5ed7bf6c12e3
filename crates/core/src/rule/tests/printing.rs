//! Formulas and conditions back to text.

use super::{NAMES, condition, formula, read, scalar};
use crate::rule::parse_condition::parse_condition;
use crate::rule::{Formula, FormulaKind, Function, Operator, check};
use crate::source::{FileId, Span};
use proptest::prelude::*;

const SPAN: Span = Span { file: FileId(0), start: 0, end: 0 };

const OPERATORS: [Operator; 4] =
    [Operator::Add, Operator::Subtract, Operator::Multiply, Operator::Divide];
const ONE: [Function; 2] = [Function::Abs, Function::Sqrt];
const SEVERAL: [Function; 2] = [Function::Min, Function::Max];

/// Everything about a formula but its places, with a bracket round each part.
fn shape(formula: &Formula) -> String {
    match &formula.kind {
        FormulaKind::Number(number) => format!("{:?} {}", number.value, number.unit.symbol),
        FormulaKind::Measure(spec) => spec.name.to_owned(),
        FormulaKind::Negative(inner) => format!("(-{})", shape(inner)),
        FormulaKind::Binary(operator, left, right) => {
            format!("({} {} {})", shape(left), operator.sign(), shape(right))
        }
        FormulaKind::Call(function, arguments) => {
            let arguments: Vec<String> = arguments.iter().map(shape).collect();
            format!("{}[{}]", function.word(), arguments.join("; "))
        }
    }
}

/// Formulas that are plain numbers, so that every operator and function fits.
fn any_formula() -> impl Strategy<Value = Formula> {
    let leaf = prop_oneof![
        (0..1000_u32).prop_map(|n| formula(&n.to_string())),
        (0.0..1e6).prop_map(|x: f64| formula(&format!("{x:?}"))),
        (1..9_u32).prop_map(|n| formula(&format!("-{n}/3"))),
        Just(formula("+2e-3")),
        Just(formula("12 L / 3 mL")),
        Just(formula("pickup.floor_gap / 1/4 in")),
        Just(formula("least(drain.residual_share)")),
        Just(formula("baseline(pickup.floor_gap) / 5 mm")),
    ];
    leaf.prop_recursive(6, 40, 3, |inner| {
        let binary = (proptest::sample::select(&OPERATORS[..]), inner.clone(), inner.clone());
        prop_oneof![
            inner.clone().prop_map(|f| check::negative(f, SPAN).unwrap()),
            binary.prop_map(|(operator, a, b)| check::binary(operator, a, b, SPAN).unwrap()),
            (proptest::sample::select(&ONE[..]), inner.clone())
                .prop_map(|(function, f)| check::call(function, SPAN, vec![f], SPAN).unwrap()),
            (proptest::sample::select(&SEVERAL[..]), proptest::collection::vec(inner, 2..4))
                .prop_map(|(function, all)| check::call(function, SPAN, all, SPAN).unwrap()),
        ]
    })
}

/// Conditions as text, with groups, turned tests and comparisons.
fn any_condition() -> impl Strategy<Value = String> {
    let comparison = (any_formula(), any::<bool>(), any_formula())
        .prop_map(|(a, least, b)| format!("{a} at {} {b}", if least { "least" } else { "most" }));
    let test = prop_oneof![
        Just("pickup is given".to_owned()),
        Just("drain.boss is given".to_owned()),
        Just("pickup.inlet.facing is down".to_owned()),
        comparison,
    ];
    test.prop_recursive(3, 12, 3, |inner| {
        let joint = proptest::sample::select(&[" and ", " or "][..]);
        (proptest::collection::vec((inner, any::<bool>()), 1..3), joint).prop_map(|(all, joint)| {
            let tests = all.iter().map(
                |(test, group)| {
                    if *group { format!("not ({test})") } else { test.clone() }
                },
            );
            tests.collect::<Vec<_>>().join(joint)
        })
    })
}

/// Tokens of the grammar and near misses.
const TOKENS: [&str; 40] = [
    "8 mm",
    "8",
    "-3",
    "1/2 in",
    "pickup.floor_gap",
    "wall.floor_thickness",
    "fin.root",
    "+",
    "-",
    "*",
    "/",
    "(",
    ")",
    ",",
    " ",
    " ",
    " ",
    " + ",
    " - ",
    " * ",
    " / ",
    "max(",
    "least(",
    "abs(",
    "baseline(",
    " at least ",
    " at most ",
    " and ",
    " or ",
    "not ",
    "pickup",
    " is given",
    " is ",
    "down",
    "AND",
    ">=",
    "±",
    "%",
    "L/min",
    "°",
];

proptest! {
    #[test]
    fn a_printed_formula_reads_as_the_same_formula(first in any_formula()) {
        let text = first.to_string();
        // A text past the limits cannot be read, whatever it says.
        prop_assume!(text.len() < 4096 && text.matches('(').count() <= 64);
        let second = read(&text);
        prop_assert!(second.is_ok(), "{}: {:?}", text, second);
        let second = second.unwrap();
        prop_assert_eq!(shape(&first), shape(&second));
        prop_assert_eq!(text, second.to_string());
    }

    #[test]
    fn a_printed_condition_reads_as_the_same_condition(text in any_condition()) {
        prop_assume!(text.len() < 4096 && text.matches('(').count() <= 64);
        let first = condition(&text).to_string();
        prop_assert_eq!(&first, &condition(&first).to_string());
        prop_assert_eq!(first, text);
    }

    #[test]
    fn no_text_upsets_the_reader_and_every_problem_lies_in_it(text in "\\PC{0,80}") {
        stays_inside(&text)?;
    }

    #[test]
    fn no_row_of_tokens_upsets_the_reader(
        tokens in proptest::collection::vec(proptest::sample::select(&TOKENS[..]), 0..24),
    ) {
        stays_inside(&tokens.concat())?;
    }
}

/// Whatever is read prints stably; whatever is not has a place inside the text, on whole characters.
fn stays_inside(text: &str) -> Result<(), TestCaseError> {
    let (sources, scalar) = scalar(text);
    let formula = super::parse_formula(&scalar, &NAMES).map(|f| f.to_string());
    if let Ok(printed) = &formula {
        prop_assert_eq!(&read(printed).unwrap().to_string(), printed);
    }
    let condition = parse_condition(&scalar, &NAMES).map(|c| c.to_string());
    if let Ok(printed) = &condition {
        prop_assert_eq!(&super::condition(printed).to_string(), printed);
    }
    for problem in [formula.err(), condition.err()].into_iter().flatten() {
        let at = problem.primary.span;
        prop_assert!(scalar.span.start <= at.start && at.start <= at.end);
        prop_assert!(at.end <= scalar.span.end, "{}: {:?}", text, problem);
        let (start, end) = (at.start as usize, at.end as usize);
        prop_assert!(sources.text(at.file).get(start..end).is_some());
        prop_assert!(!problem.message.is_empty() && !problem.message.ends_with('.'));
    }
    Ok(())
}

#[test]
fn blanks_and_needless_brackets_go_when_printed() {
    for (text, printed) in [
        ("8mm", "8 mm"),
        ("  ( 8 mm )  ", "8 mm"),
        ("2 mm  +  (3 mm * 4)", "2 mm + 3 mm * 4"),
        ("(2 - 3) - 4", "2 - 3 - 4"),
        ("2 - (3 - 4)", "2 - (3 - 4)"),
        ("(2 / 3) / 4", "2 / 3 / 4"),
        ("2 / (3 / 4)", "2 / (3 / 4)"),
        ("-(-2)", "-(-2)"),
        ("-(2)", "-(2)"),
        ("-(pickup.floor_gap)", "-pickup.floor_gap"),
        ("max( 1,  2 )", "max(1, 2)"),
    ] {
        assert_eq!(formula(text).to_string(), printed, "{text}");
    }
}
