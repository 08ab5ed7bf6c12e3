//! To which pan and rule of a review a concession belongs; what is named and is not there.

use crate::document::concessions::ConcessionDoc;
use crate::document::dossier::{Library, beside, folder_from};
use crate::document::object::Stage;
use crate::document::reader::{Findings, read_rulebook};
use crate::review::{BookUsed, PanReview, Review};
use crate::rule::WhatChanged;
use crate::source::{Code, Diagnostic, FileId, Files, Node, Sources, nearest, parse};
use std::collections::BTreeSet;

/// Where a concession belongs.
#[derive(Debug)]
pub(super) enum Place {
    /// To a pan of this review, by its number, which is in a state.
    Here { pan: usize, state: Option<Stage> },
    /// To a pan or a rule that is not judged here.
    Elsewhere,
    /// It cannot be said: a problem has been told.
    Nowhere,
}

/// Finds the place of every entry; what names nothing is among the problems.
pub(super) fn place<'e>(
    review: &mut Review,
    entries: &'e [(FileId, ConcessionDoc)],
    files: &dyn Files,
) -> Vec<(&'e ConcessionDoc, Place)> {
    let mut rules = Rules { here: here(review), known: None, files };
    let mut all = Vec::new();
    for (file, entry) in entries {
        let pan = of_pan(review, (*file, entry), files);
        let rule = rules.stands(review, entry);
        let place = match (pan, rule) {
            (Err(problem), rule) => {
                review.problems.push(*problem);
                review.problems.extend(rule.err().map(|problem| *problem));
                Place::Nowhere
            }
            (_, Err(problem)) => {
                review.problems.push(*problem);
                Place::Nowhere
            }
            (Ok(Some(pan)), Ok(true)) => {
                let path = review.pans.get(pan).map(|pan| pan.path.clone()).unwrap_or_default();
                Place::Here { pan, state: state(&review.sources, &path) }
            }
            _ => Place::Elsewhere,
        };
        all.push((entry, place));
    }
    all
}

/// The number of the pan that an entry names; none for one that is there and was not looked at.
fn of_pan(
    review: &Review,
    (file, entry): (FileId, &ConcessionDoc),
    files: &dyn Files,
) -> Result<Option<usize>, Box<Diagnostic>> {
    let folder = folder_from(review.sources.path(file), None);
    let path = beside(&folder, &entry.pan.text);
    if let Some(pan) = review.pans.iter().position(|pan| files.is_same(&pan.path, &path)) {
        return Ok(Some(pan));
    }
    if files.exists(&path) {
        return Ok(None);
    }
    let message = format!("there is no pan {path}");
    let problem = Diagnostic::error(Code::BadReference, entry.pan.span, message);
    let paths: Vec<&str> = review.pans.iter().map(|pan: &PanReview| pan.path.as_str()).collect();
    Err(Box::new(problem.help(match nearest(&path, paths) {
        Some(near) => format!("did you mean {near}? a path is taken from the folder of this file"),
        None => "a path is taken from the folder of this file; take the entry out if the pan is gone"
            .to_owned(),
    })))
}

/// The ids of rules.
struct Rules<'a> {
    /// Those judged here; none where the rulebook is at fault.
    here: BTreeSet<String>,
    /// Those known besides, once they have been asked for.
    known: Option<BTreeSet<String>>,
    files: &'a dyn Files,
}

impl Rules<'_> {
    /// Whether the rule of an entry is judged here.
    fn stands(&mut self, review: &Review, entry: &ConcessionDoc) -> Result<bool, Box<Diagnostic>> {
        let id = entry.rule.text.as_str();
        if self.here.contains(id) {
            return Ok(true);
        }
        if self.here.is_empty() {
            return Ok(false);
        }
        let files = self.files;
        let known = self.known.get_or_insert_with(|| rules_elsewhere(&review.book, files));
        if known.contains(id) {
            return Ok(false);
        }
        let message = format!("there is no rule {id}");
        let problem = Diagnostic::error(Code::UnknownName, entry.rule.span, message);
        let all = self.here.iter().chain(known.iter()).map(String::as_str);
        Err(Box::new(problem.help(match nearest(id, all) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "`sumpwright explain` lists the ids of all rules".to_owned(),
        })))
    }
}

fn here(review: &Review) -> BTreeSet<String> {
    review.book.ids.iter().cloned().collect()
}

/// Rules that this review does not judge by: those dropped, and those that the host brings along.
pub(crate) fn rules_elsewhere(book: &BookUsed, files: &dyn Files) -> BTreeSet<String> {
    let changes = book.layers.iter().flat_map(|layer| &layer.changes);
    let dropped = changes
        .filter(|change| matches!(change.what, WhatChanged::Dropped { .. }))
        .map(|change| change.rule.clone());
    let mut known: BTreeSet<String> = dropped.collect();
    let mut library = Library::new(files);
    for part in library.built_in() {
        let book = read_rulebook(&part.node, &mut Findings::default());
        known.extend(book.into_iter().flat_map(|book| book.rules).map(|rule| rule.id.text));
    }
    known
}

/// The state that a pan says it is in.
fn state(sources: &Sources, path: &str) -> Option<Stage> {
    let file = sources.files().find(|file| sources.path(*file) == path)?;
    let node = parse(sources, file, &mut Vec::new())?;
    let state = node.get("object").and_then(|object| object.get("state")).and_then(Node::scalar)?;
    match state.text.as_str() {
        "as made" => Some(Stage::AsMade),
        "as designed" => Some(Stage::AsDesigned),
        _ => None,
    }
}
