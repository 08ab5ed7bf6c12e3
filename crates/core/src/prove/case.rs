//! A case made ready: its fixture with the values changed, read and checked as a file would be.

use super::change::{Change, change_others, change_pan};
use crate::document::dossier::{Dossier, Library, Part, beside};
use crate::document::reader::Findings;
use crate::document::rulebook::CaseDoc;
use crate::model::Memo;
use crate::model::contained;
use crate::quantity::Input;
use crate::review::{Sweep, read_scene};
use crate::source::{Code, Diagnostic, FileId, has_error};
use std::sync::Arc;

/// A case with the documents that it is about.
#[derive(Debug, Clone)]
pub(super) struct Prepared {
    /// As written.
    pub(super) doc: CaseDoc,
    /// The changed documents, or what is wrong with them.
    pub(super) dossier: Result<Dossier, Vec<Diagnostic>>,
}

/// A case that can be judged.
#[derive(Debug)]
pub(super) struct Trial {
    /// Its place among the rule's cases.
    pub(super) index: usize,
    /// As written.
    pub(super) doc: CaseDoc,
    /// The changed documents.
    pub(super) dossier: Dossier,
    /// The pan and what it refers to, with the readings taken so far.
    pub(super) sweep: Sweep,
}

/// The changes of a case.
pub(super) fn changes(doc: &CaseDoc) -> Vec<Change> {
    let set = doc.set.iter().map(|(path, node)| Change {
        path: path.text.clone(),
        at: path.span,
        to: Some(node.clone()),
    });
    let dropped =
        doc.dropped.iter().map(|path| Change { path: path.text.clone(), at: path.span, to: None });
    set.chain(dropped).collect()
}

/// Finds the fixture of a case in the first of some folders that has it, and changes it.
pub(super) fn prepare(library: &mut Library<'_>, folders: &[String], doc: &CaseDoc) -> Prepared {
    let before = library.problems.len();
    let dossier = changed(library, folders, doc).map_err(|problem| vec![*problem]);
    let dossier = dossier.and_then(|dossier| {
        let wrong = troubles(library, &dossier, before);
        if wrong.is_empty() { Ok(dossier) } else { Err(wrong) }
    });
    // What this case alone made wrong belongs to it and to no other.
    Prepared { doc: doc.clone(), dossier }
}

fn changed(
    library: &mut Library<'_>,
    folders: &[String],
    doc: &CaseDoc,
) -> Result<Dossier, Box<Diagnostic>> {
    let name = &doc.fixture;
    let bad = |message: String| Box::new(Diagnostic::error(Code::BadCase, name.span, message));
    if name.text.contains(['/', '\\', ':']) {
        return Err(bad("a fixture is named by its file name without ending".to_owned()));
    }
    let file = format!("{}.yaml", name.text);
    let mut paths = folders.iter().map(|folder| beside(folder, &file));
    let there = paths.clone().find(|path| library.has(path));
    // Where none has it, its own folder is named.
    let path = there.or_else(|| paths.next()).unwrap_or(file);
    let Some(pan) = library.named_by_user(&path) else {
        return Err(bad(format!("the fixture {path} cannot be read")));
    };
    let changes = changes(doc);
    let pan = change_pan(&pan, &changes)?;
    let mut dossier = library.dossier_of(pan);
    change_others(&mut dossier, &changes)?;
    Ok(dossier)
}

/// The errors that were found while a dossier was put together, and those of the texts it is read from.
fn troubles(library: &Library<'_>, dossier: &Dossier, before: usize) -> Vec<Diagnostic> {
    let parts = [Some(&dossier.pan), dossier.vehicle.as_ref(), dossier.oil.as_ref()];
    let parts = parts.into_iter().flatten().chain(dossier.duty.as_ref()).chain(&dossier.baselines);
    let files: Vec<FileId> = parts.map(|part: &Part| part.file).collect();
    let known = library.problems.iter().enumerate();
    known
        .filter(|(index, p)| *index >= before || files.contains(&p.primary.span.file))
        .filter(|(_, problem)| problem.is_error())
        .map(|(_, problem)| problem.clone())
        .collect()
}

/// Reads the changed documents as files are read, with all their checks.
pub(super) fn read(
    dossier: &Dossier,
    exact: bool,
    memo: &Arc<Memo>,
) -> Result<Sweep, Vec<Diagnostic>> {
    let mut wrong = wrong_with(dossier, "", memo);
    for baseline in &dossier.baselines {
        wrong.extend(wrong_with(&dossier.of_baseline(baseline), "baseline.", memo));
    }
    wrong.retain(Diagnostic::is_error);
    if !wrong.is_empty() {
        return Err(wrong);
    }
    // What the case itself states keeps its uncertainty: it stands in the book and not in the fixture.
    let factor =
        |input: &Input| if exact && !dossier.takes_from(input.span.file) { 0.0 } else { 1.0 };
    Sweep::with(dossier, memo, factor).ok_or_else(Vec::new)
}

/// What the readers of a pan's documents say against them, and what does not fit into each other.
fn wrong_with(dossier: &Dossier, prefix: &str, memo: &Arc<Memo>) -> Vec<Diagnostic> {
    let mut found = Findings::default();
    let scene = read_scene(dossier, &[], prefix, None, memo, &mut found);
    if let Some(scene) = scene
        && !has_error(&found.problems)
    {
        found.problems.extend(contained(&scene));
    }
    found.problems
}
