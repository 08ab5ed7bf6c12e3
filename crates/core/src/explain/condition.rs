//! The truth of a condition, and of each test in it.

use super::term::{self, Object};
use super::{ConditionSeen, LooksAt, TestSeen};
use crate::review::Sweep;
use crate::rule::{
    Condition, DocumentPath, Formula, Test, TestKind, concrete, judge_condition, judge_test,
};

/// A condition as it is seen on a pan.
pub(super) fn seen(condition: &Condition, sweep: &Sweep, object: Object) -> ConditionSeen {
    let clause = |tests: &Vec<Test>| tests.iter().map(|t| test_seen(t, sweep, object)).collect();
    ConditionSeen {
        text: condition.to_string(),
        span: condition.span,
        truth: judge_condition(condition, &sweep.nominal, object),
        clauses: condition.clauses.iter().map(clause).collect(),
    }
}

fn test_seen(test: &Test, sweep: &Sweep, object: Object) -> TestSeen {
    let formulas = |left: &Formula, right: &Formula| {
        let of = |formula| term::of(formula, sweep, object);
        LooksAt::Formulas(Box::new([of(left), of(right)]))
    };
    TestSeen {
        text: test.to_string(),
        span: test.span,
        truth: judge_test(test, &sweep.nominal, object),
        looks_at: match &test.kind {
            TestKind::Given(path) | TestKind::Is(path, _) => at_path(path, sweep, object),
            TestKind::AtLeast(left, right) | TestKind::AtMost(left, right) => formulas(left, right),
            TestKind::Group(inner) => LooksAt::Condition(seen(inner, sweep, object)),
        },
    }
}

fn at_path(path: &DocumentPath, sweep: &Sweep, object: Object) -> LooksAt {
    let path = concrete(path, &sweep.nominal, object).unwrap_or_else(|_| path.written.clone());
    let stands = sweep.nominal.own.stands(&path);
    LooksAt::Path { path, stands }
}
