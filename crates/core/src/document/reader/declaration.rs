//! Reads a supplier's declaration.

use super::checklist::evidence;
use super::concessions::{day, said_in_earnest};
use super::cursor::{Cursor, mapping};
use super::value::{named, path, text, texts};
use crate::document::Named;
use crate::document::declaration::{
    AssessorDoc, DeclarationDoc, IssuedDoc, IssuerDoc, LimitsDoc, PersonDoc, WithheldDoc,
};
use crate::source::{Code, Diagnostic};

pub(super) fn declaration(c: &mut Cursor<'_, '_>) -> Option<DeclarationDoc> {
    let span = c.key;
    let number = c.required("number", text);
    let supersedes = c.optional("supersedes", text);
    let issuer = c.required("issuer", mapping(issuer));
    let pans = c.required("pans", texts);
    let serials = c.optional("serials", texts).unwrap_or_default();
    let rulebooks = c.optional("rulebooks", texts).unwrap_or_default();
    let checklists = c.optional("checklists", texts).unwrap_or_default();
    let concessions = c.optional("concessions", texts).unwrap_or_default();
    let issued = c.required("issued", mapping(issued));
    let signatory = c.required("signatory", mapping(person));
    let limits = c.optional("limits", mapping(|c| Some(limits(c)))).unwrap_or_default();
    let assessed_by = c.optional("assessed_by", mapping(assessor));
    let kept_in_line = c.optional("kept_in_line", said_in_earnest);
    let kept_until = c.optional("kept_until", day);
    let none = Named { entries: Vec::new(), span };
    let evidence = c.optional("evidence", named(|context, spot| mapping(evidence)(context, spot)));
    let withheld = c.optional("withheld", named(|context, spot| mapping(withheld)(context, spot)));
    let doc = DeclarationDoc {
        span,
        number: number?,
        supersedes,
        issuer: issuer?,
        pans: pans?,
        serials,
        rulebooks,
        checklists,
        concessions,
        issued: issued?,
        signatory: signatory?,
        limits,
        assessed_by,
        kept_in_line,
        kept_until,
        evidence: evidence.unwrap_or(Named { entries: Vec::new(), span }),
        withheld: withheld.unwrap_or(none),
    };
    sensible(c, &doc);
    Some(doc)
}

/// A declaration takes the place of another one, and ends after it begins.
fn sensible(c: &mut Cursor<'_, '_>, doc: &DeclarationDoc) {
    if let Some(old) = doc.supersedes.as_ref().filter(|old| old.text == doc.number.text) {
        let message = "a declaration cannot take the place of itself";
        let problem = Diagnostic::error(Code::Contradiction, old.span, message);
        c.context.report(problem.also(doc.number.span, "its own number"));
    }
    let issued = doc.issued.on;
    for (last, what) in [(doc.limits.until, "valid"), (doc.kept_until, "kept")] {
        if let Some(last) = last.filter(|last| last.date < issued.date) {
            let message = format!("it is {what} until {}, before it is issued", last.date);
            let problem = Diagnostic::error(Code::Contradiction, last.span, message);
            c.context.report(problem.also(issued.span, "issued on this day"));
        }
    }
}

fn issuer(c: &mut Cursor<'_, '_>) -> Option<IssuerDoc> {
    let name = c.required("name", said_in_earnest);
    let address = c.required("address", said_in_earnest);
    Some(IssuerDoc { name: name?, address: address? })
}

fn issued(c: &mut Cursor<'_, '_>) -> Option<IssuedDoc> {
    let on = c.required("on", day);
    let at = c.required("at", said_in_earnest);
    Some(IssuedDoc { on: on?, at: at? })
}

fn person(c: &mut Cursor<'_, '_>) -> Option<PersonDoc> {
    let name = c.required("name", said_in_earnest);
    let function = c.required("function", said_in_earnest);
    Some(PersonDoc { name: name?, function: function? })
}

fn assessor(c: &mut Cursor<'_, '_>) -> Option<AssessorDoc> {
    let person = person(c);
    let competence = c.required("competence", said_in_earnest);
    Some(AssessorDoc { person: person?, competence: competence? })
}

fn limits(c: &mut Cursor<'_, '_>) -> LimitsDoc {
    LimitsDoc { purpose: c.optional("use", text), until: c.optional("until", day) }
}

fn withheld(c: &mut Cursor<'_, '_>) -> Option<WithheldDoc> {
    let file = c.required("file", path);
    let because = c.required("because", said_in_earnest);
    Some(WithheldDoc { file: file?, because: because? })
}
