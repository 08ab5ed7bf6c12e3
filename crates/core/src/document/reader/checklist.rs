//! Reads a customer's list.

use super::cursor::{Context, Cursor, Spot, mapping};
use super::rulebook::decision;
use super::value::{date, named, path, text, texts, word};
use crate::document::checklist::{ChecklistDoc, ClauseDoc, EvidenceDoc, StatementDoc};
use crate::document::{Named, Text};
use crate::source::{Code, Diagnostic};

const TRUTHS: &[(&str, bool)] = &[("true", true), ("false", false)];

/// How many hexadecimal digits a SHA-256 digest has (FIPS 180-4: 256 bits).
const DIGITS: usize = 64;

pub(super) fn checklist(c: &mut Cursor<'_, '_>) -> ChecklistDoc {
    let title = c.required("title", text);
    let customer = c.required("customer", text);
    let decision = c.optional("decision", decision);
    let rulebook_edition = c.optional("rulebook_edition", digest);
    let clauses = c.required("clauses", named(|context, spot| mapping(clause)(context, spot)));
    let clauses = clauses.unwrap_or(Named { entries: Vec::new(), span: c.span });
    ChecklistDoc { title, customer, decision, rulebook_edition, clauses }
}

fn clause(c: &mut Cursor<'_, '_>) -> Option<ClauseDoc> {
    let number = c.optional("number", text);
    let says = c.required("says", text);
    let binding = c.optional("binding", word(TRUTHS)).is_none_or(|word| word.value);
    let rules = c.optional("rules", texts).unwrap_or_default();
    let evidence = c.optional("evidence", mapping(evidence));
    let statement = c.optional("statement", mapping(statement));
    Some(ClauseDoc { number, says: says?, binding, rules, evidence, statement })
}

pub(super) fn evidence(c: &mut Cursor<'_, '_>) -> Option<EvidenceDoc> {
    let document = c.required("document", path);
    let sha256 = c.required("sha256", digest);
    let shows = c.required("shows", text);
    Some(EvidenceDoc { document: document?, sha256: sha256?, shows: shows? })
}

fn statement(c: &mut Cursor<'_, '_>) -> Option<StatementDoc> {
    let words = c.required("words", text);
    let by = c.required("by", text);
    let function = c.required("function", text);
    let on = c.required("on", date);
    Some(StatementDoc { words: words?, by: by?, function: function?, on: on? })
}

/// A SHA-256 digest, as the usual programs print it.
fn digest(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Text> {
    let written = text(context, spot)?;
    let is_digit = |byte: u8| byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte);
    if written.text.len() == DIGITS && written.text.bytes().all(is_digit) {
        return Some(written);
    }
    let message = format!("`{}` is a SHA-256 digest, and this is `{}`", spot.name, written.text);
    let problem = Diagnostic::error(Code::UnknownWord, spot.node.span, message);
    context.report(problem.help(format!("write its {DIGITS} hexadecimal digits in small letters")));
    None
}
