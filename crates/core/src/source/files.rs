//! The reader of files that the host lends: this crate opens none itself.

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

    /// Path as shown and text of each file of the rulebook that the host brings along; other rulebooks build on
    /// it by the word `built-in`.
    fn built_in(&self) -> Vec<(String, String)> {
        Vec::new()
    }
}
