//! Pans held against what a repository already knew: only what is worse or new is told, and what is known and no more.
//! Only pans are judged that a change can bear on; of the others it is known what they came to, from all that they
//! were made from. What is told of a pan is judged in full in the same run, and never taken from memory.

mod against;
mod asked;
mod hold;
mod list;
mod look;
mod results;

use crate::concede::{self, ConcedeRequest};
use crate::document::dossier::tidy;
use crate::model::Memo;
use crate::review::{Review, Ruled};
use crate::source::{Diagnostic, Files, has_error};
use list::List;
use look::{Look, Looker};
use results::Results;
use std::collections::BTreeSet;
use std::sync::Arc;

/// What is asked for.
#[derive(Clone, Copy)]
pub struct ScreenRequest<'a> {
    /// The host's files.
    pub files: &'a dyn Files,
    /// The folder from which the list names pans, as a path from the working directory; empty for that itself.
    pub folder: &'a str,
    /// Paths of the pans.
    pub pans: &'a [String],
    /// Files of which something has changed, if only pans are meant that one of these bears on; a file that is gone
    /// counts as well, and one that no pan uses bears on none.
    pub names: Option<&'a [String]>,
    /// Files that bear on every pan, beside the rulebook and the list.
    pub bearing: &'a [String],
    /// Path as shown and text of each file of the rulebook.
    pub rulebook: &'a [(String, String)],
    /// Path of the list of known findings; none where everything counts.
    pub known: Option<&'a str>,
    /// The concessions that hold.
    pub conceding: ConcedeRequest<'a>,
    /// What is to become of the list.
    pub writing: Writing,
    /// The command that takes out of the list what is no more.
    pub tidying: &'a str,
    /// What earlier runs came to, where that may be used.
    pub memory: Option<Memory<'a>>,
}

/// What is to become of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Writing {
    /// It stays as it is.
    Nothing,
    /// What is no more is taken out, and what is better is written as it is now; nothing is put in.
    Tidied,
    /// Everything found becomes known.
    Everything,
}

/// What earlier runs came to.
#[derive(Debug, Clone, Copy)]
pub struct Memory<'a> {
    /// What the program is made of: results of another are not used.
    pub engine: &'a str,
    /// The text that an earlier run left; empty where there is none.
    pub text: &'a str,
}

impl std::fmt::Debug for ScreenRequest<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("ScreenRequest").field("pans", &self.pans).finish_non_exhaustive()
    }
}

/// What came of it.
#[derive(Debug)]
pub struct Screened {
    /// What is told, and nothing else.
    pub review: Review,
    /// The text of the list, where it is to be another and every pan could be judged.
    pub known: Option<String>,
    /// The text to keep for later runs; none where there is nothing new in it.
    pub memory: Option<String>,
}

/// Holds pans against what is known.
pub fn screen(request: ScreenRequest<'_>) -> Screened {
    let mut ruled = Ruled::read(request.files, request.rulebook);
    let texts = ruled.sources.files().map(|file| ruled.sources.text(file));
    let key = request.memory.map(|memory| results::key(memory.engine, texts));
    let names = named(&request, &ruled);
    let list = request.known.map(|path| List::read(&request, path, &mut ruled));
    let list = list.unwrap_or_default();
    // Held against nothing, all that was ever known would be told as new.
    let (request, key) = if list.is_torn {
        (ScreenRequest { pans: &[], memory: None, ..request }, None)
    } else {
        (request, key)
    };
    let before = match (request.memory, &key) {
        (Some(memory), Some(key)) => Results::read(memory.text, key),
        _ => Results::default(),
    };
    let conceded = concede::named(request.files, request.conceding.paths);
    let looker = Looker::new(&request, &ruled, &list, (names, conceded), before);
    let (looks, memo) = looker.look();
    let whole: Vec<String> = looks
        .iter()
        .filter(|(_, look)| matches!(look, Look::Whole))
        .map(|(pan, _)| (*pan).clone())
        .collect();
    let review = in_full(&request, &ruled, &whole, &memo);
    let memory = key.and_then(|key| looker.memory(&key));
    let names = looker.names;
    let mut found = hold::Held::new(&request, &list, names.as_ref());
    let review = found.hold(review, &looks);
    let known = (request.writing != Writing::Nothing && !has_error(&review.problems))
        .then(|| found.known());
    Screened { review, known, memory }
}

/// The names that narrow what is looked at; none where all is, because one of them bears on everything.
fn named(request: &ScreenRequest<'_>, ruled: &Ruled) -> Option<BTreeSet<String>> {
    let names: BTreeSet<String> = request.names?.iter().map(|name| tidy(name)).collect();
    let books = ruled.sources.files().map(|file| ruled.sources.path(file));
    let bearing = request.bearing.iter().map(String::as_str).chain(request.known).chain(books);
    let all = bearing.into_iter().any(|path| names.contains(&tidy(path)));
    (!all).then_some(names)
}

/// Judges in full what has to be told, with all that people have accepted of it.
fn in_full(
    request: &ScreenRequest<'_>,
    ruled: &Ruled,
    whole: &[String],
    memo: &Arc<Memo>,
) -> Review {
    let mut review = ruled.review(request.files, whole, memo);
    let mut problems: Vec<Diagnostic> = ruled.problems.clone();
    problems.append(&mut review.problems);
    review.problems = problems;
    concede::concede(review, request.conceding)
}
