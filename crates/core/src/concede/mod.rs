//! Accepted departures: a review, lists of concessions and a day become the same review with every finding marked that
//! a concession bears on, and with what is against the concessions themselves. No verdict of a rule is made here, and
//! nothing is taken out.

mod against;
mod cover;
mod place;

use crate::document::concessions::ConcessionDoc;
use crate::document::date::Date;
use crate::document::dossier::{Library, beside, folder_from};
use crate::document::reader::{Findings, read_concessions};
use crate::review::Review;
use crate::source::{Code, Diagnostic, FileId, Files};
pub(crate) use place::rules_elsewhere;

use place::Place;

/// So many days before its end a concession is warned of. Our own choice, no source: a month to decide in.
const WARNING_DAYS: i64 = 30;

/// What is asked for.
#[derive(Clone, Copy)]
pub struct ConcedeRequest<'a> {
    /// The host's files.
    pub files: &'a dyn Files,
    /// Paths of the lists of concessions.
    pub paths: &'a [String],
    /// The day to judge by.
    pub on: Option<Date>,
    /// The longest term that a concession may have, in days.
    pub longest: Option<u32>,
}

impl std::fmt::Debug for ConcedeRequest<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("ConcedeRequest").field("paths", &self.paths).finish_non_exhaustive()
    }
}

/// The pans that the entries of lists name, sound or not: what they have to say is known only once these are judged.
pub(crate) fn named(files: &dyn Files, paths: &[String]) -> Vec<String> {
    let mut library = Library::new(files);
    let entries = read(&mut library, paths);
    let pan = |(file, entry): &(FileId, ConcessionDoc)| {
        beside(&folder_from(library.sources.path(*file), None), &entry.pan.text)
    };
    entries.iter().map(pan).collect()
}

/// Marks a review. What is wrong with a list is among the problems of the review; an entry that is not sound marks
/// nothing.
pub fn concede(mut review: Review, request: ConcedeRequest<'_>) -> Review {
    review.conceding.on = request.on;
    let mut library = Library::over(request.files, std::mem::take(&mut review.sources));
    let entries = read(&mut library, request.paths);
    review.sources = library.sources;
    review.problems.append(&mut library.problems);
    review.conceding.read = entries.len();
    conceded(&mut review, &entries, request);
    review.problems.sort_by(|a, b| {
        (a.primary.span, a.code, &a.message).cmp(&(b.primary.span, b.code, &b.message))
    });
    review.conceding.findings.sort_by_key(|finding| (finding.span, finding.fault));
    review
}

/// The entries that are sound, in the order of the files' names and in which they stand.
fn read(library: &mut Library<'_>, paths: &[String]) -> Vec<(FileId, ConcessionDoc)> {
    let mut paths: Vec<&String> = paths.iter().collect();
    paths.sort();
    paths.dedup();
    let mut entries = Vec::new();
    for path in paths {
        let Some(part) = library.named_by_user(path) else { continue };
        let mut found = Findings::default();
        let list = read_concessions(&part.node, &mut found);
        library.problems.append(&mut found.problems);
        let accepted = list.into_iter().flat_map(|list| list.accepted);
        entries.extend(accepted.map(|entry| (part.file, entry)));
    }
    entries
}

fn conceded(review: &mut Review, entries: &[(FileId, ConcessionDoc)], request: ConcedeRequest<'_>) {
    let Some((_, first)) = entries.first() else { return };
    let placed = place::place(review, entries, request.files);
    let Some(on) = request.on else {
        let message = format!(
            "`{}` ends on {}, and the day to judge it by is not given",
            first.name.text, first.expires.date
        );
        let problem = Diagnostic::error(Code::NoDate, first.expires.span, message);
        review.problems.push(problem.help(
            "say the day with `--on`, as in `--on 2026-11-25`: the same day gives the same review for ever",
        ));
        return;
    };
    for (entry, place) in placed {
        let (pan, state) = match place {
            Place::Here { pan, state } => (pan, state),
            Place::Elsewhere => {
                review.conceding.elsewhere += 1;
                continue;
            }
            Place::Nowhere => continue,
        };
        let Some(pan) = review.pans.get_mut(pan) else { continue };
        let mut found = cover::cover(entry, pan, (on, state));
        found.findings.extend(against::too_wide(entry, pan, request.longest));
        review.conceding.findings.append(&mut found.findings);
        review.problems.extend(found.problem);
        review.problems.extend(ends_soon(entry, on));
    }
}

/// A warning where the last days have begun.
fn ends_soon(entry: &ConcessionDoc, on: Date) -> Option<Diagnostic> {
    let days = entry.expires.date.days_after(on);
    if !(0..=WARNING_DAYS).contains(&days) {
        return None;
    }
    let when = match days {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        days => format!("in {days} days"),
    };
    let message = format!("`{}` ends {when}, on {}", entry.name.text, entry.expires.date);
    let problem = Diagnostic::warning(Code::ExpiresSoon, entry.expires.span, message);
    Some(problem.help("mend what it covers, or have it accepted anew"))
}
