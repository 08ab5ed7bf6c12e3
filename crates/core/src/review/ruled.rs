//! A rulebook read once, for many reviews of a few pans each.

use super::run::Run;
use super::{BookUsed, Conceding, Review};
use crate::document::dossier::Library;
use crate::model::Memo;
use crate::rule::{Rulebook, assemble};
use crate::source::{Diagnostic, Files, Sources, has_error};
use std::sync::Arc;

/// A rulebook with the texts that it was read from. Reviews by it go on from these texts, so that a place in one of
/// them is the same place in all.
#[derive(Debug)]
pub(crate) struct Ruled {
    pub(crate) sources: Sources,
    /// What is wrong with the rulebook; whoever reads more texts after it may add to this.
    pub(crate) problems: Vec<Diagnostic>,
    pub(crate) rulebook: Rulebook,
    pub(crate) book: BookUsed,
    stands: bool,
}

impl Ruled {
    /// Reads a rulebook.
    pub(crate) fn read(files: &dyn Files, texts: &[(String, String)]) -> Self {
        let mut library = Library::new(files);
        let rulebook = assemble(&mut library, texts);
        let book = BookUsed::of(&rulebook, &library.problems);
        let (sources, problems) = (library.sources, library.problems);
        let stands = !has_error(&problems);
        Self { sources, problems, rulebook, book, stands }
    }

    /// Whether it can be judged by.
    pub(crate) fn stands(&self) -> bool {
        self.stands
    }

    /// Judges pans, with what is wrong with them and not with the rulebook.
    pub(crate) fn review(&self, files: &dyn Files, paths: &[String], memo: &Arc<Memo>) -> Review {
        let library = Library::over(files, self.sources.clone());
        let mut run = Run::over(library, Arc::clone(memo));
        let dossiers = run.dossiers(paths);
        let mut pans = if self.stands {
            run.judged(&dossiers, &self.rulebook, false, |_, _, _, _| {})
        } else {
            Vec::new()
        };
        pans.sort_by(|a, b| a.path.cmp(&b.path));
        let (sources, problems) = run.finish();
        Review {
            sources,
            pans,
            problems,
            rules: self.rulebook.rules.len(),
            book: self.book.clone(),
            checklists: Vec::new(),
            conceding: Conceding::default(),
            screening: None,
        }
    }
}
