//! A supplier's declaration: what a document asks to have declared is judged where it lies, refused where something is
//! not shown, copied into a folder, and judged again there, so that whoever gets the folder can do the same.

mod layout;
mod noted;
mod pack;
mod read;
mod record;
mod refusal;

pub use layout::INPUTS;
pub use pack::{Package, sha256};
pub use record::{
    Assessor, ClauseResult, Evidence, Issuer, Listed, Object, Person, Record, Requirements, Role,
    RuleResult,
};
pub use refusal::Refusal;

use crate::checklist;
use crate::concede::{self, ConcedeRequest};
use crate::document::date::Date;
use crate::review::{self, Request, Review};
use crate::source::{Files, has_error};
use noted::Noted;
pub(crate) use pack::{clauses as clauses_of, results as results_of};
pub(crate) use read::{Asked, read};

/// What is asked for.
#[derive(Clone, Copy)]
pub struct DeclareRequest<'a> {
    /// The host's files.
    pub files: &'a dyn Files,
    /// The path of the declaration's document.
    pub path: &'a str,
    /// The whole path of one that is taken from the working directory, without following links.
    pub absolute: &'a dyn Fn(&str) -> String,
}

impl std::fmt::Debug for DeclareRequest<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("DeclareRequest").field("path", &self.path).finish_non_exhaustive()
    }
}

/// What comes of it.
#[derive(Debug)]
pub struct Declared {
    /// The review of everything that is declared, where it lies, with all that is wrong with the documents.
    pub review: Review,
    /// What is not shown.
    pub refusals: Vec<Refusal>,
    /// What to hand over; nothing where a document is at fault or something is not shown.
    pub package: Option<Package>,
}

/// Judges what a document asks to have declared, and puts together what to hand over.
pub fn declare(request: DeclareRequest<'_>) -> Declared {
    let files = Noted::new(request.files);
    let asked = match read(&files, request.path, &[]) {
        Ok(asked) => asked,
        Err(review) => return Declared { review: *review, refusals: Vec::new(), package: None },
    };
    let mut review = judge(&files, &asked.judging, false);
    let attached = read::attached(&files, request.path, &asked, &mut review);
    if has_error(&review.problems) {
        return Declared { review, refusals: Vec::new(), package: None };
    }
    let refusals = refusal::refusals(&review);
    if !refusals.is_empty() {
        return Declared { review, refusals, package: None };
    }
    match pack::pack(&files, request, &asked, &attached, &review) {
        Ok(package) => Declared { review, refusals, package: Some(package) },
        Err(refusal) => Declared { review, refusals: vec![refusal], package: None },
    }
}

/// What is judged, and by what.
#[derive(Debug, Clone)]
pub(crate) struct Judging {
    pub(crate) pans: Vec<String>,
    /// Path as shown and text.
    pub(crate) rulebook: Vec<(String, String)>,
    pub(crate) checklists: Vec<String>,
    pub(crate) concessions: Vec<String>,
    pub(crate) on: Date,
    pub(crate) longest: Option<u32>,
}

/// The review of it, with concessions and customers' lists. Nothing that was computed before is looked at.
pub(crate) fn judge(files: &dyn Files, judging: &Judging, drawn: bool) -> Review {
    let Judging { pans, rulebook, checklists, concessions, on, longest } = judging;
    let found = review::review(Request { files, pans, rulebook, drawn });
    let request = ConcedeRequest { files, paths: concessions, on: Some(*on), longest: *longest };
    checklist::hold(concede::concede(found, request), files, checklists)
}

/// Whether a file is a document by its name.
pub(crate) fn is_yaml(path: &str) -> bool {
    std::path::Path::new(path).extension().is_some_and(|end| end.eq_ignore_ascii_case("yaml"))
}
