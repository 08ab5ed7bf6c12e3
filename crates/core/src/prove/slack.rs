//! How far a number could move alone while every case still comes out as expected, and how far it may.

use super::case::Trial;
use super::edit::{NumberAt, bare, moved, with_number};
use super::notice::verdict;
use super::{Slack, is_expected};
use crate::quantity::parse_quantity;
use crate::rule::Rule;
use crate::source::{Node, Scalar, Value};

/// Steps within one pin, or one hundredth of the number, on the way out.
const STEPS: u32 = 16;

/// After them every step is twice the last; so many steps lead a million times as far.
const DOUBLINGS: u32 = 20;

/// Halvings of the step in which a case begins to notice: to a millionth of it.
const HALVINGS: u32 = 24;

/// The pin of a number in SI base units: that of the rule, where it can mean this number.
pub(super) fn pin_of(rule: &Rule, at: &NumberAt) -> Option<f64> {
    let scalar = match &rule.doc.pin.as_ref()?.value {
        Value::Scalar(scalar) => scalar,
        Value::Mapping(entries) => {
            let entry =
                entries.iter().find(|entry| close(&entry.key.text) == close(&at.number.written))?;
            Node::scalar(&entry.value)?
        }
        _ => return None,
    };
    in_si(scalar, at)
}

/// Without blanks: `8mm` and `8 mm` are one number.
fn close(text: &str) -> String {
    text.split_whitespace().collect()
}

fn in_si(scalar: &Scalar, at: &NumberAt) -> Option<f64> {
    let pin = parse_quantity(scalar).ok()?;
    if pin.unit.symbol == "%" {
        return Some(pin.value * at.number.value.abs()).filter(|pin| *pin > 0.0);
    }
    let fits = pin.unit.dimension.difference() == at.number.unit.dimension.difference();
    fits.then(|| pin.unit.difference_to_si(pin.unit.from_si(pin.value)))
}

/// The slack of a number. `trials` are the cases that come out as expected.
pub(super) fn slack(rule: &Rule, at: &NumberAt, pin: Option<f64>, trials: &[&Trial]) -> Slack {
    let bare = bare(rule);
    let value = at.number.value;
    let unnoticed = |value: f64| {
        let altered = with_number(&bare, at, &moved(&at.number, value));
        trials
            .iter()
            .all(|trial| is_expected(verdict(&altered, &trial.sweep), trial.doc.expect.value))
    };
    let first = pin.unwrap_or_else(|| {
        let share = value.abs() / 100.0;
        if share > 0.0 { share } else { at.number.unit.difference_to_si(1.0) }
    });
    Slack {
        written: at.number.written.clone(),
        part: at.part.key(),
        span: at.span,
        value,
        unit: at.number.unit.clone(),
        low: end(value, -first, &unnoticed),
        high: end(value, first, &unnoticed),
        pin,
    }
}

/// The last value on the way out at which no case notices; nothing where none ever does.
fn end(from: f64, first: f64, unnoticed: &impl Fn(f64) -> bool) -> Option<f64> {
    let small = (1..=STEPS).map(|step| first * f64::from(step) / f64::from(STEPS));
    let large = (1..=DOUBLINGS).scan(first, |step, _| {
        *step *= 2.0;
        Some(*step)
    });
    let mut kept = from;
    for step in small.chain(large) {
        let next = from + step;
        if !unnoticed(next) {
            return Some(between(kept, next, unnoticed));
        }
        kept = next;
    }
    None
}

fn between(mut kept: f64, mut noticed: f64, unnoticed: &impl Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(kept, noticed);
        if unnoticed(middle) {
            kept = middle;
        } else {
            noticed = middle;
        }
    }
    kept
}
