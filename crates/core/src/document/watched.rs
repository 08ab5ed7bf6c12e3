//! Which parts of the documents were looked at: what a reading did not look at cannot move it.
//!
//! A part is what stands under one key at the top of a document. A document notes the parts that are looked at
//! while somebody asks for it; whatever is looked at elsewhere meanwhile is noted too, so that too much may be
//! noted and never too little.

use super::DocumentKind;
use super::field::fields;
use std::ops::Deref;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

/// A set of parts of one document.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Parts(u64);

impl Parts {
    /// All parts.
    pub const ALL: Self = Self(u64::MAX);

    /// The part that a dotted path lies in; all parts where there is none of that name, so that nothing is missed.
    pub fn of(document: DocumentKind, path: &str) -> Self {
        let first = path.split('.').next().unwrap_or(path);
        let mut tops = fields(document).iter().map(|row| row.path).filter(|p| !p.contains('.'));
        match tops.position(|top| top == first) {
            Some(place) if place < 64 => Self(1 << place),
            _ => Self::ALL,
        }
    }

    /// Both together.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Whether they have a part in common.
    pub fn meets(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }
}

/// Where a document notes the parts that are looked at.
#[derive(Debug, Clone, Default)]
pub struct Notebook(Arc<AtomicU64>);

impl Notebook {
    /// Notes parts.
    pub fn note(&self, parts: Parts) {
        // Looked at before it is written: threads that read one document do not hinder each other.
        if self.0.load(Ordering::Relaxed) & parts.0 != parts.0 {
            self.0.fetch_or(parts.0, Ordering::Relaxed);
        }
    }

    /// What was noted, after which nothing is.
    pub fn take(&self) -> Parts {
        Parts(self.0.swap(0, Ordering::Relaxed))
    }
}

/// A part of a document, which is noted when it is looked at.
#[derive(Debug, Clone)]
pub struct Watched<T> {
    value: T,
    part: Parts,
    notebook: Notebook,
}

impl<T> Watched<T> {
    /// A value that is this part of the document with that notebook.
    pub fn new(value: T, part: Parts, notebook: &Notebook) -> Self {
        Self { value, part, notebook: notebook.clone() }
    }
}

impl<T> Deref for Watched<T> {
    type Target = T;

    fn deref(&self) -> &T {
        self.notebook.note(self.part);
        &self.value
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_looked_at_is_noted_once_it_is() {
        let notebook = Notebook::default();
        let part = |path| Parts::of(DocumentKind::Vehicle, path);
        let check = Watched::new(1, part("check.level"), &notebook);
        let mount = Watched::new(2, part("mount"), &notebook);
        assert_eq!(notebook.take(), Parts::default());
        assert_eq!(*check, 1);
        let noted = notebook.take();
        assert!(noted.meets(part("check.at.x")) && !noted.meets(part("mount.nose_up")));
        assert_eq!(*mount + *check, 3);
        assert_eq!(notebook.take(), part("check").with(part("mount")));
    }

    #[test]
    fn every_document_has_few_enough_parts_and_an_unknown_one_is_all() {
        for kind in DocumentKind::ALL {
            for row in fields(kind) {
                assert_ne!(Parts::of(kind, row.path), Parts::ALL, "{}", row.path);
            }
            assert_eq!(Parts::of(kind, "no_such_key.at_all"), Parts::ALL);
        }
    }
}
