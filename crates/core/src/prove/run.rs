//! Every case of every rule.

use super::alter::alterations;
use super::change::changed;
use super::slack::slacks;
use super::{CaseProof, Proof, RuleProof};
use crate::document::dossier::{Dossier, Library, tidy};
use crate::document::reader::{Findings, read_rulebook};
use crate::document::rulebook::{CaseDoc, Expected, RulebookDoc};
use crate::model::{Memo, contained};
use crate::quantity::Input;
use crate::review::{Sweep, read_scene, verdicts};
use crate::rule::{Rule, resolve};
use crate::source::{Diagnostic, FileId, Files, Severity};
use crate::verdict::Verdict;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What is asked for.
#[derive(Clone, Copy)]
pub struct ProveRequest<'a> {
    /// The host's files: the fixtures live there.
    pub files: &'a dyn Files,
    /// Path and text of each file of the rulebook; `fixtures` is relative to its path.
    pub rulebook: &'a [(String, String)],
}

impl std::fmt::Debug for ProveRequest<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("ProveRequest").finish_non_exhaustive()
    }
}

/// A case, the rulebook file it stands in, and its fixture as it changes it, or why there is none.
type Changed = (CaseDoc, FileId, Result<Dossier, String>);

/// A case made ready: its fixture with its changes read, or why it cannot be run.
pub(super) struct Ready {
    pub(super) doc: CaseDoc,
    pub(super) sweep: Result<Sweep, String>,
    /// With every uncertainty taken away, and with every one doubled.
    pub(super) other_uncertainties: Option<[Sweep; 2]>,
}

/// Runs all cases of a rulebook and tries to alter its rules unnoticed.
pub fn prove(request: ProveRequest<'_>) -> Proof {
    let mut library = Library::new(request.files);
    let mut found = Findings::default();
    let mut books: Vec<(RulebookDoc, FileId, String)> = Vec::new();
    for (path, text) in request.rulebook {
        let Some(part) = library.add_text(path, text.clone()) else { continue };
        if let Some(book) = read_rulebook(&part.node, &mut found) {
            books.push((book, part.file, path.clone()));
        }
    }
    library.problems.append(&mut found.problems);
    let docs: Vec<RulebookDoc> = books.iter().map(|(book, ..)| book.clone()).collect();
    let rulebook = resolve(&docs, &mut library.problems);
    if library.problems.iter().any(is_error) {
        return Proof { sources: library.sources, problems: library.problems, rules: Vec::new() };
    }
    let folders: BTreeMap<FileId, String> =
        books.iter().map(|(book, file, path)| (*file, fixtures_of(path, book))).collect();
    let cases: Vec<Vec<Changed>> =
        rulebook.rules.iter().map(|rule| dossiers(&mut library, rule, &folders)).collect();
    let memo = Arc::new(Memo::default());
    let rules = rulebook
        .rules
        .par_iter()
        .zip(cases)
        .map(|(rule, cases)| prove_rule(rule, cases, &memo))
        .collect();
    Proof { sources: library.sources, problems: Vec::new(), rules }
}

fn is_error(problem: &Diagnostic) -> bool {
    problem.severity == Severity::Error
}

/// The folder in which the fixtures of a rulebook file live.
fn fixtures_of(path: &str, book: &RulebookDoc) -> String {
    let fixtures = book.fixtures.as_ref().map_or(".", |text| &text.text);
    match path.rsplit_once('/') {
        _ if fixtures.starts_with('/') => tidy(fixtures),
        Some((folder, _)) => tidy(&format!("{folder}/{fixtures}")),
        None => tidy(fixtures),
    }
}

fn dossiers(
    library: &mut Library<'_>,
    rule: &Rule,
    folders: &BTreeMap<FileId, String>,
) -> Vec<Changed> {
    let file = rule.doc.id.span.file;
    let folder = folders.get(&file).map_or("", String::as_str);
    let cases = rule.doc.cases.iter();
    cases
        .map(|case| {
            let before = library.problems.len();
            let fixture = format!("{folder}/{}.yaml", case.fixture.text);
            let dossier =
                changed(library, &fixture, case, file).and_then(|dossier| {
                    match library.problems.get(before..).and_then(<[Diagnostic]>::first) {
                        Some(problem) => Err(problem.message.clone()),
                        None => Ok(dossier),
                    }
                });
            (case.clone(), file, dossier)
        })
        .collect()
}

fn prove_rule(rule: &Rule, cases: Vec<Changed>, memo: &Arc<Memo>) -> RuleProof {
    let ready: Vec<Ready> = cases
        .into_iter()
        .map(|(doc, file, dossier)| {
            let factor = |input: &Input| {
                if !doc.exact || input.span.file == file { 1.0 } else { 0.0 }
            };
            let other_uncertainties = dossier.as_ref().ok().and_then(|dossier| {
                let none = Sweep::with(dossier, memo, |_| 0.0)?;
                Some([none, Sweep::with(dossier, memo, |input| 2.0 * factor(input))?])
            });
            let sweep = dossier.and_then(|dossier| sweep(&dossier, memo, factor));
            Ready { doc, sweep, other_uncertainties }
        })
        .collect();
    let mut cases: Vec<CaseProof> = ready.iter().map(|case| run(rule, case)).collect();
    let (alterations, alone) = alterations(rule, &ready);
    for (case, alone) in cases.iter_mut().zip(alone) {
        case.decides_alone = alone;
    }
    RuleProof {
        id: rule.doc.id.text.clone(),
        span: rule.doc.id.span,
        cases,
        alterations,
        slacks: slacks(rule, &ready),
    }
}

/// Reads the changed fixture as a file is read: an error in it, or a thing outside the oil space, makes the case
/// invalid.
fn sweep(
    dossier: &Dossier,
    memo: &Arc<Memo>,
    factor: impl Fn(&Input) -> f64,
) -> Result<Sweep, String> {
    let mut found = Findings::default();
    let scene = read_scene(dossier, &[], "", None, memo, &mut found);
    if let Some(scene) = &scene
        && !found.problems.iter().any(is_error)
    {
        found.problems.extend(contained(scene));
    }
    if let Some(problem) = found.problems.iter().find(|problem| is_error(problem)) {
        return Err(format!("the changed fixture is refused: {}", problem.message));
    }
    Sweep::with(dossier, memo, factor)
        .ok_or_else(|| "the changed fixture cannot be read".to_owned())
}

fn run(rule: &Rule, case: &Ready) -> CaseProof {
    CaseProof {
        span: case.doc.span,
        expected: case.doc.expect.value,
        found: match &case.sweep {
            Ok(sweep) => outcome(rule, sweep).ok_or_else(|| "nothing was judged".to_owned()),
            Err(why) => Err(why.clone()),
        },
        decides_alone: false,
    }
}

/// The rule's worst verdict over its objects.
pub(super) fn outcome(rule: &Rule, sweep: &Sweep) -> Option<Expected> {
    let worst = |verdict: Verdict| match verdict {
        Verdict::DoesNotConform => Some((5, Expected::DoesNotConform)),
        Verdict::Inconclusive => Some((4, Expected::Inconclusive)),
        Verdict::Advisory => Some((3, Expected::Advisory)),
        Verdict::Conforms => Some((2, Expected::Conforms)),
        Verdict::NotApplicable => Some((1, Expected::NotApplicable)),
        Verdict::NotJudged => None,
    };
    verdicts(rule, sweep)
        .into_iter()
        .map(worst)
        .collect::<Option<Vec<_>>>()?
        .into_iter()
        .max_by_key(|(rank, _)| *rank)
        .map(|(_, expected)| expected)
}
