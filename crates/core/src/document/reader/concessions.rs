//! Reads a list of concessions.

use super::cursor::{Context, Cursor, Spot, entries, mapping};
use super::message::{cut_off, nothing_said};
use super::value::{count, path, scalar, text, texts, word};
use crate::document::Text;
use crate::document::concessions::{Bound, ConcessionDoc, ConcessionKind, ConcessionsDoc, Day};
use crate::document::date::Date;
use crate::quantity::{StatedUncertainty, parse_quantity};
use crate::source::{Code, Diagnostic, Value};

const KINDS: &[(&str, ConcessionKind)] = &[
    ("concession", ConcessionKind::Concession),
    ("deviation permit", ConcessionKind::DeviationPermit),
];
const ALSO: &[(&str, bool)] = &[("inconclusive", true)];

/// Words that hold the place of a sentence and say nothing.
const PLACEHOLDERS: [&str; 12] = [
    "todo", "tbd", "tba", "fixme", "xxx", "none", "n/a", "na", "unknown", "later", "reason", "name",
];

pub(super) fn concessions(c: &mut Cursor<'_, '_>) -> ConcessionsDoc {
    ConcessionsDoc {
        span: c.span,
        title: c.optional("title", text),
        accepted: c.required("accepted", accepted).unwrap_or_default(),
    }
}

/// Entries under their names, which are numbers of a register as often as words.
fn accepted(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Vec<ConcessionDoc>> {
    let mut read = Vec::new();
    for entry in entries(context, spot)? {
        let key = &entry.key;
        if matches!(entry.value.value, Value::Null) {
            context.report(nothing_said(&key.text, key.span));
            continue;
        }
        if let Some(cut) = cut_off(&key.text).filter(|_| !is_number(&key.text)) {
            let message = format!("`{}` cannot be the name of a concession", key.text);
            context.report(Diagnostic::error(Code::UnknownKey, key.span, message).help(cut));
            continue;
        }
        // A name may hold a dot, so it cannot be a word of the path.
        let path = format!("{}.*", spot.path);
        let inner = Spot { node: &entry.value, path, name: key.text.clone(), key: key.span };
        let name = Text { text: key.text.clone(), span: key.span };
        read.extend(mapping(|c| concession(c, name))(context, &inner));
    }
    Some(read)
}

/// `2026-14`: the number of a register.
fn is_number(name: &str) -> bool {
    name.bytes().all(|b| b.is_ascii_digit() || matches!(b, b'-' | b'/' | b'.'))
}

fn concession(c: &mut Cursor<'_, '_>, name: Text) -> Option<ConcessionDoc> {
    let kind = c.required("kind", word(KINDS));
    let rule = c.required("rule", text);
    let pan = c.required("pan", path);
    let object = c.optional("object", text);
    let bound = c.required("bound", bound);
    let also = c.optional("also", word(ALSO));
    let reason = c.required("reason", said_in_earnest);
    let signed = c.required("accepted_by", mapping(signature));
    let expires = c.required("expires", day);
    let quantity = c.optional("quantity", count);
    let serials = c.optional("serials", texts).unwrap_or_default();
    let purpose = c.optional("use", text);
    let (by, function, from) = signed?;
    let expires = expires?;
    if expires.date < from.date {
        let message = format!("it expires on {}, before it was accepted", expires.date);
        let problem = Diagnostic::error(Code::Contradiction, expires.span, message);
        c.context.report(problem.also(from.span, "accepted on this day"));
        return None;
    }
    Some(ConcessionDoc {
        name,
        kind: kind?,
        rule: rule?,
        pan: pan?,
        object,
        reason: reason?,
        by,
        function,
        from,
        bound: bound?,
        expires,
        also_inconclusive: also.is_some_and(|also| also.value),
        quantity,
        serials,
        purpose,
        span: c.span,
    })
}

fn signature(c: &mut Cursor<'_, '_>) -> Option<(Text, Text, Day)> {
    let name = c.required("name", said_in_earnest);
    let function = c.required("function", said_in_earnest);
    let on = c.required("on", day);
    Some((name?, function?, on?))
}

/// A text that is no placeholder.
pub(super) fn said_in_earnest(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Text> {
    let said = text(context, spot)?;
    let word = said.text.trim().to_lowercase();
    let first = word.split(|c: char| !c.is_alphanumeric() && c != '/').next().unwrap_or_default();
    let bare = word.trim_matches(|c: char| !c.is_alphanumeric());
    let empty = !word.chars().any(char::is_alphabetic)
        || PLACEHOLDERS.contains(&bare)
        || matches!(first, "todo" | "tbd" | "tba" | "fixme" | "xxx");
    if !empty {
        return Some(said);
    }
    let message = format!("`{}` says nothing: `{}`", spot.name, said.text.trim());
    let problem = Diagnostic::error(Code::EmptyReason, said.span, message);
    let row = context.field(&spot.path).map_or("", |row| row.how_to_get);
    context.report(problem.help(format!("write it out: {}", super::message::lower_first(row))));
    None
}

/// A day of the calendar.
pub(super) fn day(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Day> {
    let written = super::value::date(context, spot)?;
    Date::parse(&written.text).map(|date| Day { date, span: written.span })
}

/// A plain quantity of whatever the rule measures; what dimension that is, is known once the rule is.
fn bound(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Bound> {
    let written = scalar(context, spot, "a quantity")?;
    let parsed = match parse_quantity(written) {
        Ok(parsed) => parsed,
        Err(problem) => {
            context.report(*problem);
            return None;
        }
    };
    if parsed.uncertainty != StatedUncertainty::Nothing {
        let message =
            format!("`{}` is a plain quantity, and this states an uncertainty", spot.name);
        let problem = Diagnostic::error(Code::BadUncertainty, written.span, message);
        context.report(problem.help("write the worst value that is accepted, nothing beside it"));
        return None;
    }
    let (text, span) = (written.text.clone(), spot.node.span);
    Some(Bound { text, value: parsed.value, unit: parsed.unit, span })
}
