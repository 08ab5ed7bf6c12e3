//! Values of a case put in place: the documents of a fixture with some nodes set and some left out.
//!
//! A node keeps the place where it was written, in the rulebook, so that what is said of it points there.

use crate::document::dossier::{Dossier, Part};
use crate::source::{Code, Diagnostic, Entry, Key, Node, Span, Value};
use std::sync::Arc;

/// One value changed.
#[derive(Debug, Clone)]
pub(super) struct Change {
    /// Dotted path into the fixture, or through `vehicle.`, `oil.`, `duty.` or `baseline.` into its copy of that
    /// document.
    pub(super) path: String,
    /// Where the path stands in the rulebook.
    pub(super) at: Span,
    /// What it is set to; nothing where it is left out.
    pub(super) to: Option<Node>,
}

/// The keys of a pan that refer to other documents.
const REFERENCES: [&str; 4] = ["vehicle", "oil", "duty", "baseline"];

impl Change {
    /// Whether it sets or leaves out a reference of the pan to another document.
    pub(super) fn is_reference(&self) -> bool {
        REFERENCES.contains(&self.path.as_str())
    }

    /// The document that it lies in and the rest of the path; the pan is named by an empty word.
    fn split(&self) -> (&str, &str) {
        match self.path.split_once('.') {
            Some((first, rest)) if REFERENCES.contains(&first) => (first, rest),
            _ => ("", &self.path),
        }
    }
}

/// Where the mapping or list stands that a path leads into: what a changed value is a part of.
pub(super) fn whole_of(dossier: &Dossier, change: &Change) -> Option<Span> {
    let (document, rest) = change.split();
    let part = match document {
        "vehicle" => dossier.vehicle.as_ref()?,
        "oil" => dossier.oil.as_ref()?,
        "duty" => dossier.duty.as_ref()?,
        "baseline" => dossier.baselines.first()?,
        _ => &dossier.pan,
    };
    let mut here = Node::clone(&part.node);
    for word in rest.rsplit_once('.')?.0.split('.') {
        here = step(&mut here, word)?.clone();
    }
    Some(here.span)
}

/// Changes of the pan itself.
pub(super) fn change_pan(pan: &Part, changes: &[Change]) -> Result<Part, Box<Diagnostic>> {
    let mut pan = pan.clone();
    for change in changes {
        if let ("", rest) = change.split() {
            change_part(&mut pan, change, rest)?;
        }
    }
    Ok(pan)
}

/// Changes of the documents that the pan refers to.
pub(super) fn change_others(
    dossier: &mut Dossier,
    changes: &[Change],
) -> Result<(), Box<Diagnostic>> {
    for change in changes {
        let (document, rest) = change.split();
        let parts: Vec<&mut Part> = match document {
            "vehicle" => dossier.vehicle.iter_mut().collect(),
            "oil" => dossier.oil.iter_mut().collect(),
            "duty" => dossier.duty.iter_mut().collect(),
            "baseline" => dossier.baselines.iter_mut().collect(),
            _ => continue,
        };
        if parts.is_empty() {
            let message =
                format!("the fixture has no {document}, so `{}` leads nowhere", change.path);
            return Err(bad(change.at, message));
        }
        for part in parts {
            change_part(part, change, rest)?;
        }
    }
    Ok(())
}

/// Changes without any reference set to another document: the references that are left out, or said to be none,
/// go with their documents.
pub(super) fn change_all(
    dossier: &Dossier,
    changes: &[Change],
) -> Result<Dossier, Box<Diagnostic>> {
    let mut changed = dossier.clone();
    changed.pan = change_pan(&dossier.pan, changes)?;
    for change in changes.iter().filter(|change| change.is_reference()) {
        match change.path.as_str() {
            "vehicle" => changed.vehicle = None,
            "oil" => changed.oil = None,
            "duty" => changed.duty = None,
            _ => changed.baselines.clear(),
        }
    }
    change_others(&mut changed, changes)?;
    Ok(changed)
}

fn change_part(part: &mut Part, change: &Change, path: &str) -> Result<(), Box<Diagnostic>> {
    let mut node = Node::clone(&part.node);
    put(&mut node, path, change)?;
    part.node = Arc::new(node);
    if !part.also.contains(&change.at.file) {
        part.also.push(change.at.file);
    }
    Ok(())
}

/// Puts a node in place, or takes one out.
fn put(document: &mut Node, path: &str, change: &Change) -> Result<(), Box<Diagnostic>> {
    let (way, last) = match path.rsplit_once('.') {
        Some((way, last)) => (Some(way), last),
        None => (None, path),
    };
    let mut here = document;
    for word in way.into_iter().flat_map(|way| way.split('.')) {
        here = step(here, word).ok_or_else(|| nowhere(change, word))?;
    }
    let place = step(here, last).is_some();
    match (&mut here.value, &change.to) {
        (_, Some(to)) if place => {
            if let Some(old) = step(here, last) {
                *old = to.clone();
            }
        }
        (Value::Mapping(entries), Some(to)) => {
            let key = Key { text: last.to_owned(), span: change.at };
            entries.push(Entry { key, value: to.clone() });
        }
        (Value::Mapping(entries), None) if place => entries.retain(|entry| entry.key.text != last),
        _ => return Err(nowhere(change, last)),
    }
    Ok(())
}

/// The value under a key, or at a place of a list.
fn step<'n>(node: &'n mut Node, word: &str) -> Option<&'n mut Node> {
    match &mut node.value {
        Value::Mapping(entries) => {
            entries.iter_mut().find(|entry| entry.key.text == word).map(|entry| &mut entry.value)
        }
        Value::Sequence(items) => items.get_mut(word.parse::<usize>().ok()?),
        Value::Null | Value::Scalar(_) => None,
    }
}

fn nowhere(change: &Change, word: &str) -> Box<Diagnostic> {
    bad(change.at, format!("the fixture has nothing at `{word}` of `{}`", change.path))
}

fn bad(at: Span, message: String) -> Box<Diagnostic> {
    Box::new(Diagnostic::error(Code::BadCase, at, message))
}
