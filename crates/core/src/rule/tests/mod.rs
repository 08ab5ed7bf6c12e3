//! Tests of the rule language that need no pan: texts in, trees, truths and bounds out.

mod book;
mod conditions;
mod printing;
mod readings;
mod slips;
mod world;

use super::names::Names;
use super::parse::parse_formula;
use super::parse_condition::parse_condition;
use super::{Condition, Formula};
use crate::document::field::FIELDS;
use crate::measure::MEASURES;
use crate::source::{Diagnostic, Scalar, Sources, Span};

const NAMES: Names<'static> = Names { measures: MEASURES, fields: FIELDS };

/// A text as the value of a key, so that no span begins at 0.
fn scalar(text: &str) -> (Sources, Scalar) {
    let mut sources = Sources::default();
    let file = sources.add("rule.yaml", format!("x: {text}\n"));
    let end = u32::try_from(3 + text.len()).unwrap();
    let span = Span { file, start: 3, end };
    (sources, Scalar { text: text.to_owned(), span, verbatim_at: Some(3), plain: true })
}

fn read(text: &str) -> Result<Formula, Box<Diagnostic>> {
    parse_formula(&scalar(text).1, &NAMES)
}

fn formula(text: &str) -> Formula {
    read(text).unwrap_or_else(|problem| panic!("{text}: {problem:?}"))
}

fn condition(text: &str) -> Condition {
    parse_condition(&scalar(text).1, &NAMES).unwrap_or_else(|problem| panic!("{text}: {problem:?}"))
}
