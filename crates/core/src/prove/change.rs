//! A fixture with the changes of a case: nodes put in or taken out of its tree, so that the changed documents go
//! through the same readers as a file.

use crate::document::dossier::{Dossier, Library, Part};
use crate::document::rulebook::CaseDoc;
use crate::source::{Entry, FileId, Key, Node, Span, Value};
use std::sync::Arc;

/// The fixture of a case as the case changes it.
///
/// # Errors
/// Says which fixture or path is not there.
pub(super) fn changed(
    library: &mut Library<'_>,
    fixture: &str,
    case: &CaseDoc,
    rulebook: FileId,
) -> Result<Dossier, String> {
    let mut pan = library
        .named_by_user(fixture)
        .ok_or_else(|| format!("the fixture {fixture} cannot be read"))?;
    let own = |path: &str| !path.split_once('.').is_some_and(|(first, _)| is_document(first));
    for (path, node) in case.set.iter().filter(|(path, _)| own(&path.text)) {
        put(&mut pan, &path.text, node, path.span, rulebook)?;
    }
    for path in case.dropped.iter().filter(|path| own(&path.text)) {
        take(&mut pan, &path.text)?;
    }
    let mut dossier = library.dossier_of(pan);
    for (path, node) in case.set.iter().filter(|(path, _)| !own(&path.text)) {
        let rest = of_document(&path.text);
        for part in parts(&mut dossier, &path.text)? {
            put(part, rest, node, path.span, rulebook)?;
        }
    }
    for path in case.dropped.iter().filter(|path| !own(&path.text)) {
        for part in parts(&mut dossier, &path.text)? {
            take(part, of_document(&path.text))?;
        }
    }
    Ok(dossier)
}

fn is_document(word: &str) -> bool {
    matches!(word, "vehicle" | "oil" | "duty" | "baseline")
}

fn of_document(path: &str) -> &str {
    path.split_once('.').map_or("", |(_, rest)| rest)
}

/// The documents that the first word of a path walks into.
fn parts<'d>(dossier: &'d mut Dossier, path: &str) -> Result<Vec<&'d mut Part>, String> {
    let word = path.split('.').next().unwrap_or_default();
    let parts: Vec<&mut Part> = match word {
        "vehicle" => dossier.vehicle.iter_mut().collect(),
        "oil" => dossier.oil.iter_mut().collect(),
        "duty" => dossier.duty.iter_mut().collect(),
        _ => dossier.baselines.iter_mut().collect(),
    };
    if parts.is_empty() { Err(format!("the fixture has no {word} to change")) } else { Ok(parts) }
}

fn put(
    part: &mut Part,
    path: &str,
    node: &Node,
    span: Span,
    rulebook: FileId,
) -> Result<(), String> {
    part.also = Some(rulebook);
    let (entries, word) = home(Arc::make_mut(&mut part.node), path)?;
    match entries.iter_mut().find(|entry| entry.key.text == word) {
        Some(entry) => entry.value = node.clone(),
        None => {
            entries.push(Entry { key: Key { text: word.to_owned(), span }, value: node.clone() });
        }
    }
    Ok(())
}

fn take(part: &mut Part, path: &str) -> Result<(), String> {
    let (entries, word) = home(Arc::make_mut(&mut part.node), path)?;
    let before = entries.len();
    entries.retain(|entry| entry.key.text != word);
    if entries.len() == before {
        return Err(format!("the fixture has no {path} to drop"));
    }
    Ok(())
}

/// The mapping in which the last word of a path stands.
fn home<'n, 'p>(
    node: &'n mut Node,
    path: &'p str,
) -> Result<(&'n mut Vec<Entry>, &'p str), String> {
    let (way, last) = path.rsplit_once('.').unwrap_or(("", path));
    let mut here = node;
    for word in way.split('.').filter(|word| !word.is_empty()) {
        let Value::Mapping(entries) = &mut here.value else {
            return Err(format!("{path} leads through something that is no mapping"));
        };
        here = entries
            .iter_mut()
            .find(|entry| entry.key.text == word)
            .map(|entry| &mut entry.value)
            .ok_or_else(|| format!("the fixture has no {word} on the way to {path}"))?;
    }
    match &mut here.value {
        Value::Mapping(entries) => Ok((entries, last)),
        _ => Err(format!("{path} leads into something that is no mapping")),
    }
}
