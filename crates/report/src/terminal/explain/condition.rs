//! A condition with its truth, and that of each test in it.

use super::chain;
use crate::place;
use crate::scale::Scale;
use crate::terminal::page::Page;
use sumpwright_core::explain::{ConditionSeen, LooksAt, Term, TestSeen};
use sumpwright_core::rule::Truth;
use sumpwright_core::source::{Sources, Span};

/// Writes a condition, then its tests where it is more than one.
pub(super) fn write(page: &mut Page, sources: &Sources, seen: &ConditionSeen) {
    let only = match seen.clauses.as_slice() {
        [clause] if clause.len() == 1 => clause.first(),
        _ => None,
    };
    if let Some(test) = only {
        page.row("condition", &told(sources, test));
        deeper(page, sources, test);
        return;
    }
    page.row("condition", &format!("{}: {}", seen.text, truth(&seen.truth)));
    tests(page, sources, seen, ["test", "or"]);
}

fn tests(page: &mut Page, sources: &Sources, seen: &ConditionSeen, [test_word, or]: [&str; 2]) {
    for (place, clause) in seen.clauses.iter().enumerate() {
        for (first, test) in clause.iter().enumerate() {
            let word = if place > 0 && first == 0 { or } else { test_word };
            page.row(word, &told(sources, test));
            deeper(page, sources, test);
        }
    }
}

fn deeper(page: &mut Page, sources: &Sources, test: &TestSeen) {
    if let LooksAt::Condition(inner) = &test.looks_at {
        tests(page, sources, inner, ["in it", "or in it"]);
    }
}

fn told(sources: &Sources, test: &TestSeen) -> String {
    let seen = match &test.looks_at {
        LooksAt::Path { path, stands } => match stands {
            Some(span) => {
                let renamed = if test.text.contains(path) { "" } else { &format!("{path}, ") };
                format!(" ({renamed}{})", stands_short(sources, *span))
            }
            // What is unknown names what is missing.
            None if matches!(test.truth, Truth::Unknown(_)) => String::new(),
            None => " (nothing stands there)".to_owned(),
        },
        LooksAt::Formulas(both) => {
            let [left, right] = both.as_ref();
            let values: Vec<_> = [left, right].into_iter().filter_map(value).collect();
            if values.is_empty() { String::new() } else { format!(" ({})", values.join(", ")) }
        }
        LooksAt::Condition(_) => String::new(),
    };
    format!("{}: {}{seen}", test.text, truth(&test.truth))
}

/// What stands at a place; a mapping or list by its place alone.
fn stands_short(sources: &Sources, span: Span) -> String {
    let span = place::clamp(sources, span);
    let (text, at) = (sources.slice(span), place::text(sources, span));
    if text.contains(['\n', '{', '[']) { at } else { format!("{text} at {at}") }
}

/// A side of a comparison with its value; nothing for a number, which says it already.
fn value(term: &Term) -> Option<String> {
    if !term.is_read {
        return None;
    }
    let size = term.reading.as_ref().map_or(0.0, |reading| reading.bounds.high);
    let scale = Scale::of_value(term.dimension, size);
    Some(format!("{} = {}", term.text, chain::reading(&term.reading, &scale)))
}

fn truth(truth: &Truth) -> String {
    match truth {
        Truth::True => "true".to_owned(),
        Truth::False => "false".to_owned(),
        Truth::Unknown(unknown) => format!("unknown, since {}", unknown.reason),
    }
}
