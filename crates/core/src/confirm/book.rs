//! The folder's rulebook beside the one that the reader means.

use super::found::RulebookFound;
use super::{Again, ConfirmRequest};
use crate::compare::{CompareRequest, compare};
use crate::declare::Record;
use crate::review;

/// The edition of the rulebook's files as the statement lists them, where the documents do not lead to them: that a pan
/// is gone says nothing of the rules.
fn of_files(request: ConfirmRequest<'_>, record: &Record) -> String {
    let text = |path: &String| {
        let bytes = request.folder.files.get(path)?;
        Some((path.clone(), String::from_utf8(bytes.clone()).ok()?))
    };
    let texts: Option<Vec<(String, String)>> =
        record.requirements.rulebook.iter().map(text).collect();
    texts.map_or_else(String::new, |texts| review::read_book(request.folder, &texts).0.edition)
}

/// The rulebook in the folder is used only where the reader knows it to be the one meant.
pub(super) fn rulebook(
    request: ConfirmRequest<'_>,
    record: &Record,
    again: &Again,
) -> RulebookFound {
    let declared = record.requirements.edition.clone();
    let found = match &again.judging {
        Some(_) => again.review.book.edition.clone(),
        None => of_files(request, record),
    };
    let own = request.own;
    let built_in = own.files.built_in();
    let (own_texts, known_by) = match (own.rulebook, own.edition) {
        (Some(texts), _) => (Some(texts), "it is the rulebook given"),
        (None, Some(_)) => (None, "it is the edition given"),
        (None, None) => (Some(built_in.as_slice()), "it is the one built into this program"),
    };
    let wanted = match (own_texts, own.edition) {
        (_, Some(edition)) if own.rulebook.is_none() => edition.to_owned(),
        (Some(texts), _) => review::read_book(own.files, texts).0.edition,
        (None, _) => String::new(),
    };
    let same = !wanted.is_empty() && wanted == declared && declared == found;
    let beside = own_texts.filter(|_| !same && !found.is_empty()).and_then(|old| {
        let judging = again.judging.as_ref()?;
        // By a path of its own: a changed copy of what is built in has the same.
        let theirs: Vec<(String, String)> = judging
            .rulebook
            .iter()
            .map(|(path, text)| (format!("{}/{path}", request.name), text.clone()))
            .collect();
        let names = ["yours", "the folder's"];
        Some(compare(CompareRequest { files: own.files, names, old, new: &theirs, pans: &[] }))
    });
    RulebookFound {
        declared,
        found,
        known_by: same.then_some(known_by),
        given: own.rulebook.is_some() || own.edition.is_some(),
        wanted: Some(wanted).filter(|_| !same),
        beside,
    }
}
