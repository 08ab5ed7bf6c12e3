//! The host's files, with a list of those that were looked at.

use crate::source::{FileProblem, Files, Recording};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, Mutex, PoisonError};

/// Files that remember which of them were there and were asked for.
pub(super) struct Noted<'a> {
    files: &'a dyn Files,
    /// By path: whether it was read, or only found to be there.
    seen: Mutex<BTreeMap<String, bool>>,
    built_in: Mutex<bool>,
}

impl<'a> Noted<'a> {
    pub(super) fn new(files: &'a dyn Files) -> Self {
        Self { files, seen: Mutex::default(), built_in: Mutex::new(false) }
    }

    /// The files looked at, by their paths.
    pub(super) fn seen(&self) -> BTreeSet<String> {
        self.seen.lock().unwrap_or_else(PoisonError::into_inner).keys().cloned().collect()
    }

    /// Whether a file was read.
    pub(super) fn was_read(&self, path: &str) -> bool {
        self.seen.lock().unwrap_or_else(PoisonError::into_inner).get(path) == Some(&true)
    }

    /// Whether the rulebook that the host brings along was asked for.
    pub(super) fn took_built_in(&self) -> bool {
        *self.built_in.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn note(&self, path: &str, read: bool) {
        let mut seen = self.seen.lock().unwrap_or_else(PoisonError::into_inner);
        *seen.entry(path.to_owned()).or_default() |= read;
    }
}

impl Files for Noted<'_> {
    fn read(&self, path: &str, root: Option<&str>, limit: u64) -> Result<Vec<u8>, FileProblem> {
        let found = self.files.read(path, root, limit);
        if found.is_ok() {
            self.note(path, true);
        }
        found
    }

    fn exists(&self, path: &str) -> bool {
        let found = self.files.exists(path);
        if found {
            self.note(path, false);
        }
        found
    }

    fn is_same(&self, one: &str, other: &str) -> bool {
        self.files.is_same(one, other)
    }

    fn built_in(&self) -> Vec<(String, String)> {
        *self.built_in.lock().unwrap_or_else(PoisonError::into_inner) = true;
        self.files.built_in()
    }

    fn recording(
        &self,
        path: &str,
        root: Option<&str>,
        limit: u64,
    ) -> Result<Arc<dyn Recording>, FileProblem> {
        let found = self.files.recording(path, root, limit);
        if found.is_ok() {
            self.note(path, true);
        }
        found
    }
}
