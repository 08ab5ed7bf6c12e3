//! Reads what a rulebook says of the one that it builds on, and what it changes of its rules.

use super::cursor::{Context, Cursor, Found, Spot, entries, mapping};
use super::message::{nothing_said, wrong_shape};
use super::rulebook::{FORCES, band, cases, decision, formula, id_is_good, pin, reasons};
use super::value::{text, texts, word};
use crate::document::Text;
use crate::document::rulebook::{BuildsOn, InsteadDoc, Replaced};
use crate::source::{Code, Diagnostic, Value};

const BUILD_ON: &str =
    "write `builds_on: { book: built-in }`, or the path of a rulebook in place of `built-in`";

/// `builds_on`.
pub(super) fn builds_on(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<BuildsOn> {
    if !matches!(spot.node.value, Value::Mapping(_)) {
        context.report(wrong_shape(spot, "a mapping").help(BUILD_ON));
        return None;
    }
    mapping(|c| {
        let books = c.required("book", texts);
        let edition = c.optional("edition", edition);
        Some(BuildsOn { books: books?, edition, span: c.span })
    })(context, spot)
}

/// `instead` and `dropped`, which have a meaning only against a rulebook to build on.
pub(super) fn changes(c: &mut Cursor<'_, '_>) -> (Vec<InsteadDoc>, Vec<(Text, Text)>) {
    if c.key_span("builds_on").is_none() {
        for key in ["instead", "dropped"] {
            if let Some(span) = c.key_span(key) {
                let message = format!("`{key}` stands in a file that builds on no rulebook");
                let problem = Diagnostic::error(Code::MissingKey, span, message);
                c.context.report(problem.help(BUILD_ON));
            }
        }
    }
    let instead = c.optional("instead", |context, spot| by_id(context, spot, instead));
    let dropped = c.optional("dropped", |context, spot| {
        by_id(context, spot, |context, spot, id| Some((id, text(context, spot)?)))
    });
    (instead.unwrap_or_default(), dropped.unwrap_or_default())
}

/// The digest of a rulebook, as the program prints it.
fn edition(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Text> {
    let written = text(context, spot)?;
    let is_digit = |byte: u8| matches!(byte, b'0'..=b'9' | b'a'..=b'f');
    if written.text.len() == 64 && written.text.bytes().all(is_digit) {
        return Some(written);
    }
    let message = "an edition is a digest of 64 digits and letters from `a` to `f`";
    let problem = Diagnostic::error(Code::WrongEdition, written.span, message);
    context.report(problem.help("copy it from the last lines of `sumpwright prove`"));
    None
}

/// What stands under ids of rules.
fn by_id<T>(
    context: &mut Context<'_>,
    spot: &Spot<'_>,
    read: impl Fn(&mut Context<'_>, &Spot<'_>, Text) -> Option<T>,
) -> Option<Vec<T>> {
    let mut all = Vec::new();
    for entry in entries(context, spot)? {
        let key = &entry.key;
        if matches!(entry.value.value, Value::Null) {
            let said = nothing_said(&key.text, key.span);
            context.report(said.help("say why, in a sentence"));
            continue;
        }
        if !id_is_good(context, key) {
            continue;
        }
        let path = format!("{}.*", spot.path);
        let inner = Spot { node: &entry.value, path, name: key.text.clone(), key: key.span };
        all.extend(read(context, &inner, Text { text: key.text.clone(), span: key.span }));
    }
    Some(all)
}

/// What stands in place of parts of a rule.
fn instead(context: &mut Context<'_>, spot: &Spot<'_>, id: Text) -> Option<InsteadDoc> {
    mapping(|c| {
        let reason = c.required("reason", text);
        let (at_least, at_most) = (replaced(c, "at_least"), replaced(c, "at_most"));
        let within = c.optional("within", band);
        for key in ["at_least", "at_most"] {
            c.exclude("within", key, "keep `within`, or write `at_least` and `at_most`");
        }
        let is_band = within.is_some();
        let (at_least, at_most) = match within {
            Some((low, high)) => (Some(Replaced::By(low)), Some(Replaced::By(high))),
            None => (at_least, at_most),
        };
        let force = c.optional("force", word(FORCES));
        let when = replaced(c, "when");
        let decision = c.optional("decision", decision);
        let pin = c.optional("pin", pin);
        let cases = c.optional("cases", cases).unwrap_or_default();
        let equivalent = c.optional("equivalent", reasons).unwrap_or_default();
        let reason = reason?;
        Some(InsteadDoc {
            id,
            reason,
            force,
            at_least,
            at_most,
            is_band,
            when,
            decision,
            pin,
            cases,
            equivalent,
            span: c.span,
        })
    })(context, spot)
}

/// Another formula, or `none` where it is taken away.
fn replaced(c: &mut Cursor<'_, '_>, key: &'static str) -> Option<Replaced> {
    match c.find(key) {
        Found::Absent(span) => Some(Replaced::TakenAway(span)),
        Found::Here(spot) => formula(c.context, &spot).map(Replaced::By),
        Found::LeftOut | Found::Unusable => None,
    }
}
