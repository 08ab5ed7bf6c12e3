//! Changes of formulas and conditions as trees, leaf by leaf.

use crate::document::rulebook::RuleDoc;
use crate::quantity::Unit;
use crate::rule::{Condition, Formula, FormulaKind, Number, Rule, Test, TestKind, resolve_one};
use crate::source::Span;

/// A part of a rule that holds formulas.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum RulePart {
    Measure,
    AtLeast,
    AtMost,
    When,
}

impl RulePart {
    pub(super) const ALL: [Self; 4] = [Self::Measure, Self::AtLeast, Self::AtMost, Self::When];

    /// Its key in the rule.
    pub(super) fn key(self) -> &'static str {
        match self {
            Self::Measure => "measure",
            Self::AtLeast => "at_least",
            Self::AtMost => "at_most",
            Self::When => "when",
        }
    }
}

/// A number of a rule.
#[derive(Debug, Clone)]
pub(super) struct NumberAt {
    /// Where it is found again.
    pub(super) part: RulePart,
    index: usize,
    /// As it is.
    pub(super) number: Number,
    /// Where it is written.
    pub(super) span: Span,
}

/// Every number of a rule, in the order measure, limits, condition.
pub(super) fn numbers(rule: &Rule) -> Vec<NumberAt> {
    let mut all = Vec::new();
    for part in RulePart::ALL {
        let found = match part {
            RulePart::Measure => Some(rule.measure.numbers()),
            RulePart::AtLeast => rule.at_least.as_ref().map(Formula::numbers),
            RulePart::AtMost => rule.at_most.as_ref().map(Formula::numbers),
            RulePart::When => rule.when.as_ref().map(Condition::numbers),
        };
        let found = found.unwrap_or_default().into_iter().enumerate();
        all.extend(found.map(|(index, (number, span))| NumberAt {
            part,
            index,
            number: number.clone(),
            span,
        }));
    }
    all
}

/// The rule with one number changed.
pub(super) fn with_number(rule: &Rule, at: &NumberAt, to: &Number) -> Rule {
    let mut left = at.index;
    change_leaves(rule, at.part, &mut |leaf| {
        if !matches!(leaf.kind, FormulaKind::Number(_)) {
            return None;
        }
        let hit = left == 0;
        left = left.wrapping_sub(1);
        hit.then(|| Formula { kind: FormulaKind::Number(to.clone()), ..leaf.clone() })
    })
}

/// The number with another value, in SI base units, in the unit as written.
pub(super) fn moved(number: &Number, value: f64) -> Number {
    Number { value, written: in_unit(value, &number.unit, 12), unit: number.unit.clone() }
}

/// A value in a unit with so many significant digits, none of them an idle 0.
pub(super) fn in_unit(value: f64, unit: &Unit, digits: usize) -> String {
    let text = plain(unit.from_si(value), digits);
    if unit.symbol.is_empty() { text } else { format!("{text} {}", unit.symbol) }
}

/// A number with so many significant digits.
pub(super) fn plain(value: f64, digits: usize) -> String {
    let places = digits.saturating_sub(1);
    let rounded: f64 = format!("{value:.places$e}").parse().unwrap_or(value);
    // Adding 0 turns a negative zero into a zero.
    format!("{}", rounded + 0.0)
}

/// The rule with some parts of the formulas under one key replaced; a part that is replaced is not looked into.
pub(super) fn change_leaves(
    rule: &Rule,
    part: RulePart,
    change: &mut dyn FnMut(&Formula) -> Option<Formula>,
) -> Rule {
    let mut rule = rule.clone();
    match part {
        RulePart::Measure => rule.measure = rewritten(&rule.measure, change),
        RulePart::AtLeast => rule.at_least = rule.at_least.map(|f| rewritten(&f, change)),
        RulePart::AtMost => rule.at_most = rule.at_most.map(|f| rewritten(&f, change)),
        RulePart::When => rule.when = rule.when.map(|c| rewritten_condition(&c, change)),
    }
    rule
}

fn rewritten(formula: &Formula, change: &mut dyn FnMut(&Formula) -> Option<Formula>) -> Formula {
    if let Some(changed) = change(formula) {
        return changed;
    }
    let mut inner = |part: &Formula| Box::new(rewritten(part, change));
    let kind = match &formula.kind {
        kind @ (FormulaKind::Number(_) | FormulaKind::Measure(_)) => kind.clone(),
        FormulaKind::Negative(part) => FormulaKind::Negative(inner(part)),
        FormulaKind::Binary(operator, left, right) => {
            FormulaKind::Binary(*operator, inner(left), inner(right))
        }
        FormulaKind::Call(function, arguments) => {
            FormulaKind::Call(*function, arguments.iter().map(|a| *inner(a)).collect())
        }
    };
    Formula { kind, ..formula.clone() }
}

fn rewritten_condition(
    condition: &Condition,
    change: &mut dyn FnMut(&Formula) -> Option<Formula>,
) -> Condition {
    let mut test = |test: &Test| {
        let kind = match &test.kind {
            kind @ (TestKind::Given(_) | TestKind::Is(..)) => kind.clone(),
            TestKind::AtLeast(a, b) => {
                TestKind::AtLeast(rewritten(a, change), rewritten(b, change))
            }
            TestKind::AtMost(a, b) => TestKind::AtMost(rewritten(a, change), rewritten(b, change)),
            TestKind::Group(inner) => TestKind::Group(rewritten_condition(inner, change)),
        };
        Test { kind, ..test.clone() }
    };
    let clauses = condition.clauses.iter().map(|tests| tests.iter().map(&mut test).collect());
    Condition { clauses: clauses.collect(), span: condition.span }
}

/// The altered rule written out and read again as a file would be, so that what cannot stand in a rulebook is
/// refused in the reader's words.
pub(super) fn read_again(rule: &Rule, change: impl FnOnce(&mut RuleDoc)) -> Result<Rule, String> {
    let mut doc = bare(rule).doc;
    doc.measure.text = rule.measure.to_string();
    for (scalar, formula) in
        [(&mut doc.at_least, &rule.at_least), (&mut doc.at_most, &rule.at_most)]
    {
        if let (Some(scalar), Some(formula)) = (scalar.as_mut(), formula) {
            scalar.text = formula.to_string();
        }
    }
    match (&rule.when, doc.when.as_mut()) {
        (Some(condition), Some(scalar)) => scalar.text = condition.to_string(),
        _ => doc.when = None,
    }
    // The texts no longer stand in the source letter by letter.
    let texts =
        [Some(&mut doc.measure), doc.at_least.as_mut(), doc.at_most.as_mut(), doc.when.as_mut()];
    for scalar in texts.into_iter().flatten() {
        scalar.verbatim_at = None;
    }
    change(&mut doc);
    let mut problems = Vec::new();
    let read = resolve_one(&doc, rule.decision, &mut problems);
    read.ok_or_else(|| problems.first().map_or_else(String::new, |problem| problem.message.clone()))
}

/// The rule without what is said about proving it.
pub(super) fn bare(rule: &Rule) -> Rule {
    let mut rule = rule.clone();
    rule.doc.cases.clear();
    rule.doc.equivalent.clear();
    rule.doc.pin = None;
    rule
}
