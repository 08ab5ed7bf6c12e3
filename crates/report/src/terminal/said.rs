//! The phrases in which numbers, limits and states are said, the same wherever they occur.

use super::page::glued;
use crate::{amount, deciding};
use sumpwright_core::document::rulebook::Decision;
use sumpwright_core::measure::{StateValue, Worst};
use sumpwright_core::quantity::{Dimension, print_amount};
use sumpwright_core::review::{Contribution, Finding, LimitReading, LimitSide, Reading};
use sumpwright_core::verdict::Verdict;

/// The dimension of a difference of two values.
pub(super) fn difference(dimension: Dimension) -> Dimension {
    Dimension { point: false, ..dimension }
}

/// What is said at the subject: it has to make sense alone.
pub(super) fn in_short(finding: &Finding) -> String {
    let limit = deciding::deciding(finding);
    let parts = finding.reading.as_ref().zip(limit).and_then(|(r, l)| Some((r, l, l.margin?)));
    let Some((reading, limit, margin)) = parts else {
        return if finding.reason.is_empty() {
            finding.verdict.words().to_owned()
        } else {
            finding.reason.clone()
        };
    };
    let u = amount::coarser(reading);
    let value = match (reading.bounds.value(), limit.value.and_then(|l| l.bounds.value())) {
        (Some(value), Some(limit)) => amount::pair(value, limit, u, finding.dimension).0,
        _ => amount::bounds(reading.bounds, u, finding.dimension),
    };
    let beside = beside(&margin, limit.side, finding.dimension);
    let guard = limit.guard.filter(|guard| {
        finding.verdict == Verdict::Inconclusive && margin.bounds.value().is_some() && *guard > 0.0
    });
    let guard = guard.map_or(String::new(), |guard| {
        let guard = print_amount(guard, guard, difference(finding.dimension));
        format!(", with {} of uncertainty", glued(&guard))
    });
    format!("{}: {beside}{guard}", glued(&value))
}

/// `18.5 mm short`, `385 MPa over`, `2.0 mm to spare`.
fn beside(margin: &Reading, side: LimitSide, dimension: Dimension) -> String {
    let dimension = difference(dimension);
    let u = amount::coarser(margin);
    let print = |value: f64| glued(&print_amount(value.abs(), u, dimension));
    let outside = match side {
        LimitSide::AtLeast => "short",
        LimitSide::AtMost => "over",
    };
    match (margin.bounds.value(), margin.bounds.low, margin.bounds.high) {
        (Some(value), ..) if value < 0.0 => format!("{} {outside}", print(value)),
        (Some(value), ..) => format!("{} to spare", print(value)),
        (None, _, high) if high < 0.0 => format!("at least {} {outside}", print(high)),
        (None, low, _) if low >= 0.0 => format!("at least {} to spare", print(low)),
        _ => "the limit lies between the bounds".to_owned(),
    }
}

/// A margin in full: what is left, or what is lacking, with its uncertainty.
pub(super) fn margin(margin: &Reading, side: LimitSide, dimension: Dimension) -> String {
    let said = beside(margin, side, dimension);
    let u = amount::coarser(margin);
    if u > 0.0 {
        let u = print_amount(u, u, difference(dimension));
        format!("{said} (u {})", glued(&u))
    } else {
        said
    }
}

/// `at least 10 mm`; a formula with the value it came to.
pub(super) fn limit(finding: &Finding, limit: &LimitReading) -> String {
    let side = match limit.side {
        LimitSide::AtLeast => "at least",
        LimitSide::AtMost => "at most",
    };
    let Some(value) = &limit.value else { return format!("{side} {}", limit.text) };
    let printed = match (
        value.bounds.value(),
        finding.reading.and_then(|r| Some((r.bounds.value()?, amount::coarser(&r)))),
    ) {
        (Some(limit), Some((reading, u))) => {
            amount::pair(limit, reading, finer(u, amount::coarser(value)), finding.dimension).0
        }
        _ => amount::reading(value, finding.dimension),
    };
    if limit.text == printed {
        format!("{side} {}", glued(&printed))
    } else {
        format!("{side} {} = {}", limit.text, glued(&printed))
    }
}

/// What an input does to a value: `± 2.2 mm`.
pub(super) fn effect(of: &Contribution, dimension: Dimension) -> String {
    let size = of.effect.abs();
    let printed = glued(&print_amount(size, size, difference(dimension)));
    if of.of_last_digit {
        format!("{printed} for one of its last digit, taken as exact")
    } else if of.assumed {
        glued(&format!("± {printed}")) + ", only assumed"
    } else {
        glued(&format!("± {printed}"))
    }
}

/// The state that decides, with the oil's temperature.
pub(super) fn worst(worst: &Worst) -> String {
    let point = Dimension { temperature: 1, point: true, ..Dimension::default() };
    let at = print_amount(worst.oil_temperature, 0.0, point);
    format!("{}, oil at {}", worst.state, glued(&at))
}

/// A state and what came out there.
pub(super) fn state(state: &StateValue, dimension: Dimension) -> String {
    let value = match &state.bounds {
        Ok(bounds) => glued(&amount::bounds(*bounds, 0.0, dimension)),
        Err(unknown) => format!("not known: {}", unknown.reason),
    };
    format!("{}: {value}", worst(&state.at))
}

/// A decision rule in words.
pub(super) fn decision(decision: Decision) -> String {
    match decision {
        Decision::Guarded => "guarded, one-sided 95 %".to_owned(),
        Decision::Simple => "simple acceptance".to_owned(),
        Decision::Probability(p) => format!("probability of conformity at least {}", percent(p)),
    }
}

fn percent(share: f64) -> String {
    let text = format!("{:.2}", share * 100.0);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{text} %")
}

fn finer(a: f64, b: f64) -> f64 {
    if a > 0.0 && (b <= 0.0 || a < b) { a } else { b }
}
