//! Tests of the rule language, on measures and fields of their own.

mod any_text;
mod condition_slips;
mod conditions;
mod evaluating;
mod formula_slips;
mod formulas;
mod generate;
mod intervals;
mod pins_and_cases;
mod printing;
mod properties;
mod resolving;
mod truths;
mod world;

use super::names::Names;
use super::parse::parse_formula;
use super::parse_condition::parse_condition;
use super::{Condition, Formula};
use crate::document::DocumentKind;
use crate::document::field::{Field, Form, Limits};
use crate::measure::{ObjectKind, Outcome, Spec, Unknown};
use crate::model::Scene;
use crate::quantity::Dimension;
use crate::source::{Diagnostic, FileId, Scalar, Span};

const LENGTH: Dimension = Dimension { length: 1, ..Dimension::NUMBER };
const AREA: Dimension = Dimension { length: 2, ..Dimension::NUMBER };
const VOLUME: Dimension = Dimension { length: 3, ..Dimension::NUMBER };
const FLOW: Dimension = Dimension { length: 3, time: -1, ..Dimension::NUMBER };
const WARMTH: Dimension = Dimension { temperature: 1, point: true, ..Dimension::NUMBER };

static SPECS: [Spec; 11] = [
    spec("pickup.gap", ObjectKind::Pan, LENGTH),
    spec("wall.side", ObjectKind::Pan, LENGTH),
    spec("inlet.area", ObjectKind::Pan, AREA),
    spec("oil.warmth", ObjectKind::Pan, WARMTH),
    spec("case.warmth", ObjectKind::Pan, WARMTH),
    spec("oil.flow", ObjectKind::Pan, FLOW),
    spec("oil.share", ObjectKind::Pan, Dimension::NUMBER),
    spec("oil.litres", ObjectKind::Pan, VOLUME),
    spec("drain.width", ObjectKind::Drain, LENGTH),
    spec("drain.rest", ObjectKind::Drain, VOLUME),
    spec("fin.root", ObjectKind::FinSet, LENGTH),
];

const fn spec(name: &'static str, kind: ObjectKind, dimension: Dimension) -> Spec {
    Spec {
        name,
        kind,
        dimension,
        over_duty: false,
        meaning: "a measure of the tests",
        formula: "none",
        source: "none",
        range: "any",
        checked_against: "nothing",
        checked_by: "nothing",
        read: never,
    }
}

fn never(_: &Scene, _: usize) -> Outcome {
    Err(Unknown::because("the tests read from a world of their own"))
}

const FIELDS: [Field; 15] = [
    field(DocumentKind::Pan, "pickup", Form::Mapping, None),
    field(DocumentKind::Pan, "pickup.inlet", Form::Mapping, None),
    field(
        DocumentKind::Pan,
        "pickup.inlet.facing",
        Form::Words(&["down", "up", "front", "rear"]),
        None,
    ),
    field(DocumentKind::Pan, "pickup.inlet.at.depth", Form::Quantity, Some(LENGTH)),
    field(DocumentKind::Pan, "material", Form::Mapping, None),
    field(
        DocumentKind::Pan,
        "material.process",
        Form::Words(&["sand casting", "die casting", "stamping", "stamping twice"]),
        None,
    ),
    field(DocumentKind::Pan, "material.alloy", Form::Text, None),
    field(DocumentKind::Pan, "drains", Form::Named, None),
    field(DocumentKind::Pan, "drains.*", Form::Mapping, None),
    field(DocumentKind::Pan, "drains.*.boss", Form::Quantity, Some(LENGTH)),
    field(DocumentKind::Pan, "drains.*.axis", Form::Words(&["down", "front", "rear"]), None),
    field(DocumentKind::Pan, "fins.*.along", Form::Words(&["x", "y"]), None),
    field(DocumentKind::Vehicle, "skid", Form::Mapping, None),
    field(DocumentKind::Vehicle, "skid.top_face", Form::Quantity, Some(LENGTH)),
    field(DocumentKind::Duty, "strike", Form::Mapping, None),
];

const fn field(
    document: DocumentKind,
    path: &'static str,
    form: Form,
    dimension: Option<Dimension>,
) -> Field {
    Field {
        document,
        path,
        form,
        dimension,
        limits: Limits::Any,
        how_to_get: "it is not measured",
        typical: None,
        optional: false,
        or_words: &[],
    }
}

const NAMES: Names<'static> = Names { measures: &SPECS, fields: &FIELDS };

/// Byte of the source at which the text of a test begins.
const START: u32 = 100;

/// A plain scalar that begins at byte 100.
fn scalar(text: &str) -> Scalar {
    let end = START + u32::try_from(text.len()).unwrap();
    let span = Span { file: FileId(0), start: START, end };
    Scalar { text: text.to_owned(), span, verbatim_at: Some(START), plain: true }
}

fn read_formula(text: &str) -> Result<Formula, Box<Diagnostic>> {
    parse_formula(&scalar(text), &NAMES)
}

fn read_condition(text: &str) -> Result<Condition, Box<Diagnostic>> {
    parse_condition(&scalar(text), &NAMES)
}

fn formula(text: &str) -> Formula {
    read_formula(text).unwrap_or_else(|problem| panic!("{text}: {problem:#?}"))
}

fn condition(text: &str) -> Condition {
    read_condition(text).unwrap_or_else(|problem| panic!("{text}: {problem:#?}"))
}

/// The stretch of a text under a span; none if it lies outside or cuts a character.
fn slice(text: &str, span: Span) -> Option<&str> {
    let byte = |at: u32| Some(usize::try_from(at.checked_sub(START)?).unwrap());
    text.get(byte(span.start)?..byte(span.end)?)
}

/// A row of a table of slips: the text, the code, the place, a word of what is said.
type Slip = (&'static str, &'static str, &'static str, &'static str);

/// Holds what comes of each text against its row: one place, letter by letter, and help for everything.
fn assert_slips<T: std::fmt::Display>(
    slips: &[Slip],
    read: impl Fn(&str) -> Result<T, Box<Diagnostic>>,
) {
    let mut wrong = Vec::new();
    for (text, code, at, said) in slips {
        let problem = match read(text) {
            Ok(good) => {
                wrong.push(format!("`{text}` was read as `{good}`"));
                continue;
            }
            Err(problem) => problem,
        };
        let help = problem.help.as_deref().unwrap_or_default();
        let message = format!("{}; {help}", problem.message);
        let found = (problem.code.word(), slice(text, problem.primary.span));
        let fits = found == (*code, Some(*at)) && message.contains(said) && !help.is_empty();
        if !fits {
            wrong.push(format!("`{text}` gave {found:?}: {message}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
