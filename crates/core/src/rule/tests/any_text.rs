//! Any text: the parser never panics, and what it says stands inside the text.

use super::*;
use proptest::prelude::*;

/// Pieces of the grammar and of what is often written instead.
const PIECES: &[&str] = &[
    "8",
    "1/2",
    "1e400",
    "1/0",
    "mm",
    "8 mm",
    "L/min",
    "kJ/(kg·K)",
    "%",
    "°C",
    " ",
    " ",
    " ",
    "(",
    ")",
    ",",
    ", ",
    "+",
    " - ",
    "-",
    " * ",
    " / ",
    "/",
    "·",
    "²",
    "^",
    "pickup.gap",
    "drain.width",
    "fin.root",
    "pickup",
    "drain.axis",
    "material.process",
    "sand",
    "casting",
    "is",
    " is ",
    "given",
    "none",
    "at",
    " at least ",
    " at most ",
    "least(",
    "max(",
    "min",
    "sqrt(",
    "baseline(",
    "sum(",
    "and",
    " and ",
    " or ",
    "not ",
    "NOT",
    "And",
    ">=",
    "==",
    "&&",
    "é",
    "\u{2212}",
    "\u{a0}",
    "\n",
    "\u{feff}",
    ".",
    "_",
    "e",
    "±",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 1024, failure_persistence: None, ..Default::default() })]

    #[test]
    fn no_text_makes_the_parser_panic_or_point_outside(text in "\\PC{0,40}") {
        check_any(&text)?;
    }

    #[test]
    fn no_text_with_control_signs_makes_it_panic(text in "(?s).{0,24}") {
        check_any(&text)?;
    }

    #[test]
    fn no_heap_of_the_grammars_pieces_makes_it_panic(
        pieces in prop::collection::vec(prop::sample::select(PIECES), 0..16),
    ) {
        check_any(&pieces.concat())?;
    }

    #[test]
    fn no_row_of_the_grammars_pieces_makes_it_panic(
        pieces in prop::collection::vec(prop::sample::select(PIECES), 0..16),
    ) {
        check_any(&pieces.join(" "))?;
    }
}

fn check_any(text: &str) -> Result<(), TestCaseError> {
    match read_formula(text) {
        Ok(read) => {
            for (_, span) in read.numbers() {
                prop_assert!(slice(text, span).is_some(), "{:?}", text);
            }
            prop_assert!(slice(text, read.span).is_some());
            prop_assert!(read_formula(&read.to_string()).is_ok(), "{:?} as {}", text, read);
        }
        Err(problem) => check_problem(text, &problem)?,
    }
    match read_condition(text) {
        Ok(read) => {
            prop_assert!(slice(text, read.span).is_some());
            prop_assert!(read_condition(&read.to_string()).is_ok(), "{:?} as {}", text, read);
        }
        Err(problem) => check_problem(text, &problem)?,
    }
    Ok(())
}

fn check_problem(text: &str, problem: &Diagnostic) -> Result<(), TestCaseError> {
    for label in std::iter::once(&problem.primary).chain(&problem.others) {
        prop_assert!(slice(text, label.span).is_some(), "{:?}: {:?}", text, problem);
    }
    prop_assert!(problem.help.is_some(), "{:?}: {}", text, problem.message);
    let first = problem.message.chars().next().unwrap_or('.');
    prop_assert!(!first.is_uppercase() && !problem.message.ends_with('.'), "{}", problem.message);
    Ok(())
}
