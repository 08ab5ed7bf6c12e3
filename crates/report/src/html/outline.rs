//! What is written for a terminal as a page: the same pieces in the same order, in headings, lists and paragraphs.

use super::{cautions, made_from, page, problems, shown};
use crate::svg::curve;
use crate::terminal::{self, Piece};
use maud::{Markup, html};
use sumpwright_core::compare::Comparison;
use sumpwright_core::confirm::Confirmation;
use sumpwright_core::declare::{Declared, Record};
use sumpwright_core::explain::{Curve, Explanation, Subject};
use sumpwright_core::prove::Proof;

/// Writes an explanation, with the curve of its measure.
pub(crate) fn explanation(explanation: &Explanation) -> String {
    let (title, curve) = match &explanation.subject {
        Subject::Rule(rule) => (rule.line.id.clone(), rule.curve.as_ref()),
        Subject::Measure(measure) => (measure.spec.name.to_owned(), measure.curve.as_ref()),
        Subject::Everything(_) => ("Rules and measures".to_owned(), None),
        Subject::Unknown { name, .. } => (format!("Nothing is called {name}"), None),
        Subject::Nothing => ("Nothing can be explained".to_owned(), None),
    };
    let body = html! {
        h1 { (shown(&title)) }
        (problems(&explanation.sources, &explanation.problems))
        @if let Some(curve) = curve { (drawn(curve)) }
        (outlined(&terminal::pieces_of_explanation(explanation)))
        (cautions())
        (made_from(&explanation.sources, 0))
    };
    page(&title, &body)
}

/// Writes a proof.
pub(crate) fn proof(proof: &Proof) -> String {
    let title = "A rulebook against its own cases";
    let body = html! {
        h1 { (title) }
        (problems(&proof.sources, &proof.problems))
        (outlined(&terminal::pieces_of_proof(proof)))
        (made_from(&proof.sources, 0))
    };
    page(title, &body)
}

/// Writes a comparison of two rulebooks.
pub(crate) fn comparison(comparison: &Comparison) -> String {
    let title = "Two rulebooks beside each other";
    let body = html! {
        h1 { (title) }
        (problems(&comparison.sources, &comparison.problems))
        (outlined(&terminal::pieces_of_comparison(comparison)))
        (made_from(&comparison.sources, 0))
    };
    page(title, &body)
}

/// Writes a declaration, for people to read, print and sign.
pub(crate) fn declaration(record: &Record) -> String {
    let title = format!("Declaration of conformity {}", record.number);
    let mut pieces = terminal::pieces_of_record(record);
    // The heading is the title of the page.
    pieces.retain(|piece| *piece != Piece::Heading(title.clone()));
    let body = html! {
        h1 { (shown(&title)) }
        (outlined(&pieces))
        section {
            h2 { "Signature" }
            p { (shown(&format!("{}, {}", record.issued_at, record.issued_on))) }
            p.signature { }
            p { (shown(&format!("{}, {}", record.signatory.name, record.signatory.function))) }
        }
        section {
            h2 { "To judge it again" }
            p {
                "Take this folder, a rulebook that you trust, and the issuer's public key, got by another way: "
                code { "sumpwright confirm FOLDER --rules YOUR-RULEBOOK --key ISSUER.pem" }
                ". Nothing is computed from what stands on this page."
            }
        }
        (cautions())
    };
    page(&title, &body)
}

/// Writes what came of declaring.
pub(crate) fn declared(declared: &Declared) -> String {
    let title = if declared.package.is_some() { "Declared" } else { "Not declared" };
    let body = html! {
        h1 { (title) }
        (problems(&declared.review.sources, &declared.review.problems))
        (outlined(&terminal::pieces_of_declared(declared)))
        (cautions())
        (made_from(&declared.review.sources, declared.review.rules))
    };
    page(title, &body)
}

/// Writes what came of judging a declaration again.
pub(crate) fn confirmation(found: &Confirmation) -> String {
    let title = "A declaration judged again";
    let body = html! {
        h1 { (title) }
        (problems(&found.review.sources, &found.review.problems))
        (outlined(&terminal::pieces_of_confirmation(found)))
        (cautions())
        (made_from(&found.review.sources, found.review.rules))
    };
    page(title, &body)
}

fn drawn(curve: &Curve) -> Markup {
    html! {
        figure {
            (curve::inline(curve, "curve"))
            figcaption {
                (shown(&curve::caption(curve)))
                @if !curve.how_to_get.is_empty() { " " (shown(&curve.input)) ": " (shown(curve.how_to_get)) }
            }
        }
    }
}

/// Runs of rows become one list.
fn outlined(pieces: &[Piece]) -> Markup {
    let is_row = |piece: &Piece| matches!(piece, Piece::Row(..) | Piece::Entry(..));
    let runs = pieces.chunk_by(|one, next| is_row(one) && is_row(next));
    html! { @for run in runs { (written(run)) } }
}

fn written(run: &[Piece]) -> Markup {
    match run {
        [Piece::Heading(text)] => html! { h2 { (shown(text)) } },
        [Piece::Paragraph(text)] => html! { p { (shown(text)) } },
        [Piece::Part(name, said)] => html! { h3 { (shown(name)) } p { (shown(said)) } },
        [Piece::Pasted(text)] => html! { pre { (shown(text)) } },
        rows => html! { dl.outline { @for row in rows { (entry(row)) } } },
    }
}

fn entry(piece: &Piece) -> Markup {
    let (name, word, text) = match piece {
        Piece::Row(word, text) => (word.as_str(), "", text),
        Piece::Entry(name, word, text) => (name.as_str(), word.as_str(), text),
        Piece::Heading(text)
        | Piece::Paragraph(text)
        | Piece::Part(_, text)
        | Piece::Pasted(text) => ("", "", text),
    };
    html! {
        dt { (shown(name)) @if !word.is_empty() { " " span.quiet { (shown(word)) } } }
        dd { (shown(text)) }
    }
}
