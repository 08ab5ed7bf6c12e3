//! The shapes that several documents share.

use crate::{place, si};
use schemars::JsonSchema;
use serde::Serialize;
use sumpwright_core::document::rulebook::Decision;
use sumpwright_core::measure::{Bounds, StateValue, Worst};
use sumpwright_core::quantity::Dimension;
use sumpwright_core::review::{Contribution, InputUsed, Reading};
use sumpwright_core::source::{Diagnostic, Label, Severity, Sources, Span};

/// Who wrote the document.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct MadeBy {
    name: &'static str,
    version: &'static str,
}

/// This version of this program.
pub(super) fn made_by() -> MadeBy {
    MadeBy { name: "sumpwright", version: env!("CARGO_PKG_VERSION") }
}

/// Where something stands; lines and columns from 1, columns in characters, the end one past the last.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct PlaceWire {
    path: String,
    line: usize,
    column: usize,
    end_line: usize,
    end_column: usize,
}

pub(super) fn place(sources: &Sources, span: Span) -> PlaceWire {
    let (start, end) = (place::start(sources, span), place::end(sources, span));
    PlaceWire {
        path: start.path,
        line: start.line,
        column: start.column,
        end_line: end.line,
        end_column: end.column,
    }
}

/// A finite number without a negative zero; `null` for anything else.
pub(super) fn number(value: f64) -> Option<f64> {
    value.is_finite().then_some(value + 0.0)
}

/// A reading: `value` only where it is one, `low` and `high` always, `null` where unbounded.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct ReadingWire {
    kind: &'static str,
    value: Option<f64>,
    u: Option<f64>,
    low: Option<f64>,
    u_low: Option<f64>,
    high: Option<f64>,
    u_high: Option<f64>,
    unit: String,
}

pub(crate) fn reading(reading: Option<Reading>, dimension: Dimension) -> ReadingWire {
    let bounds = reading.map_or(UNBOUNDED, |reading| reading.bounds);
    let kind = kind(bounds);
    let is_value = kind == "value";
    let u = |bound: f64, u: f64| number(bound).and(number(u));
    ReadingWire {
        kind,
        value: if is_value { number(bounds.low) } else { None },
        u: reading.filter(|_| is_value).and_then(|r| number(r.u_low)),
        low: number(bounds.low),
        u_low: reading.and_then(|r| u(bounds.low, r.u_low)),
        high: number(bounds.high),
        u_high: reading.and_then(|r| u(bounds.high, r.u_high)),
        unit: si::symbol(dimension),
    }
}

const UNBOUNDED: Bounds = Bounds { low: f64::NEG_INFINITY, high: f64::INFINITY };

fn kind(bounds: Bounds) -> &'static str {
    match (bounds.low.is_finite(), bounds.high.is_finite()) {
        (true, true) if bounds.value().is_some() => "value",
        (true, true) => "between",
        (true, false) => "at least",
        (false, true) => "at most",
        (false, false) => "unknown",
    }
}

/// A state of the duty.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct WorstWire {
    state: String,
    /// For a swept state, where in it.
    #[serde(skip_serializing_if = "Option::is_none")]
    point: Option<String>,
    place: PlaceWire,
    /// In kelvin.
    oil_temperature: Option<f64>,
}

pub(super) fn worst(sources: &Sources, worst: &Worst) -> WorstWire {
    WorstWire {
        state: worst.state.clone(),
        point: worst.point.clone(),
        place: place(sources, worst.span),
        oil_temperature: number(worst.oil_temperature),
    }
}

/// What came out in one state.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct StateWire {
    #[serde(flatten)]
    at: WorstWire,
    kind: &'static str,
    value: Option<f64>,
    low: Option<f64>,
    high: Option<f64>,
    reason: Option<String>,
}

pub(super) fn state(sources: &Sources, state: &StateValue) -> StateWire {
    let bounds = *state.bounds.as_ref().unwrap_or(&UNBOUNDED);
    let kind = kind(bounds);
    StateWire {
        at: worst(sources, &state.at),
        kind,
        value: if kind == "value" { number(bounds.low) } else { None },
        low: number(bounds.low),
        high: number(bounds.high),
        reason: state.bounds.as_ref().err().map(|unknown| unknown.reason.clone()),
    }
}

/// How one input moves a reading.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct ContributionWire {
    path: String,
    place: PlaceWire,
    effect: Option<f64>,
    unit: String,
    of_last_digit: bool,
    assumed: bool,
    how_to_get: &'static str,
}

pub(super) fn contribution(
    sources: &Sources,
    contribution: &Contribution,
    dimension: Dimension,
) -> ContributionWire {
    ContributionWire {
        path: contribution.path.clone(),
        place: place(sources, contribution.span),
        effect: number(contribution.effect),
        unit: si::symbol(dimension),
        of_last_digit: contribution.of_last_digit,
        assumed: contribution.assumed,
        how_to_get: contribution.how_to_get,
    }
}

/// A stated quantity.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct InputWire {
    path: String,
    place: PlaceWire,
    value: Option<f64>,
    u: Option<f64>,
    unit: String,
    written_in: String,
    exact: bool,
    assumed: bool,
    how_to_get: &'static str,
}

pub(super) fn input(sources: &Sources, input: &InputUsed) -> InputWire {
    InputWire {
        path: input.path.clone(),
        place: place(sources, input.span),
        value: number(input.value),
        u: number(input.u),
        unit: si::symbol(input.unit.dimension),
        written_in: input.unit.symbol.clone(),
        exact: input.u <= 0.0,
        assumed: input.assumed,
        how_to_get: input.how_to_get,
    }
}

/// A problem of a document.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct ProblemWire {
    code: &'static str,
    severity: &'static str,
    message: String,
    place: PlaceWire,
    label: String,
    others: Vec<LabelWire>,
    help: Option<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct LabelWire {
    place: PlaceWire,
    label: String,
}

pub(super) fn problems(sources: &Sources, problems: &[Diagnostic]) -> Vec<ProblemWire> {
    let label =
        |label: &Label| LabelWire { place: place(sources, label.span), label: label.text.clone() };
    let problem = |problem: &Diagnostic| ProblemWire {
        code: problem.code.word(),
        severity: match problem.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        },
        message: problem.message.clone(),
        place: place(sources, problem.primary.span),
        label: problem.primary.text.clone(),
        others: problem.others.iter().map(label).collect(),
        help: problem.help.clone(),
    };
    problems.iter().map(problem).collect()
}

/// The texts that were read, in the order they were read.
pub(super) fn files(sources: &Sources) -> Vec<String> {
    let mut paths: Vec<String> = Vec::new();
    for path in sources.files().map(|file| sources.path(file)) {
        // Of a long recording several parts may be kept.
        if !paths.iter().any(|known| known == path) {
            paths.push(path.to_owned());
        }
    }
    paths
}

/// A decision rule: its name, and the probability asked for where one is.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct DecisionWire {
    rule: &'static str,
    probability: Option<f64>,
}

pub(super) fn decision(decision: Decision) -> DecisionWire {
    match decision {
        Decision::Guarded => DecisionWire { rule: "guarded", probability: None },
        Decision::Simple => DecisionWire { rule: "simple", probability: None },
        Decision::Probability(p) => DecisionWire { rule: "probability", probability: number(p) },
    }
}
