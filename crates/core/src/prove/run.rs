//! The entry: a rulebook and the host's files become a proof.

use super::case::{Prepared, prepare};
use super::rule_proof::{Below, Held, Material, held, rule_proof};
use super::{Proof, RuleProof};
use crate::document::dossier::Library;
use crate::document::rulebook::{CaseDoc, Overridden};
use crate::model::Memo;
use crate::review::BookUsed;
use crate::rule::{Rule, Rulebook, assemble, resolve_one};
use crate::source::{Diagnostic, FileId, Files, Sources, has_error};
use rayon::prelude::*;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

/// What is asked for.
#[derive(Clone, Copy)]
pub struct ProveRequest<'a> {
    /// The host's files: the fixtures and what they refer to.
    pub files: &'a dyn Files,
    /// Path as shown and text of each file of the rulebook.
    pub rulebook: &'a [(String, String)],
    /// Told after each rule how many of how many are done, in no order of rules.
    pub progress: &'a (dyn Fn(usize, usize) + Sync),
}

impl std::fmt::Debug for ProveRequest<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("ProveRequest").finish_non_exhaustive()
    }
}

/// Runs every case of a rulebook and tries to alter each rule unnoticed. Bad documents are data: what is wrong
/// with the rulebook comes back among the problems, what is wrong with a case at the case.
pub fn prove(request: ProveRequest<'_>) -> Proof {
    let mut library = Library::new(request.files);
    let book = assemble(&mut library, request.rulebook);
    // What is wrong with a case from here on is kept with the case.
    let problems = sorted(std::mem::take(&mut library.problems));
    let used = BookUsed::of(&book, &problems);
    if has_error(&problems) {
        return Proof { sources: library.sources, rules: Vec::new(), problems, book: used };
    }
    let prepared: Vec<PreparedRule<'_>> =
        book.rules.iter().map(|rule| prepared(&mut library, &book, rule)).collect();
    let memo = Arc::new(Memo::default());
    let done = AtomicUsize::new(0);
    let sources = &library.sources;
    // Collected in the order of the rules, whatever thread made them.
    let rules: Vec<RuleProof> = prepared
        .par_iter()
        .map(|prepared| {
            let proof = rule_proof(prepared.material(sources, &memo));
            (request.progress)(done.fetch_add(1, Ordering::Relaxed) + 1, book.rules.len());
            proof
        })
        .collect();
    Proof { sources: library.sources, rules, problems, book: used }
}

/// How far each number of one rule could move before a case of it notices. Goes on from the texts that the
/// rulebook was read from, and gives them back with those of the fixtures.
pub(crate) fn held_by_cases(
    files: &dyn Files,
    sources: Sources,
    book: &Rulebook,
    rule: &Rule,
) -> (Sources, Held) {
    let mut library = Library::over(files, sources);
    let prepared = prepared(&mut library, book, rule);
    let held = held(prepared.material(&library.sources, &Arc::new(Memo::default())));
    (library.sources, held)
}

/// A rule with the documents that its cases are about.
struct PreparedRule<'r> {
    rule: &'r Rule,
    cases: Vec<Prepared>,
    below: Vec<Below>,
    plain: Vec<Prepared>,
}

impl PreparedRule<'_> {
    fn material<'a>(&'a self, sources: &'a Sources, memo: &'a Arc<Memo>) -> Material<'a> {
        let Self { rule, cases, below, plain } = self;
        Material { rule, cases, below, plain, sources, memo }
    }
}

fn prepared<'r>(library: &mut Library<'_>, book: &Rulebook, rule: &'r Rule) -> PreparedRule<'r> {
    let folders = |file: FileId| book.folders.get(&file).map_or(&[][..], Vec::as_slice);
    let mut ready = |docs: &[CaseDoc], at: Option<FileId>| -> Vec<Prepared> {
        let one = |doc: &CaseDoc| prepare(library, folders(at.unwrap_or(doc.span.file)), doc);
        docs.iter().map(one).collect()
    };
    let mut below = Vec::new();
    let mut next = rule.doc.overridden.as_deref();
    while let Some(Overridden { base, .. }) = next {
        // It was read before without a problem, by the decision rule that its document states since.
        if let Some(rule) = resolve_one(base, rule.decision, &mut Vec::new()) {
            below.push(Below { cases: ready(&base.cases, None), rule });
        }
        next = base.overridden.as_deref();
    }
    let cases = ready(&rule.doc.cases, None);
    // A case that is suggested is pasted beside the rule's own cases, and finds its fixture as they do.
    let all = cases.iter().chain(below.iter().flat_map(|below| &below.cases));
    let plain = unchanged(all.map(|prepared| &prepared.doc));
    let plain = ready(&plain, Some(rule.doc.last_changed().file));
    PreparedRule { rule, cases, below, plain }
}

fn sorted(mut problems: Vec<Diagnostic>) -> Vec<Diagnostic> {
    problems.sort_by(|a, b| {
        (a.primary.span, a.code, &a.message).cmp(&(b.primary.span, b.code, &b.message))
    });
    problems.dedup();
    problems
}

/// A case without any change for each fixture that cases name.
fn unchanged<'c>(cases: impl Iterator<Item = &'c CaseDoc>) -> Vec<CaseDoc> {
    let mut plain: Vec<CaseDoc> = Vec::new();
    for case in cases {
        if plain.iter().all(|known| known.fixture.text != case.fixture.text) {
            let blank =
                CaseDoc { exact: false, set: Vec::new(), dropped: Vec::new(), ..case.clone() };
            plain.push(blank);
        }
    }
    plain
}
