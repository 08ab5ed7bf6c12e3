//! How far each number of a limit could move, alone, before some case notices.

use super::Slack;
use super::alter::{notices, pin_of, with_number};
use super::run::Ready;
use crate::rule::{Formula, Rule};

/// Halvings of the way to the first noticed value: a ten-thousandth of the pin is closer than anybody reads.
const HALVINGS: u32 = 24;

/// Beyond this many times its own size a number is not looked for any more: nothing holds it.
const FARTHEST: f64 = 2.0;

/// The slack of every number in the limits of a rule, in the order written.
pub(super) fn slacks(rule: &Rule, cases: &[Ready]) -> Vec<Slack> {
    let mut all = Vec::new();
    for (upper, formula) in [(false, &rule.at_least), (true, &rule.at_most)] {
        let Some(formula) = formula else { continue };
        for (index, (number, _)) in formula.numbers().into_iter().enumerate() {
            let value = number.value;
            let pin = rule.doc.pin.as_ref().and_then(|pin| pin_of(pin, &number.written, value));
            let noticed = |value: f64| {
                let altered = altered(rule, upper, with_number(formula, index, value));
                cases.iter().any(|case| notices(&altered, case))
            };
            let reach = FARTHEST * value.abs();
            all.push(Slack {
                written: number.written.clone(),
                unit: number.unit.clone(),
                low: edge(value, -reach, noticed),
                high: edge(value, reach, noticed),
                pin: pin.map(|(size, _)| size),
            });
        }
    }
    all
}

fn altered(rule: &Rule, upper: bool, formula: Formula) -> Rule {
    let mut altered = rule.clone();
    if upper {
        altered.at_most = Some(formula);
    } else {
        altered.at_least = Some(formula);
    }
    altered
}

/// The last value that goes unnoticed on the way from a value by `reach`; none where even the end does.
fn edge(value: f64, reach: f64, noticed: impl Fn(f64) -> bool) -> Option<f64> {
    if !noticed(value + reach) {
        return None;
    }
    let (mut quiet, mut loud) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(quiet, loud);
        if noticed(value + middle * reach) {
            loud = middle;
        } else {
            quiet = middle;
        }
    }
    Some(value + quiet * reach)
}
