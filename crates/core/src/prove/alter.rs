//! Every alteration of a rule that its cases have to notice.

use super::AlterationKind;
use super::case::Trial;
use super::edit::{
    NumberAt, RulePart, bare, change_leaves, in_unit, moved, numbers, read_again, with_number,
};
use super::notice::Mutant;
use crate::document::rulebook::{Force, RuleDoc};
use crate::measure::{MEASURES, ObjectKind, Spec};
use crate::quantity::Unit;
use crate::rule::{
    Condition, Formula, FormulaKind, Function, Number, Rule, Test, TestKind, evaluate,
};

/// An alteration before it is tried.
#[derive(Debug)]
pub(super) struct Altered {
    pub(super) words: String,
    pub(super) kind: AlterationKind,
    /// The altered rule, or why there is none.
    pub(super) mutant: Result<Mutant, String>,
}

/// All of them, in a fixed order; no two have the same words.
pub(super) fn alterations(rule: &Rule, pins: &[Option<f64>], trials: &[Trial]) -> Vec<Altered> {
    let mut list = List { rule: bare(rule), all: Vec::new() };
    let numbers = numbers(rule);
    for (number, pin) in numbers.iter().zip(pins) {
        list.number(number, *pin);
    }
    list.comparisons();
    list.condition();
    for part in RulePart::ALL {
        list.measures(part);
        list.baselines(part, trials);
    }
    list.force();
    for number in &numbers {
        list.units(number);
    }
    let whole = [
        (AlterationKind::Rule, "the rule left out", Mutant::LeftOut),
        (AlterationKind::Uncertainty, "every uncertainty taken as 0", Mutant::Uncertainty(0.0)),
        (AlterationKind::Uncertainty, "every uncertainty doubled", Mutant::Uncertainty(2.0)),
        (AlterationKind::Unknown, "what is not known taken as conforming", Mutant::UnknownConforms),
    ];
    for (kind, words, mutant) in whole {
        list.push(kind, words, Ok(mutant));
    }
    list.all
}

struct List {
    rule: Rule,
    all: Vec<Altered>,
}

impl List {
    /// Words that are taken already, as where one measure stands twice in a formula, get a number.
    fn push(&mut self, kind: AlterationKind, words: &str, mutant: Result<Mutant, String>) {
        let taken = |text: &str| self.all.iter().any(|altered| altered.words == text);
        let mut own = words.to_owned();
        let mut turn = 2;
        while taken(&own) {
            own = format!("{words} ({turn})");
            turn += 1;
        }
        self.all.push(Altered { words: own, kind, mutant });
    }

    fn altered(&mut self, kind: AlterationKind, words: &str, rule: &Rule) {
        let mutant = read_again(rule, |_| ()).map(|rule| Mutant::Rule(Box::new(rule)));
        self.push(kind, words, mutant);
    }

    fn in_document(
        &mut self,
        kind: AlterationKind,
        words: &str,
        change: impl FnOnce(&mut RuleDoc),
    ) {
        let mutant = read_again(&self.rule, change).map(|rule| Mutant::Rule(Box::new(rule)));
        self.push(kind, words, mutant);
    }

    /// A number moved by its pin.
    fn number(&mut self, at: &NumberAt, pin: Option<f64>) {
        let Some(pin) = pin else { return };
        for (word, by) in [("raised", pin), ("lowered", -pin)] {
            let to = moved(&at.number, at.number.value + by);
            let words =
                format!("{} in {} {word} to {}", at.number.written, at.part.key(), to.written);
            let rule = with_number(&self.rule, at, &to);
            self.altered(AlterationKind::Number, &words, &rule);
        }
    }

    /// At least for at most, in the limits and in the condition; one limit of two left out.
    fn comparisons(&mut self) {
        let kind = AlterationKind::Comparison;
        let swap = |doc: &mut RuleDoc| std::mem::swap(&mut doc.at_least, &mut doc.at_most);
        match (self.rule.at_least.is_some(), self.rule.at_most.is_some()) {
            (true, true) => {
                self.in_document(kind, "at_least and at_most exchanged", swap);
                self.in_document(kind, "at_least left out", |doc| doc.at_least = None);
                self.in_document(kind, "at_most left out", |doc| doc.at_most = None);
            }
            (true, false) => self.in_document(kind, "at_least turned into at_most", swap),
            _ => self.in_document(kind, "at_most turned into at_least", swap),
        }
    }

    /// The condition and each test in it left out and negated; comparisons in it turned round.
    fn condition(&mut self) {
        let kind = AlterationKind::Condition;
        let Some(condition) = self.rule.when.clone() else { return };
        self.with_condition(kind, "the condition left out", None);
        let tests = count(&condition);
        if tests > 1 {
            let group = TestKind::Group(condition.clone());
            let whole = Test { negated: true, kind: group, span: condition.span };
            let negated = Condition { clauses: vec![vec![whole]], span: condition.span };
            self.with_condition(kind, "the condition negated", Some(negated));
        }
        for index in 0..tests {
            let Some(text) = nth(&condition, index).map(ToString::to_string) else { continue };
            if tests > 1 {
                let without = on_test(&condition, index, |_| None);
                self.with_condition(kind, &format!("`{text}` left out of the condition"), without);
            }
            let negate = |test: &Test| Some(Test { negated: !test.negated, ..test.clone() });
            let words = format!("`{text}` negated in the condition");
            self.with_condition(kind, &words, on_test(&condition, index, negate));
            let turned = on_test(&condition, index, turned_round);
            if nth(&condition, index).and_then(turned_round).is_some() {
                let words = format!("`{text}` turned round in the condition");
                self.with_condition(AlterationKind::Comparison, &words, turned);
            }
        }
    }

    fn with_condition(&mut self, kind: AlterationKind, words: &str, when: Option<Condition>) {
        let rule = Rule { when, ..self.rule.clone() };
        self.altered(kind, words, &rule);
    }

    /// Each measure for each other of its dimension and kind.
    fn measures(&mut self, part: RulePart) {
        for (index, spec) in measures(&self.rule, part).into_iter().enumerate() {
            let same = |other: &&Spec| {
                other.name != spec.name
                    && other.dimension == spec.dimension
                    && other.kind == spec.kind
            };
            for other in MEASURES.iter().filter(same) {
                let mut left = index;
                let rule = change_leaves(&self.rule, part, &mut |leaf| {
                    let FormulaKind::Measure(_) = leaf.kind else { return None };
                    let hit = left == 0;
                    left = left.wrapping_sub(1);
                    hit.then(|| Formula { kind: FormulaKind::Measure(other), ..leaf.clone() })
                });
                let words = format!("{} in {} replaced by {}", spec.name, part.key(), other.name);
                self.altered(AlterationKind::Measure, &words, &rule);
            }
        }
    }

    /// Each `baseline( )` and `spread( )` for its value in the first case that has one.
    fn baselines(&mut self, part: RulePart, trials: &[Trial]) {
        for (index, call) in calls(&self.rule, part).into_iter().enumerate() {
            let Some(value) = trials.iter().find_map(|trial| value_in(&self.rule, &call, trial))
            else {
                continue;
            };
            let unit = Unit::of(call.dimension);
            // The rule is altered by the value as it is, and not as it is shown.
            let shown = in_unit(value, &unit, 5);
            let number = Number { value, written: in_unit(value, &unit, 17), unit };
            let mut left = index;
            let rule = change_leaves(&self.rule, part, &mut |leaf| {
                if !is_baseline(leaf) {
                    return None;
                }
                let hit = left == 0;
                left = left.wrapping_sub(1);
                let kind = FormulaKind::Number(number.clone());
                hit.then(|| Formula { kind, each: None, ..leaf.clone() })
            });
            let words = format!("{call} in {} replaced by {shown}", part.key());
            self.altered(AlterationKind::Baseline, &words, &rule);
        }
    }

    fn force(&mut self) {
        let (words, to) = match self.rule.doc.force.value {
            Force::Shall => ("shall turned into should", Force::Should),
            Force::Should => ("should turned into shall", Force::Shall),
        };
        self.in_document(AlterationKind::Force, words, |doc| doc.force.value = to);
    }

    /// The unit of a number for the next larger and the next smaller of its dimension.
    fn units(&mut self, at: &NumberAt) {
        let number = &at.number;
        for unit in number.unit.neighbours() {
            let value = unit.to_si(number.unit.from_si(number.value));
            let figures = number.written.split(' ').next().unwrap_or_default();
            let written = format!("{figures} {}", unit.symbol);
            let words = format!("{} in {} read as {written}", number.written, at.part.key());
            let rule = with_number(&self.rule, at, &Number { value, unit, written });
            self.altered(AlterationKind::Unit, &words, &rule);
        }
    }
}

/// The measures under a key, in the order written.
fn measures(rule: &Rule, part: RulePart) -> Vec<&'static Spec> {
    let mut found = Vec::new();
    change_leaves(rule, part, &mut |leaf| {
        if let FormulaKind::Measure(spec) = leaf.kind {
            found.push(spec);
        }
        None
    });
    found
}

/// The calls of `baseline( )` and `spread( )` under a key.
fn calls(rule: &Rule, part: RulePart) -> Vec<Formula> {
    let mut found = Vec::new();
    change_leaves(rule, part, &mut |leaf| {
        if is_baseline(leaf) {
            found.push(leaf.clone());
        }
        None
    });
    found
}

fn is_baseline(formula: &Formula) -> bool {
    matches!(formula.kind, FormulaKind::Call(Function::Baseline | Function::Spread, _))
}

/// What a formula comes to in a case, where that is one value.
fn value_in(rule: &Rule, formula: &Formula, trial: &Trial) -> Option<f64> {
    let object = (rule.kind != ObjectKind::Pan).then_some((rule.kind, 0));
    evaluate(formula, &trial.sweep.nominal, object).ok()?.bounds.value()
}

/// How many tests a condition has; a group counts, and so do those in it.
fn count(condition: &Condition) -> usize {
    let tests = condition.clauses.iter().flatten();
    tests
        .map(|test| if let TestKind::Group(inner) = &test.kind { 1 + count(inner) } else { 1 })
        .sum()
}

fn nth(condition: &Condition, index: usize) -> Option<&Test> {
    let mut left = index;
    for test in condition.clauses.iter().flatten() {
        if left == 0 {
            return Some(test);
        }
        left -= 1;
        if let TestKind::Group(inner) = &test.kind {
            let inside = count(inner);
            if left < inside {
                return nth(inner, left);
            }
            left -= inside;
        }
    }
    None
}

/// The condition with one test changed or left out; nothing where no test is left.
fn on_test(
    condition: &Condition,
    index: usize,
    change: impl Fn(&Test) -> Option<Test> + Copy,
) -> Option<Condition> {
    let mut left = Some(index);
    let mut clauses = Vec::new();
    for tests in &condition.clauses {
        let mut kept = Vec::new();
        for test in tests {
            let inside = if let TestKind::Group(inner) = &test.kind { count(inner) } else { 0 };
            let own = match (left, &test.kind) {
                (Some(0), _) => change(test),
                (Some(n), TestKind::Group(inner)) if n <= inside => on_test(inner, n - 1, change)
                    .map(|inner| Test { kind: TestKind::Group(inner), ..test.clone() }),
                _ => Some(test.clone()),
            };
            kept.extend(own);
            left = left.and_then(|n| n.checked_sub(1 + inside));
        }
        if !kept.is_empty() {
            clauses.push(kept);
        }
    }
    (!clauses.is_empty()).then_some(Condition { clauses, span: condition.span })
}

fn turned_round(test: &Test) -> Option<Test> {
    let kind = match &test.kind {
        TestKind::AtLeast(a, b) => TestKind::AtMost(a.clone(), b.clone()),
        TestKind::AtMost(a, b) => TestKind::AtLeast(a.clone(), b.clone()),
        TestKind::Given(_) | TestKind::Is(..) | TestKind::Group(_) => return None,
    };
    Some(Test { kind, ..test.clone() })
}
