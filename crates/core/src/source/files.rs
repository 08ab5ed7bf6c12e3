//! The reader of files that the host lends: this crate opens none itself.

use std::fmt::Debug;
use std::io::{Cursor, Read};
use std::sync::Arc;

/// Why a file could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum FileProblem {
    /// There is no such file.
    Missing,
    /// It is a folder, a device, or another thing that is not a regular file.
    NotAFile,
    /// It is larger than the limit, in bytes.
    TooLarge {
        /// Its size.
        size: u64,
        /// The limit.
        limit: u64,
    },
    /// After resolving links it lies outside the root.
    OutsideRoot,
    /// The system refused, in its own words.
    Refused(String),
}

/// What the host lends: paths use forward slashes and are taken as given.
pub trait Files: Sync {
    /// The bytes of a regular file of at most `limit` bytes that, after resolving links, lies under
    /// `root` (no check for `None`).
    ///
    /// # Errors
    /// Says why it cannot be read.
    fn read(&self, path: &str, root: Option<&str>, limit: u64) -> Result<Vec<u8>, FileProblem>;

    /// Whether a regular file stands there.
    fn exists(&self, path: &str) -> bool;

    /// Whether two paths lead to one file, whatever they are called.
    fn is_same(&self, one: &str, other: &str) -> bool {
        one == other
    }

    /// Path as shown and text of each file of the rulebook that the host brings along; other rulebooks build on
    /// it by the word `built-in`.
    fn built_in(&self) -> Vec<(String, String)> {
        Vec::new()
    }

    /// A file that is read in pieces, under the same conditions as [`Files::read`]. A host that can do better than
    /// to hold it in memory says so here.
    ///
    /// # Errors
    /// Says why it cannot be read.
    fn recording(
        &self,
        path: &str,
        root: Option<&str>,
        limit: u64,
    ) -> Result<Arc<dyn Recording>, FileProblem> {
        let bytes = self.read(path, root, limit)?;
        Ok(Arc::new(Held(bytes.into())))
    }
}

/// A file that may be too long to hold: read in pieces, from its start as often as it is opened.
pub trait Recording: Debug + Send + Sync {
    /// Opens it at its start.
    ///
    /// # Errors
    /// Says why it cannot be read.
    fn open(&self) -> Result<Box<dyn Read + Send>, FileProblem>;

    /// Told how many bytes have been worked through, and when that is all: for a person who waits.
    fn worked_through(&self, _bytes: Option<u64>) {}
}

/// A file held in memory.
#[derive(Debug)]
struct Held(Arc<[u8]>);

impl Recording for Held {
    fn open(&self) -> Result<Box<dyn Read + Send>, FileProblem> {
        Ok(Box::new(Cursor::new(Arc::clone(&self.0))))
    }
}
