//! Ways of altering a rule that its cases must notice.

use super::Alteration;
use super::run::{Ready, outcome};
use crate::document::rulebook::Force;
use crate::quantity::parse_quantity;
use crate::rule::{Formula, FormulaKind, Rule};
use crate::source::{Node, Value};

/// Every alteration of a rule, and whether some case that holds comes out otherwise under it.
pub(super) fn alterations(rule: &Rule, cases: &[Ready]) -> Vec<Alteration> {
    let mut all = Vec::new();
    let mut check = |what: String, altered: Rule| {
        all.push(Alteration { what, caught: cases.iter().any(|case| notices(&altered, case)) });
    };
    for (which, formula) in [("at_least", &rule.at_least), ("at_most", &rule.at_most)] {
        let Some(formula) = formula else { continue };
        for index in 0..formula.numbers().len() {
            for (direction, sign) in [("larger", 1.0), ("smaller", -1.0)] {
                if let Some((written, pin, altered)) = moved(rule, which, formula, index, sign) {
                    check(format!("{written} in {which} {direction} by its pin, {pin}"), altered);
                }
            }
        }
    }
    let swapped = Rule {
        at_least: rule.at_most.clone(),
        at_most: rule.at_least.clone(),
        doc: crate::document::rulebook::RuleDoc {
            at_least: rule.doc.at_most.clone(),
            at_most: rule.doc.at_least.clone(),
            ..rule.doc.clone()
        },
        ..rule.clone()
    };
    check("at_least and at_most swapped".to_owned(), swapped);
    if rule.when.is_some() {
        check("the condition dropped".to_owned(), Rule { when: None, ..rule.clone() });
    }
    let mut other = rule.clone();
    other.doc.force.value = match rule.doc.force.value {
        Force::Shall => Force::Should,
        Force::Should => Force::Shall,
    };
    check("the force changed".to_owned(), other);
    all
}

fn notices(altered: &Rule, case: &Ready) -> bool {
    let Ok(sweep) = &case.sweep else { return false };
    outcome(altered, sweep) != Some(case.doc.expect.value)
}

/// The rule with one number of a limit moved by its pin: the number as written, the pin as written, the rule.
fn moved(
    rule: &Rule,
    which: &str,
    formula: &Formula,
    index: usize,
    sign: f64,
) -> Option<(String, String, Rule)> {
    let (number, _) = formula.numbers().into_iter().nth(index)?;
    let (written, value) = (number.written.clone(), number.value);
    let (pin, text) = pin_of(rule.doc.pin.as_ref()?, &written, value)?;
    let mut count = 0;
    let formula = with_number(formula, index, value + sign * pin, &mut count);
    let mut altered = rule.clone();
    if which == "at_least" {
        altered.at_least = Some(formula);
    } else {
        altered.at_most = Some(formula);
    }
    Some((written, text, altered))
}

/// The pin of a number in SI base units, and as written.
fn pin_of(pin: &Node, written: &str, value: f64) -> Option<(f64, String)> {
    let scalar = match &pin.value {
        Value::Scalar(scalar) => scalar,
        Value::Mapping(entries) => {
            entries.iter().find(|entry| entry.key.text == written)?.value.scalar()?
        }
        _ => return None,
    };
    let quantity = parse_quantity(scalar).ok()?;
    let share = quantity.unit.symbol == "%";
    let size = if share { quantity.value * value.abs() } else { quantity.value };
    Some((size, scalar.text.clone()))
}

/// The formula with its number of this place, in the order written, replaced.
fn with_number(formula: &Formula, index: usize, value: f64, count: &mut usize) -> Formula {
    let mut with = |inner: &Formula| with_number(inner, index, value, count);
    let kind = match &formula.kind {
        FormulaKind::Number(number) => {
            let here = *count == index;
            *count += 1;
            let mut number = number.clone();
            if here {
                number.value = value;
            }
            FormulaKind::Number(number)
        }
        FormulaKind::Measure(spec) => FormulaKind::Measure(spec),
        FormulaKind::Negative(inner) => FormulaKind::Negative(Box::new(with(inner))),
        FormulaKind::Binary(operator, left, right) => {
            let left = Box::new(with(left));
            FormulaKind::Binary(*operator, left, Box::new(with(right)))
        }
        FormulaKind::Call(function, arguments) => {
            FormulaKind::Call(*function, arguments.iter().map(&mut with).collect())
        }
    };
    Formula { kind, ..formula.clone() }
}
