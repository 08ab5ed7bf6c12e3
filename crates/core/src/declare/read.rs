//! The document of a declaration, and the files that it names.

use super::noted::Noted;
use super::{Judging, is_yaml};
use crate::checklist;
use crate::document::Text;
use crate::document::declaration::DeclarationDoc;
use crate::document::dossier::{DOCUMENT_LIMIT, Library, Part};
use crate::document::object::{ObjectDoc, Stage};
use crate::document::reader::{Findings, ReadOptions, read_declaration, read_pan};
use crate::document::watched::Parts;
use crate::review::{self, EvidenceHeld, Review};
use crate::rule::BUILT_IN;
use crate::source::{Code, Diagnostic, Files, has_error};

/// A document that asks for a declaration, with the paths it leads to.
#[derive(Debug)]
pub(crate) struct Asked {
    pub(crate) doc: DeclarationDoc,
    pub(crate) judging: Judging,
    /// Files that stay secret: path and reason.
    pub(crate) withheld: Vec<(String, String)>,
}

/// Reads it.
///
/// # Errors
/// What is wrong with it, as a review without pans.
pub(crate) fn read(files: &dyn Files, path: &str, absent: &[String]) -> Result<Asked, Box<Review>> {
    let mut library = Library::new(files);
    let asked = asked(&mut library, files, (path, absent));
    let fault = has_error(&library.problems);
    match asked.filter(|_| !fault) {
        Some(asked) => Ok(asked),
        None => Err(Box::new(review::without_pans(library.sources, library.problems))),
    }
}

fn asked(
    library: &mut Library<'_>,
    files: &dyn Files,
    (path, absent): (&str, &[String]),
) -> Option<Asked> {
    let part = library.list_named_by_user(path)?;
    let mut found = Findings::default();
    let doc = read_declaration(&part.node, &mut found);
    library.problems.append(&mut found.problems);
    let doc = doc?;
    let mut lead = |names: &[Text]| -> Vec<String> {
        names.iter().filter_map(|name| library.leads_to(&part, name)).collect()
    };
    let (pans, checklists, concessions) =
        (lead(&doc.pans), lead(&doc.checklists), lead(&doc.concessions));
    let mut withheld = Vec::new();
    for secret in doc.withheld.entries.iter().map(|entry| &entry.value) {
        let Some(path) = library.points_to(&part, &secret.file) else { continue };
        if absent.contains(&path) || library.leads_to(&part, &secret.file).is_some() {
            withheld.push((path, secret.because.text.clone()));
        }
    }
    let rulebook = rulebook(library, files, &part, &doc);
    let longest = library.project_of(&part.path).and_then(|project| {
        let read = review::read_project_file(files, &project).project?;
        Some(read.concession_days?.value)
    });
    let on = doc.issued.on.date;
    let judging = Judging { pans, rulebook, checklists, concessions, on, longest };
    Some(Asked { doc, judging, withheld })
}

/// Path and text of each file of the rulebook.
fn rulebook(
    library: &mut Library<'_>,
    files: &dyn Files,
    part: &Part,
    doc: &DeclarationDoc,
) -> Vec<(String, String)> {
    let mut texts = Vec::new();
    if doc.rulebooks.is_empty() || doc.rulebooks.iter().any(|name| name.text == BUILT_IN) {
        texts.extend(files.built_in());
    }
    for name in doc.rulebooks.iter().filter(|name| name.text != BUILT_IN) {
        let Some(path) = library.leads_to(part, name) else { continue };
        let text =
            files.read(&path, None, DOCUMENT_LIMIT).ok().and_then(|b| String::from_utf8(b).ok());
        if let Some(text) = text {
            texts.push((path, text));
        } else {
            let message = format!("{path} cannot be read as text of a rulebook");
            library.problems.push(Diagnostic::error(Code::BadReference, name.span, message));
        }
    }
    texts
}

/// What is declared, and what else belongs to the supporting file.
#[derive(Debug, Default)]
pub(super) struct Attached {
    /// The identity of each pan, in the order of the review.
    pub(super) objects: Vec<super::Object>,
    /// The evidence by its name.
    pub(super) evidence: Vec<(String, EvidenceHeld)>,
}

/// Looks at what no review looks at; what is wrong with it is added to the problems of the review.
pub(super) fn attached(
    files: &Noted<'_>,
    path: &str,
    asked: &Asked,
    review: &mut Review,
) -> Attached {
    let mut library = Library::over(files, std::mem::take(&mut review.sources));
    let mut found = Attached::default();
    let part = library.list_named_by_user(path);
    // Read anew, so that its spans are those of this review.
    let doc = part.as_ref().and_then(|part| read_declaration(&part.node, &mut Findings::default()));
    if let (Some(part), Some(doc)) = (part, doc) {
        for pan in &review.pans {
            let name = doc
                .pans
                .iter()
                .find(|name| library.leads_to(&part, name).as_ref() == Some(&pan.path));
            found.objects.extend(object(&mut library, &pan.path, name));
        }
        for entry in &doc.evidence.entries {
            let held = checklist::evidence(&mut library, &part, &entry.value);
            found.evidence.extend(held.map(|held| (entry.name.clone(), held)));
        }
        unused(&mut library, files, &part, (&doc, asked));
    }
    review.sources = library.sources;
    review.problems.append(&mut library.problems);
    review.problems.sort_by(|a, b| {
        (a.primary.span, a.code, &a.message).cmp(&(b.primary.span, b.code, &b.message))
    });
    found
}

/// Which thing exactly is declared: without that, a declaration is about nothing.
fn object(library: &mut Library<'_>, path: &str, name: Option<&Text>) -> Option<super::Object> {
    let part = library.named_by_user(path)?;
    let options = ReadOptions { shifts: &[], exact: false, prefix: "", moved: Parts::ALL };
    let pan = read_pan(&part.node, options, &mut Findings::default())?;
    let object = pan.object.stated();
    let identity = object.and_then(identified);
    if identity.is_none() {
        let at = object.map(|object| object.span).or(name.map(|name| name.span))?;
        let message = "what is declared has to be told apart from everything else";
        let help =
            "state `object` in the pan with `name`, `state`, and `revision` or `part_number`";
        let problem = Diagnostic::error(Code::MissingKey, at, message);
        let problem = name.map_or(problem.clone(), |name| problem.also(name.span, "declared here"));
        library.problems.push(problem.help(help));
    }
    let (name, state) = identity?;
    let text = |text: &Option<Text>| text.as_ref().map(|text| text.text.clone());
    let object = object?;
    Some(super::Object {
        pan: path.to_owned(),
        name,
        revision: text(&object.revision),
        part_number: text(&object.part_number),
        state,
    })
}

fn identified(object: &ObjectDoc) -> Option<(String, String)> {
    object.revision.as_ref().or(object.part_number.as_ref())?;
    let state = match object.state.as_ref()?.value {
        Stage::AsDesigned => "as designed",
        Stage::AsMade => "as made",
    };
    Some((object.name.as_ref()?.text.clone(), state.to_owned()))
}

/// A secret that nothing is judged with is a mistake.
fn unused(
    library: &mut Library<'_>,
    files: &Noted<'_>,
    part: &Part,
    (doc, asked): (&DeclarationDoc, &Asked),
) {
    for entry in &doc.withheld.entries {
        let file = &entry.value.file;
        let Some(path) = library.leads_to(part, file) else { continue };
        if is_document(&path, asked) || path == part.path {
            let message =
                "only a file of data can be withheld: a mesh, a table of depths, a recorded drive";
            library.problems.push(Diagnostic::error(Code::Contradiction, file.span, message));
        } else if !files.was_read(&path) {
            let message =
                format!("nothing that is declared uses {path}, so there is nothing to withhold");
            library.problems.push(Diagnostic::error(Code::BadReference, file.span, message));
        }
    }
}

/// Whether it is one of the documents, of which no declaration can do without.
fn is_document(path: &String, asked: &Asked) -> bool {
    let judging = &asked.judging;
    [&judging.pans, &judging.checklists, &judging.concessions]
        .into_iter()
        .any(|paths| paths.contains(path))
        || is_yaml(path)
}
