//! What several readers say: wrong shapes, empty things, texts cut at a comma, lists of words.

use super::cursor::Spot;
use crate::source::{Code, Diagnostic, Span};

/// An empty mapping or list.
pub(super) fn empty(spot: &Spot<'_>) -> Diagnostic {
    Diagnostic::error(Code::WrongShape, spot.node.span, format!("`{}` is empty", spot.name))
        .help("write `none` if there is none, or leave the key out")
}

/// A key that is an empty text.
pub(super) fn no_name(spot: &Spot<'_>, span: Span) -> Diagnostic {
    let message = format!("in `{}` a key has no name", spot.name);
    Diagnostic::error(Code::WrongShape, span, message).help("write its name before the colon")
}

/// A key with nothing after it.
pub(super) fn nothing_said(key: &str, span: Span) -> Diagnostic {
    let message = format!("nothing stands after `{key}`");
    let problem = Diagnostic::error(Code::WrongShape, span, message);
    problem.help(cut_off(key).unwrap_or("write `none` if there is none, or leave the key out"))
}

/// Something of another shape than the one expected.
pub(super) fn wrong_shape(spot: &Spot<'_>, expected: &str) -> Diagnostic {
    let message = format!("`{}` is {expected}, and this is {}", spot.name, spot.node.shape());
    let problem = Diagnostic::error(Code::WrongShape, spot.node.span, message);
    let word = spot.node.scalar().map(|s| s.text.to_lowercase());
    let denied = word.is_some_and(|w| {
        matches!(w.as_str(), "no" | "none" | "false" | "null" | "nil" | "0" | "-" | "n/a")
    });
    if denied { problem.help("write `none` if there is none") } else { problem }
}

/// What to do about a key or item that looks like the tail of a quantity or formula that flow style
/// cut at a comma.
pub(super) fn cut_off(text: &str) -> Option<&'static str> {
    let opened = text.matches('(').count();
    let closed = text.matches(')').count();
    let number_first =
        text.trim_start_matches(['+', '-', '±']).starts_with(|c: char| c.is_ascii_digit());
    (opened != closed || number_first || text.contains(" at least ") || text.contains(" at most "))
        .then_some(
            "this looks like the rest of a quantity or formula that was cut at a comma: quote it, or \
             write this mapping over several lines; a decimal is written with a point",
        )
}

/// Names in a row: `a`, `b` and `c`.
pub(super) fn listed(words: &[&str]) -> String {
    joined(words, "and")
}

/// Names to choose from: `a`, `b` or `c`.
pub(super) fn either(words: &[&str]) -> String {
    joined(words, "or")
}

fn joined(words: &[&str], last_link: &str) -> String {
    match words {
        [] => String::new(),
        [only] => format!("`{only}`"),
        [first @ .., last] => {
            let first: Vec<String> = first.iter().map(|w| format!("`{w}`")).collect();
            format!("{} {last_link} `{last}`", first.join(", "))
        }
    }
}

pub(super) fn lower_first(sentence: &str) -> String {
    let mut letters = sentence.trim_end_matches('.').chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
