//! A review for people, on a terminal or on paper.

mod across;
mod atlas;
mod beside;
mod book;
mod checklist;
mod closing;
mod compare;
mod conceded;
mod confirmed;
mod coverage;
mod declared;
mod draw;
mod excerpt;
mod explain;
mod finding;
mod measured;
mod page;
mod pan;
mod problem;
mod proof;
mod screening;
#[cfg(test)]
mod tests;

use crate::format::Options;
use crate::told::{Shown, with_room};
use page::Page;
pub(crate) use page::Piece;
use sumpwright_core::compare::{Comparison, PansCompared};
use sumpwright_core::confirm::Confirmation;
use sumpwright_core::declare::{Declared, Record};
use sumpwright_core::explain::Explanation;
use sumpwright_core::prove::Proof;
use sumpwright_core::review::{Measured, Review};
use sumpwright_core::source::{Diagnostic, Sources};

/// Problems of the documents, the pans one after the other, and what was looked at.
pub(crate) fn review(review: &Review, options: &Options) -> String {
    let mut page = Page::new(options);
    for found in &review.problems {
        problem::write(&mut page, &review.sources, found);
    }
    book::write(&mut page, &review.sources, &review.book);
    if review.screening.is_none() {
        across::write(&mut page, review);
    }
    let shown = if options.all {
        review.pans.iter().map(|pan| Shown::whole(&pan.findings)).collect()
    } else {
        with_room(&review.pans)
    };
    for (pan, shown) in review.pans.iter().zip(shown) {
        pan::write(&mut page, review, pan, &shown);
    }
    checklist::write(&mut page, &review.checklists);
    conceded::write(&mut page, review);
    screening::write(&mut page, review);
    closing::write(&mut page, review);
    page.finish()
}

/// What is wrong with documents, and nothing else.
pub fn problems(sources: &Sources, problems: &[Diagnostic], options: &Options) -> String {
    let mut page = Page::new(options);
    for found in problems {
        problem::write(&mut page, sources, found);
    }
    page.finish()
}

/// A rule, a measure, or the list of all.
pub(crate) fn explanation(explanation: &Explanation, options: &Options) -> String {
    let mut page = Page::new(options);
    for found in &explanation.problems {
        problem::write(&mut page, &explanation.sources, found);
    }
    explain::write(&mut page, explanation);
    page.finish()
}

/// What an explanation says, without what is wrong with the documents.
pub(crate) fn pieces_of_explanation(explanation: &Explanation) -> Vec<Piece> {
    pieces(|page| explain::write(page, explanation))
}

/// What a proof says, likewise.
pub(crate) fn pieces_of_proof(proof: &Proof) -> Vec<Piece> {
    pieces(|page| {
        proof::closing(page, proof);
        proof::rules(page, proof);
    })
}

/// What a comparison says, likewise.
pub(crate) fn pieces_of_comparison(comparison: &Comparison) -> Vec<Piece> {
    pieces(|page| compare::write(page, comparison))
}

/// What a declaration states, likewise.
pub(crate) fn pieces_of_record(record: &Record) -> Vec<Piece> {
    pieces(|page| declared::record(page, record))
}

/// What came of declaring, likewise.
pub(crate) fn pieces_of_declared(declared: &Declared) -> Vec<Piece> {
    pieces(|page| declared::write(page, declared))
}

/// What came of judging a declaration again, likewise.
pub(crate) fn pieces_of_confirmation(found: &Confirmation) -> Vec<Piece> {
    pieces(|page| confirmed::write(page, found))
}

/// What came of declaring.
pub(crate) fn declared(declared: &Declared, options: &Options) -> String {
    let mut page = Page::new(options);
    for found in &declared.review.problems {
        problem::write(&mut page, &declared.review.sources, found);
    }
    declared::write(&mut page, declared);
    page.finish()
}

/// What came of judging a declaration again.
pub(crate) fn confirmation(found: &Confirmation, options: &Options) -> String {
    let mut page = Page::new(options);
    for problem in &found.review.problems {
        problem::write(&mut page, &found.review.sources, problem);
    }
    confirmed::write(&mut page, found);
    page.finish()
}

fn pieces(write: impl FnOnce(&mut Page)) -> Vec<Piece> {
    let mut page = Page::new(&Options { width: 100, colour: false, plain: false, all: true });
    write(&mut page);
    page.into_pieces()
}

/// A rulebook against its own cases.
pub(crate) fn proof(proof: &Proof, options: &Options) -> String {
    let mut page = Page::new(options);
    for found in &proof.problems {
        problem::write(&mut page, &proof.sources, found);
    }
    book::write(&mut page, &proof.sources, &proof.book);
    proof::write(&mut page, proof);
    page.finish()
}

/// Two rulebooks beside each other.
pub(crate) fn comparison(comparison: &Comparison, options: &Options) -> String {
    let mut page = Page::new(options);
    for found in &comparison.problems {
        problem::write(&mut page, &comparison.sources, found);
    }
    compare::write(&mut page, comparison);
    page.finish()
}

/// A pan beside its baseline.
pub(crate) fn pans_compared(compared: &PansCompared, options: &Options) -> String {
    let mut page = Page::new(options);
    for found in &compared.problems {
        problem::write(&mut page, &compared.sources, found);
    }
    beside::write(&mut page, compared);
    page.finish()
}

/// Every reading of every pan.
pub(crate) fn measured(measured: &Measured, options: &Options) -> String {
    let mut page = Page::new(options);
    measured::write(&mut page, measured);
    page.finish()
}
