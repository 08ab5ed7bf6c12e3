//! The entry: a rulebook and the host's files become a proof.

use super::case::{Prepared, prepare};
use super::rule_proof::{Material, rule_proof};
use super::{Proof, RuleProof};
use crate::document::dossier::{Library, folder_from};
use crate::document::reader::{Findings, read_rulebook};
use crate::document::rulebook::{CaseDoc, RulebookDoc};
use crate::model::Memo;
use crate::rule::{Rule, Rulebook, resolve};
use crate::source::{Diagnostic, FileId, Files, Severity};
use rayon::prelude::*;
use std::collections::BTreeMap;
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
    let (docs, book) = read_books(&mut library, request.rulebook);
    // What is wrong with a case from here on is kept with the case.
    let problems = sorted(std::mem::take(&mut library.problems));
    if problems.iter().any(|problem| problem.severity == Severity::Error) {
        return Proof { sources: library.sources, rules: Vec::new(), problems };
    }
    let folders = folders(&library, &docs);
    let prepared: Vec<(&Rule, Vec<Prepared>, Vec<Prepared>)> = book
        .rules
        .iter()
        .map(|rule| {
            let folder = folders.get(&rule.doc.id.span.file).map_or("", String::as_str);
            let mut make = |doc: &CaseDoc| prepare(&mut library, folder, doc);
            let cases = rule.doc.cases.iter().map(&mut make).collect();
            let plain = unchanged(rule).iter().map(&mut make).collect();
            (rule, cases, plain)
        })
        .collect();
    let memo = Arc::new(Memo::default());
    let done = AtomicUsize::new(0);
    let sources = &library.sources;
    // Collected in the order of the rules, whatever thread made them.
    let rules: Vec<RuleProof> = prepared
        .par_iter()
        .map(|(rule, cases, plain)| {
            let proof = rule_proof(Material { rule, cases, plain, sources, memo: &memo });
            (request.progress)(done.fetch_add(1, Ordering::Relaxed) + 1, prepared.len());
            proof
        })
        .collect();
    Proof { sources: library.sources, rules, problems }
}

fn read_books(
    library: &mut Library<'_>,
    texts: &[(String, String)],
) -> (Vec<RulebookDoc>, Rulebook) {
    let mut docs = Vec::new();
    let mut found = Findings::default();
    for (path, text) in texts {
        if let Some(part) = library.add_text(path, text.clone()) {
            docs.extend(read_rulebook(&part.node, &mut found));
        }
    }
    library.problems.append(&mut found.problems);
    let book = resolve(&docs, &mut library.problems);
    (docs, book)
}

fn sorted(mut problems: Vec<Diagnostic>) -> Vec<Diagnostic> {
    problems.sort_by(|a, b| {
        (a.primary.span, a.code, &a.message).cmp(&(b.primary.span, b.code, &b.message))
    });
    problems.dedup();
    problems
}

/// Where the fixtures of each file of the rulebook live: as it says, or beside it.
fn folders(library: &Library<'_>, docs: &[RulebookDoc]) -> BTreeMap<FileId, String> {
    let folder = |doc: &RulebookDoc| {
        let file = doc.span.file;
        let stated = doc.fixtures.as_ref().map(|text| text.text.as_str());
        (file, folder_from(library.sources.path(file), stated))
    };
    docs.iter().map(folder).collect()
}

/// A case without any change for each fixture that a rule's cases name.
fn unchanged(rule: &Rule) -> Vec<CaseDoc> {
    let mut plain: Vec<CaseDoc> = Vec::new();
    for case in &rule.doc.cases {
        if plain.iter().all(|known| known.fixture.text != case.fixture.text) {
            let blank =
                CaseDoc { exact: false, set: Vec::new(), dropped: Vec::new(), ..case.clone() };
            plain.push(blank);
        }
    }
    plain
}
