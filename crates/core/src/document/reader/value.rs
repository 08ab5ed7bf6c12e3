//! The other single values: words, texts, counts, names, dates, threads.

use super::cursor::{Context, Spot, entries};
use super::message::{cut_off, either, empty, listed, nothing_said, wrong_shape};
use crate::document::date::Date;
use crate::document::field::Form;
use crate::document::pan::{ThreadDoc, Word};
use crate::document::{Item, Named, Text};
use crate::source::{Code, Diagnostic, Key, Node, Scalar, Value, nearest};
use sumpwright_physics::pipe_thread::PipeThread;
use sumpwright_physics::thread::{DesignationError, parse_designation};

/// The scalar at a spot; reports anything else.
pub(super) fn scalar<'n>(
    context: &mut Context<'_>,
    spot: &Spot<'n>,
    expected: &str,
) -> Option<&'n Scalar> {
    let found = spot.node.scalar();
    if found.is_none() {
        context.report(wrong_shape(spot, expected));
    }
    found
}

/// A word or a sentence.
pub(super) fn text(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Text> {
    said(context, spot, "a word or a sentence")
}

/// A path, which is followed elsewhere.
pub(super) fn path(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Text> {
    said(context, spot, "the path of one file")
}

fn said(context: &mut Context<'_>, spot: &Spot<'_>, expected: &str) -> Option<Text> {
    let written = scalar(context, spot, expected)?;
    if written.text.trim().is_empty() {
        context.report(nothing_said(&spot.name, spot.node.span));
        return None;
    }
    Some(Text { text: written.text.clone(), span: spot.node.span })
}

/// One text, or a list of them.
pub(super) fn texts(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Vec<Text>> {
    match &spot.node.value {
        Value::Sequence(_) => list(context, spot, text),
        Value::Scalar(_) => text(context, spot).map(|one| vec![one]),
        _ => {
            context.report(wrong_shape(spot, "one text or a list of them"));
            None
        }
    }
}

/// A list of things that is not empty; what cannot be read is reported and left out.
pub(super) fn list<T>(
    context: &mut Context<'_>,
    spot: &Spot<'_>,
    read: impl Fn(&mut Context<'_>, &Spot<'_>) -> Option<T>,
) -> Option<Vec<T>> {
    let Value::Sequence(items) = &spot.node.value else {
        context.report(wrong_shape(spot, "a list"));
        return None;
    };
    if items.is_empty() {
        context.report(empty(spot));
        return None;
    }
    let mut read_items = Vec::new();
    for (i, node) in items.iter().enumerate() {
        let name = spot.name.clone();
        if matches!(node.value, Value::Null) {
            context.report(nothing_said(&name, node.span));
            continue;
        }
        let item = Spot { node, path: format!("{}.{i}", spot.path), name, key: node.span };
        read_items.extend(read(context, &item));
    }
    Some(read_items)
}

/// One word out of a fixed list.
pub(super) fn word<T: Copy + 'static>(
    words: &'static [(&'static str, T)],
) -> impl Fn(&mut Context<'_>, &Spot<'_>) -> Option<Word<T>> {
    move |context, spot| {
        let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        debug_assert!(same_words(context, spot, &known), "row and reader: {}", spot.path);
        let expected = format!("one of {}", either(&known));
        let written = scalar(context, spot, &expected)?;
        let found = words.iter().find(|(word, _)| *word == written.text);
        if let Some((_, value)) = found {
            return Some(Word { value: *value, span: spot.node.span });
        }
        context.report(unknown_word(spot, &written.text, &known));
        None
    }
}

/// A word out of a fixed list, kept as text.
pub(super) fn word_as_text(
    words: &'static [&'static str],
) -> impl Fn(&mut Context<'_>, &Spot<'_>) -> Option<Text> {
    move |context, spot| {
        debug_assert!(same_words(context, spot, words), "row and reader: {}", spot.path);
        let written = scalar(context, spot, &format!("one of {}", either(words)))?;
        if words.contains(&written.text.as_str()) {
            return Some(Text { text: written.text.clone(), span: spot.node.span });
        }
        context.report(unknown_word(spot, &written.text, words));
        None
    }
}

/// Whether the row of a field lists the words that its reader takes.
fn same_words(context: &Context<'_>, spot: &Spot<'_>, known: &[&str]) -> bool {
    context
        .field(&spot.path)
        .is_some_and(|row| matches!(row.form, Form::Words(words) if words == known))
}

/// A word that is not one of those possible here.
pub(super) fn unknown_word(spot: &Spot<'_>, written: &str, known: &[&str]) -> Diagnostic {
    let message = format!("`{}` cannot be `{written}`", spot.name);
    let problem = Diagnostic::error(Code::UnknownWord, spot.node.span, message);
    problem.help(match nearest(written, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`? it is one of {}", listed(known)),
        None => format!("write {}", either(known)),
    })
}

/// A whole number from 1.
pub(super) fn count(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Word<u32>> {
    let written = scalar(context, spot, "a whole number")?;
    let digits = !written.text.is_empty() && written.text.bytes().all(|b| b.is_ascii_digit());
    let number = if digits { written.text.parse().ok() } else { None };
    let problem = match number {
        Some(0) => {
            let message = format!("`{}` must be 1 or more", spot.name);
            Diagnostic::error(Code::OutOfRange, spot.node.span, message)
        }
        Some(value) => return Some(Word { value, span: spot.node.span }),
        None => {
            let message =
                format!("`{}` is a whole number, and this is `{}`", spot.name, written.text);
            Diagnostic::error(Code::NotAQuantity, spot.node.span, message)
                .help("write digits alone, as in `9`")
        }
    };
    context.report(problem);
    None
}

/// A day, as in `2026-11-25`.
pub(super) fn date(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Text> {
    let written = text(context, spot)?;
    if Date::parse(&written.text).is_some() {
        return Some(written);
    }
    let message = format!("`{}` is a date, and this is `{}`", spot.name, written.text);
    let problem = Diagnostic::error(Code::UnknownWord, spot.node.span, message);
    context.report(problem.help("write year, month and day, as in `2026-11-25`"));
    None
}

/// A metric thread, or a taper pipe thread.
pub(super) fn thread(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<ThreadDoc> {
    let written = scalar(context, spot, "a thread, as in `M14x1.5`")?;
    let problem = match parse_designation(&written.text) {
        Ok(thread) => {
            let span = spot.node.span;
            let (diameter, pitch) = (thread.nominal, thread.pitch);
            return Some(ThreadDoc { span, diameter, pitch, taper: false });
        }
        Err(DesignationError::NotMetric) => {
            if let Some(pipe) = PipeThread::named(&written.text) {
                let (diameter, pitch, span) = (pipe.outside, pipe.pitch(), spot.node.span);
                return Some(ThreadDoc { span, diameter, pitch, taper: true });
            }
            let message = format!("`{}` is not the designation of a metric thread", written.text);
            Diagnostic::error(Code::NotSupportedYet, spot.node.span, message).help(
                "write `M14x1.5`, `M6` for the coarse pitch, or `1/2-14 NPT`; other pipe and inch \
                 threads are not read by this version yet",
            )
        }
        Err(other) => Diagnostic::error(Code::NotAQuantity, spot.node.span, other.to_string())
            .help("write `M14x1.5`, or `M6` for the coarse pitch"),
    };
    context.report(problem);
    None
}

/// Named things, in the order written; what cannot be read is reported and left out.
pub(super) fn named<T>(
    read: impl Fn(&mut Context<'_>, &Spot<'_>) -> Option<T>,
) -> impl Fn(&mut Context<'_>, &Spot<'_>) -> Option<Named<T>> {
    move |context, spot| {
        let mut things = Vec::new();
        for entry in entries(context, spot)? {
            let name = entry.key.text.clone();
            if !name_is_good(context, &entry.key) || !is_said(context, &entry.key, &entry.value) {
                continue;
            }
            let path = format!("{}.{name}", spot.path);
            let key = entry.key.span;
            let inner = Spot { node: &entry.value, path, name: name.clone(), key };
            if let Some(value) = read(context, &inner) {
                things.push(Item { name, name_span: key, span: entry.value.span, value });
            }
        }
        Some(Named { entries: things, span: spot.node.span })
    }
}

fn is_said(context: &mut Context<'_>, key: &Key, value: &Node) -> bool {
    let said = !matches!(value.value, Value::Null);
    if !said {
        context.report(nothing_said(&key.text, key.span));
    }
    said
}

/// Whether a name that the author chose can stand in paths and formulas; reports one that cannot.
pub(super) fn name_is_good(context: &mut Context<'_>, key: &Key) -> bool {
    let good = key.text.starts_with(char::is_alphabetic)
        && key.text.chars().all(|c| c.is_alphanumeric() || c == '_' || c == '-');
    if !good {
        let message = format!("`{}` cannot be a name", key.text);
        let help = "a name begins with a letter and holds letters, digits, `_` and `-` only";
        let problem = Diagnostic::error(Code::UnknownKey, key.span, message);
        context.report(problem.help(cut_off(&key.text).unwrap_or(help)));
    }
    good
}
