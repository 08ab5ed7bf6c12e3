//! Which parts of the documents were looked at: what a reading did not look at cannot move it.
//!
//! A part is what stands under one key at the top of a document, or under one of the keys below it that are told apart.
//! A document notes the parts that are looked at
//! while somebody asks for it; whatever is looked at elsewhere meanwhile is noted too, so that too much may be
//! noted and never too little.

use super::DocumentKind;
use super::field::fields;
use std::ops::Deref;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

/// Parts below a key at the top that are told apart, since some of them move much and others little.
const APART: &[(DocumentKind, &str)] = &[
    (DocumentKind::Pan, "pickup.inlet"),
    (DocumentKind::Pan, "pickup.line"),
    (DocumentKind::Pan, "pickup.filter"),
    (DocumentKind::Pan, "wall.floor"),
    (DocumentKind::Pan, "wall.sides"),
    (DocumentKind::Vehicle, "mount.pan_origin"),
    (DocumentKind::Vehicle, "mount.nose_up"),
    (DocumentKind::Vehicle, "mount.moves"),
    (DocumentKind::Vehicle, "case.tensile"),
    (DocumentKind::Vehicle, "case.expansion"),
    (DocumentKind::Vehicle, "pump.flow"),
    (DocumentKind::Vehicle, "pump.suction_limit"),
    (DocumentKind::Vehicle, "pump.at"),
    (DocumentKind::Vehicle, "pump.flow_rises_in"),
    (DocumentKind::Vehicle, "pump.pressure"),
];

/// A set of parts of one document.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Parts(u64);

impl Parts {
    /// All parts.
    pub const ALL: Self = Self(u64::MAX);

    /// The part that a dotted path lies in; all parts where there is none of that name, so that nothing is missed.
    pub fn of(document: DocumentKind, path: &str) -> Self {
        let first = path.split('.').next().unwrap_or(path);
        let tops = || fields(document).iter().map(|row| row.path).filter(|p| !p.contains('.'));
        let is_in = |(kind, part): &(DocumentKind, &str)| {
            let rest = path.strip_prefix(part).filter(|_| *kind == document);
            rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
        };
        let place = match APART.iter().position(is_in) {
            Some(below) => Some(tops().count() + below),
            None => tops().position(|top| top == first),
        };
        match place {
            Some(place) if place < 64 => Self(1 << place),
            _ => Self::ALL,
        }
    }

    /// The part under a key at the top, with all below it.
    pub fn under(document: DocumentKind, key: &str) -> Self {
        let below = APART.iter().filter(|(kind, part)| {
            *kind == document && part.split_once('.').is_some_and(|(top, _)| top == key)
        });
        below.fold(Self::of(document, key), |all, (_, part)| all.with(Self::of(document, part)))
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
    value: Arc<T>,
    part: Parts,
    notebook: Notebook,
}

impl<T> Watched<T> {
    /// A value that is this part of the document with that notebook.
    pub fn new(value: T, part: Parts, notebook: &Notebook) -> Self {
        Self { value: Arc::new(value), part, notebook: notebook.clone() }
    }

    /// The same value as a part of the same document read once more.
    #[must_use]
    pub fn kept(&self, notebook: &Notebook) -> Self {
        Self { value: Arc::clone(&self.value), part: self.part, notebook: notebook.clone() }
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
    use crate::document::field::field;

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
    fn parts_that_are_told_apart_are_under_their_key_and_in_no_other() {
        let part = |path| Parts::of(DocumentKind::Vehicle, path);
        assert!(!part("mount").meets(part("mount.nose_up")));
        assert!(!part("mount.pan_origin.left").meets(part("mount.nose_up")));
        assert_eq!(part("mount.pan_origin.left"), part("mount.pan_origin"));
        let mount = Parts::under(DocumentKind::Vehicle, "mount");
        for (kind, path) in APART {
            let is_mount = *kind == DocumentKind::Vehicle && path.starts_with("mount.");
            if *kind == DocumentKind::Vehicle {
                assert_eq!(mount.meets(part(path)), is_mount, "{path}");
            }
            assert!(field(*kind, path).is_some(), "{path}");
        }
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
