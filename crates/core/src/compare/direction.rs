//! Which way of a measure is better, from the rules alone: nothing is called better that no rule asks for.

use super::{Better, Way};
use crate::measure::{ObjectKind, Spec};
use crate::review::Situation;
use crate::rule::{
    Formula, FormulaKind, Function, Operator, Rule, Rulebook, Scope, Truth, evaluate,
    judge_condition,
};

/// The object that a measure is read for.
pub(super) type Object = Option<(ObjectKind, usize)>;

/// The rules that measure something here: those whose condition is not known to be false.
pub(super) fn rules_on<'r>(
    spec: &'static Spec,
    rulebook: &'r Rulebook,
    situation: &Situation,
    object: Object,
) -> Vec<&'r Rule> {
    let applies = |rule: &&Rule| {
        let condition = rule.when.as_ref();
        let truth = condition.map(|condition| judge_condition(condition, situation, object));
        !matches!(truth, Some(Truth::False))
    };
    rulebook.rules.iter().filter(|rule| reads(&rule.measure, spec)).filter(applies).collect()
}

/// What the rules on a measure say together.
///
/// A rule counts that measures it alone. One that measures it within a formula, with a baseline or with another
/// measure, makes the way unknown: which of two values such a formula likes better hangs on the rest of it.
pub(super) fn better(rules: &[&Rule]) -> Option<Better> {
    if !rules.iter().all(|rule| matches!(rule.measure.kind, FormulaKind::Measure(_))) {
        return None;
    }
    let asks_more = rules.iter().any(|rule| rule.at_least.is_some());
    let asks_less = rules.iter().any(|rule| rule.at_most.is_some());
    let way = match (asks_more, asks_less) {
        (true, true) => Way::Band,
        (true, false) => Way::More,
        (false, true) => Way::Less,
        (false, false) => return None,
    };
    Some(Better { way, by: rules.iter().map(|rule| rule.doc.id.text.clone()).collect() })
}

/// What is left to the limits that are not the same for every pan: where more is better of a measure, the room to a
/// limit that grew as well may have shrunk.
pub(super) fn moving_margins(rules: &[&Rule]) -> Vec<Formula> {
    let minus = |left: &Formula, right: &Formula| {
        let kind = FormulaKind::Binary(
            Operator::Subtract,
            Box::new(left.clone()),
            Box::new(right.clone()),
        );
        let dimension = left.dimension.difference();
        Formula { kind, dimension, each: left.each.or(right.each), ..left.clone() }
    };
    let moves = |limit: &&Formula| reads_any(limit) && !reads_baseline(limit);
    let margins = |rule: &&Rule| {
        let low = rule.at_least.as_ref().filter(moves).map(|limit| minus(&rule.measure, limit));
        let high = rule.at_most.as_ref().filter(moves).map(|limit| minus(limit, &rule.measure));
        [low, high]
    };
    rules.iter().flat_map(margins).flatten().collect()
}

/// By how much a value lies outside the limits that the rules set here; 0 within them, nothing where a limit
/// is not known.
pub(super) fn outside(
    value: f64,
    rules: &[&Rule],
    situation: &Situation,
    object: Object,
) -> Option<f64> {
    let limit =
        |formula: &Formula| evaluate(formula, situation as &dyn Scope, object).ok()?.bounds.value();
    let mut most = 0.0_f64;
    for rule in rules {
        let low = rule.at_least.as_ref().map(|formula| limit(formula).map(|low| low - value));
        let high = rule.at_most.as_ref().map(|formula| limit(formula).map(|high| value - high));
        for beyond in [low, high].into_iter().flatten() {
            let beyond = beyond?;
            if beyond > most {
                most = beyond;
            }
        }
    }
    Some(most)
}

/// Whether a formula reads this measure of the pan itself.
fn reads(formula: &Formula, spec: &'static Spec) -> bool {
    any(formula, &|one| matches!(&one.kind, FormulaKind::Measure(found) if found.name == spec.name))
}

fn reads_any(formula: &Formula) -> bool {
    any(formula, &|one| matches!(one.kind, FormulaKind::Measure(_)))
}

fn reads_baseline(formula: &Formula) -> bool {
    any(formula, &is_of_baselines)
}

fn is_of_baselines(formula: &Formula) -> bool {
    matches!(formula.kind, FormulaKind::Call(Function::Baseline | Function::Spread, _))
}

/// Whether a part of a formula is such; what is read of baselines is not looked into.
fn any(formula: &Formula, is: &dyn Fn(&Formula) -> bool) -> bool {
    if is(formula) {
        return true;
    }
    match &formula.kind {
        _ if is_of_baselines(formula) => false,
        FormulaKind::Number(_) | FormulaKind::Measure(_) => false,
        FormulaKind::Negative(inner) => any(inner, is),
        FormulaKind::Binary(_, left, right) => any(left, is) || any(right, is),
        FormulaKind::Call(_, arguments) => arguments.iter().any(|one| any(one, is)),
    }
}
