//! A rule as its author wrote it: what it asks, and what proves it.

use super::{Case, Cases, LimitAsked, Pin, RuleExplained, RuleLine, Written};
use crate::document::rulebook::{CaseDoc, Expected, RuleDoc};
use crate::measure::Spec;
use crate::prove::Held;
use crate::review::LimitSide;
use crate::rule::{Condition, Formula, FormulaKind, Number, Rule, Test, TestKind};
use crate::source::{Scalar, Sources, Span, Value};

/// A rule in one line.
pub(super) fn line(rule: &Rule) -> RuleLine {
    RuleLine {
        id: rule.doc.id.text.clone(),
        force: rule.doc.force.value,
        title: rule.doc.title.text.clone(),
        span: rule.doc.id.span,
    }
}

/// A rule in full, but for a pan.
pub(super) fn explained(rule: &Rule, sources: &Sources) -> RuleExplained {
    let doc = &rule.doc;
    let text = |text: &Option<crate::document::Text>| text.as_ref().map(|t| t.text.clone());
    RuleExplained {
        line: line(rule),
        kind: rule.kind,
        measure: written(&doc.measure),
        dimension: rule.measure.dimension,
        measures: measures(rule),
        limits: limits(rule),
        pins: pins(rule),
        decision: rule.decision,
        when: doc.when.as_ref().map(written),
        because: doc.because.text.clone(),
        source: doc.source.text.clone(),
        remedy: text(&doc.remedy),
        caution: text(&doc.caution),
        since: doc.since.map(|since| since.value),
        cases: cases(doc, sources),
        changed: rule.notes.clone(),
        on_pan: None,
        curve: None,
    }
}

fn written(scalar: &Scalar) -> Written {
    Written { text: scalar.text.clone(), span: scalar.span }
}

/// The limits with the formula each was read to.
pub(super) fn sides(rule: &Rule) -> impl Iterator<Item = (LimitSide, &Formula, &Scalar)> {
    let least = rule.at_least.as_ref().zip(rule.doc.at_least.as_ref());
    let most = rule.at_most.as_ref().zip(rule.doc.at_most.as_ref());
    let least = least.map(|(formula, text)| (LimitSide::AtLeast, formula, text));
    least.into_iter().chain(most.map(|(formula, text)| (LimitSide::AtMost, formula, text)))
}

fn limits(rule: &Rule) -> Vec<LimitAsked> {
    sides(rule)
        .map(|(side, formula, text)| LimitAsked {
            side,
            written: written(text),
            is_plain: is_plain(formula),
        })
        .collect()
}

fn is_plain(formula: &Formula) -> bool {
    match &formula.kind {
        FormulaKind::Number(_) => true,
        FormulaKind::Negative(inner) => is_plain(inner),
        _ => false,
    }
}

/// Every measure of the formulas and of the condition, each once.
pub(super) fn measures(rule: &Rule) -> Vec<&'static Spec> {
    let mut all = Vec::new();
    in_formula(&rule.measure, &mut all);
    for (_, formula, _) in sides(rule) {
        in_formula(formula, &mut all);
    }
    if let Some(when) = &rule.when {
        in_condition(when, &mut all);
    }
    let mut once: Vec<&'static Spec> = Vec::new();
    for spec in all {
        if !once.iter().any(|known| known.name == spec.name) {
            once.push(spec);
        }
    }
    once
}

fn in_formula(formula: &Formula, out: &mut Vec<&'static Spec>) {
    match &formula.kind {
        FormulaKind::Number(_) => {}
        FormulaKind::Measure(spec) => out.push(spec),
        FormulaKind::Negative(inner) => in_formula(inner, out),
        FormulaKind::Binary(_, left, right) => {
            in_formula(left, out);
            in_formula(right, out);
        }
        FormulaKind::Call(_, arguments) => {
            for argument in arguments {
                in_formula(argument, out);
            }
        }
    }
}

fn in_condition(condition: &Condition, out: &mut Vec<&'static Spec>) {
    for Test { kind, .. } in condition.clauses.iter().flatten() {
        match kind {
            TestKind::Given(_) | TestKind::Is(..) => {}
            TestKind::AtLeast(left, right) | TestKind::AtMost(left, right) => {
                in_formula(left, out);
                in_formula(right, out);
            }
            TestKind::Group(inner) => in_condition(inner, out),
        }
    }
}

/// Every number of the rule with the pin that bears on it.
fn pins(rule: &Rule) -> Vec<Pin> {
    let mut numbers: Vec<(&Number, Span)> = rule.measure.numbers();
    numbers.extend(sides(rule).flat_map(|(_, formula, _)| formula.numbers()));
    numbers.extend(rule.when.iter().flat_map(Condition::numbers));
    numbers
        .into_iter()
        .map(|(number, span)| Pin {
            number: number.written.clone(),
            span,
            pin: pin_of(&rule.doc, &number.written),
            slack: None,
        })
        .collect()
}

fn pin_of(doc: &RuleDoc, number: &str) -> Option<String> {
    // As the check of pins has it: blanks make no other number of it.
    let close = |text: &str| text.split_whitespace().collect::<String>();
    let node = doc.pin.as_ref()?;
    let node = match &node.value {
        Value::Mapping(entries) => {
            let exact = entries.iter().find(|entry| entry.key.text == number);
            let same = || entries.iter().find(|entry| close(&entry.key.text) == close(number));
            &exact.or_else(same)?.value
        }
        _ => node,
    };
    node.scalar().map(|scalar| scalar.text.clone())
}

/// Puts beside each number what the cases leave it.
pub(super) fn with_slack(explained: &mut RuleExplained, held: Held) {
    explained.cases.failed = held.cases - held.holding;
    for (pin, slack) in explained.pins.iter_mut().zip(held.slacks) {
        pin.slack = Some(slack);
    }
}

/// The rule's own cases, where it has any, and else those of the rule below.
fn cases(doc: &RuleDoc, sources: &Sources) -> Cases {
    if let (Some(below), true) = (&doc.overridden, doc.cases.is_empty()) {
        return cases(&below.base, sources);
    }
    let first =
        |wanted: fn(Expected) -> bool| doc.cases.iter().position(|case| wanted(case.expect.value));
    let passing = first(|expected| expected == Expected::Conforms);
    let failing =
        first(|expected| matches!(expected, Expected::DoesNotConform | Expected::Advisory));
    let mut others: Vec<(Expected, usize)> = Vec::new();
    for (place, case) in doc.cases.iter().enumerate() {
        if Some(place) == passing || Some(place) == failing {
            continue;
        }
        match others.iter_mut().find(|(expected, _)| *expected == case.expect.value) {
            Some((_, count)) => *count += 1,
            None => others.push((case.expect.value, 1)),
        }
    }
    let told = |place: Option<usize>| Some(told(doc.cases.get(place?)?, sources));
    Cases { passing: told(passing), failing: told(failing), others, failed: 0 }
}

fn told(case: &CaseDoc, sources: &Sources) -> Case {
    Case {
        fixture: case.fixture.text.clone(),
        exact: case.exact,
        set: case
            .set
            .iter()
            .map(|(path, node)| (path.text.clone(), sources.slice(node.span).to_owned()))
            .collect(),
        dropped: case.dropped.iter().map(|path| path.text.clone()).collect(),
        expected: case.expect.value,
        span: case.span,
    }
}
