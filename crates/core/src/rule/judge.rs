//! Whether a condition holds, with three truths.
//!
//! Kleene's strong logic: `and` is false as soon as one test is, `or` true as soon as one clause is;
//! otherwise what is unknown stays unknown and names everything that would settle it.

use super::evaluate::joined;
use super::{Condition, DocumentPath, Formula, Scope, Test, TestKind, Truth, evaluate};
use crate::measure::{ObjectKind, Unknown};

/// Whether a condition holds; `object` is the one the rule is read for, if any.
pub fn judge_condition(
    condition: &Condition,
    scope: &dyn Scope,
    object: Option<(ObjectKind, usize)>,
) -> Truth {
    any(condition.clauses.iter().map(|clause| every(clause, scope, object)))
}

fn every(tests: &[Test], scope: &dyn Scope, object: Option<(ObjectKind, usize)>) -> Truth {
    not(any(tests.iter().map(|test| not(judge_test(test, scope, object)))))
}

/// Whether one test of a condition holds, its `not` included.
pub(crate) fn judge_test(
    test: &Test,
    scope: &dyn Scope,
    object: Option<(ObjectKind, usize)>,
) -> Truth {
    let truth = match &test.kind {
        TestKind::Given(path) => match concrete(path, scope, object) {
            Ok(path) => scope.given(&path),
            Err(unknown) => Truth::Unknown(unknown),
        },
        TestKind::Is(path, word) => match concrete(path, scope, object) {
            Ok(path) => has_word(&path, word, scope),
            Err(unknown) => Truth::Unknown(unknown),
        },
        TestKind::AtLeast(left, right) => compared(left, right, scope, object),
        TestKind::AtMost(left, right) => compared(right, left, scope, object),
        TestKind::Group(inner) => judge_condition(inner, scope, object),
    };
    if test.negated { not(truth) } else { truth }
}

/// The path with the object's name in it.
///
/// # Errors
/// Says that no object is chosen, or that the family is left out.
pub(crate) fn concrete(
    path: &DocumentPath,
    scope: &dyn Scope,
    object: Option<(ObjectKind, usize)>,
) -> Result<String, Unknown> {
    let Some(each) = path.each else { return Ok(path.written.clone()) };
    let names = scope.objects(each.kind)?;
    let place = object.filter(|(kind, _)| *kind == each.kind).map(|(_, place)| place);
    match place.and_then(|place| names.get(place)) {
        Some(name) => Ok(path.for_object(name)),
        None => Err(Unknown::because(format!("{} speaks of no object here", path.written))),
    }
}

fn has_word(path: &str, word: &str, scope: &dyn Scope) -> Truth {
    match scope.word(path) {
        Ok(Some(found)) if found == word => Truth::True,
        Ok(_) => Truth::False,
        Err(missing) => Truth::Unknown(Unknown::not_stated(missing)),
    }
}

/// Whether the first is at least the second.
fn compared(
    larger: &Formula,
    smaller: &Formula,
    scope: &dyn Scope,
    object: Option<(ObjectKind, usize)>,
) -> Truth {
    match (evaluate(larger, scope, object), evaluate(smaller, scope, object)) {
        (Ok(a), Ok(b)) if a.bounds.low >= b.bounds.high => Truth::True,
        (Ok(a), Ok(b)) if a.bounds.high < b.bounds.low => Truth::False,
        (Ok(a), Ok(b)) => {
            let reason = format!("it cannot be said whether {larger} is at least {smaller}");
            let mut all = vec![Unknown::because(reason)];
            all.extend(a.unread);
            all.extend(b.unread);
            Truth::Unknown(joined(all))
        }
        (a, b) => Truth::Unknown(joined(a.err().into_iter().chain(b.err()).collect())),
    }
}

fn any(truths: impl Iterator<Item = Truth>) -> Truth {
    let mut unknown = Vec::new();
    for truth in truths {
        match truth {
            Truth::True => return Truth::True,
            Truth::False => {}
            Truth::Unknown(reason) => unknown.push(reason),
        }
    }
    if unknown.is_empty() { Truth::False } else { Truth::Unknown(joined(unknown)) }
}

fn not(truth: Truth) -> Truth {
    match truth {
        Truth::True => Truth::False,
        Truth::False => Truth::True,
        unknown @ Truth::Unknown(_) => unknown,
    }
}
