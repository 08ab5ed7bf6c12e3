//! Ways of altering a rule that its cases must notice.

use super::Alteration;
use super::run::{Ready, outcome};
use crate::document::rulebook::Force;
use crate::measure::{MEASURES, find};
use crate::quantity::parse_quantity;
use crate::rule::{Condition, Formula, FormulaKind, Number, Rule, Test, TestKind};
use crate::source::{Node, Value};

/// Every alteration of a rule, and whether some case that holds comes out otherwise under it.
///
/// With them comes, for each case, whether some alteration is noticed by it alone.
pub(super) fn alterations(rule: &Rule, cases: &[Ready]) -> (Vec<Alteration>, Vec<bool>) {
    let mut all = Vec::new();
    let mut alone = vec![false; cases.len()];
    let mut tell = |what: String, noticed: Vec<bool>| {
        let caught = noticed.iter().filter(|noticed| **noticed).count();
        if caught == 1 {
            for (alone, noticed) in alone.iter_mut().zip(noticed) {
                *alone |= noticed;
            }
        }
        all.push(Alteration { what, caught: caught > 0 });
    };
    for (index, what) in
        ["every uncertainty taken away", "every uncertainty doubled"].iter().enumerate()
    {
        let noticed = cases.iter().map(|case| {
            let sweep = case.other_uncertainties.as_ref().and_then(|both| both.get(index));
            sweep.is_some_and(|sweep| outcome(rule, sweep) != Some(case.doc.expect.value))
        });
        tell((*what).to_owned(), noticed.collect());
    }
    let mut check = |what: String, altered: Rule| {
        tell(what, cases.iter().map(|case| notices(&altered, case)).collect());
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
    for (what, when) in conditions(rule) {
        check(what, Rule { when: Some(when), ..rule.clone() });
    }
    for (what, measure) in measures(&rule.measure) {
        check(what, Rule { measure, ..rule.clone() });
    }
    let mut other = rule.clone();
    other.doc.force.value = match rule.doc.force.value {
        Force::Shall => Force::Should,
        Force::Should => Force::Shall,
    };
    check("the force changed".to_owned(), other);
    (all, alone)
}

/// The condition turned round, and with each of its tests left out where there are several.
fn conditions(rule: &Rule) -> Vec<(String, Condition)> {
    let Some(when) = &rule.when else { return Vec::new() };
    let span = when.span;
    let whole = Test { negated: true, kind: TestKind::Group(when.clone()), span };
    let mut all =
        vec![("the condition negated".to_owned(), Condition { clauses: vec![vec![whole]], span })];
    let tests: usize = when.clauses.iter().map(Vec::len).sum();
    for place in 0..tests {
        let mut count = 0;
        let mut left_out = String::new();
        let mut clauses = when.clauses.clone();
        for clause in &mut clauses {
            clause.retain(|test| {
                count += 1;
                let stays = count - 1 != place;
                if !stays {
                    left_out = test.to_string();
                }
                stays
            });
        }
        clauses.retain(|clause| !clause.is_empty());
        if !clauses.is_empty() {
            all.push((
                format!("`{left_out}` left out of the condition"),
                Condition { clauses, span },
            ));
        }
    }
    all
}

/// The formula with one of its measures exchanged for another of its dimension and kind.
fn measures(formula: &Formula) -> Vec<(String, Formula)> {
    let mut all = Vec::new();
    let names = measure_names(formula);
    for (index, name) in names.iter().enumerate() {
        let Some(own) = find(name) else { continue };
        let others = MEASURES.iter().filter(|other| {
            other.name != own.name && other.kind == own.kind && other.dimension == own.dimension
        });
        for other in others {
            let mut count = 0;
            let altered = exchanged(formula, &mut |kind| match kind {
                FormulaKind::Measure(_) => {
                    count += 1;
                    (count - 1 == index).then_some(FormulaKind::Measure(other))
                }
                _ => None,
            });
            all.push((format!("{name} exchanged for {}", other.name), altered));
        }
    }
    all
}

fn measure_names(formula: &Formula) -> Vec<&'static str> {
    let mut names = Vec::new();
    exchanged(formula, &mut |kind| {
        if let FormulaKind::Measure(spec) = kind {
            names.push(spec.name);
        }
        None
    });
    names
}

/// The formula with those parts exchanged for which there is something else, from left to right.
fn exchanged(
    formula: &Formula,
    other: &mut dyn FnMut(&FormulaKind) -> Option<FormulaKind>,
) -> Formula {
    let kind = other(&formula.kind).unwrap_or_else(|| match &formula.kind {
        FormulaKind::Number(number) => FormulaKind::Number(number.clone()),
        FormulaKind::Measure(spec) => FormulaKind::Measure(spec),
        FormulaKind::Negative(inner) => FormulaKind::Negative(Box::new(exchanged(inner, other))),
        FormulaKind::Binary(operator, left, right) => {
            let left = Box::new(exchanged(left, other));
            FormulaKind::Binary(*operator, left, Box::new(exchanged(right, other)))
        }
        FormulaKind::Call(function, arguments) => {
            FormulaKind::Call(*function, arguments.iter().map(|a| exchanged(a, other)).collect())
        }
    });
    Formula { kind, ..formula.clone() }
}

pub(super) fn notices(altered: &Rule, case: &Ready) -> bool {
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
    let formula = with_number(formula, index, value + sign * pin);
    let mut altered = rule.clone();
    if which == "at_least" {
        altered.at_least = Some(formula);
    } else {
        altered.at_most = Some(formula);
    }
    Some((written, text, altered))
}

/// The pin of a number in SI base units, and as written.
pub(super) fn pin_of(pin: &Node, written: &str, value: f64) -> Option<(f64, String)> {
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
pub(super) fn with_number(formula: &Formula, index: usize, value: f64) -> Formula {
    let mut count = 0;
    exchanged(formula, &mut |kind| match kind {
        FormulaKind::Number(number) => {
            count += 1;
            let here = count - 1 == index;
            here.then(|| FormulaKind::Number(Number { value, ..number.clone() }))
        }
        _ => None,
    })
}
