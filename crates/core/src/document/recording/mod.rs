//! The recording of a drive: a CSV whose header names columns and units, read in pieces and never held.
//!
//! It is gone through once when the documents are read, for everything that can be wrong with it, and again whenever
//! a pan is driven along it.

mod check;
mod header;
mod rows;
#[cfg(test)]
mod tests;

pub use check::Facts;
pub use rows::{Motion, Sample, Samples, Stopped};

use super::log::DriveLog;
use crate::source::{Diagnostic, Recording, Sources};
use header::Header;
use std::sync::Arc;

/// A recording that has been checked.
#[derive(Debug, Clone)]
pub struct Log {
    /// Its path as shown.
    pub path: String,
    /// What was found on the way through it.
    pub facts: Facts,
    header: Arc<Header>,
    source: Arc<dyn Recording>,
}

impl Log {
    /// Goes through a recording once; nothing where an error has been reported.
    pub fn check(
        path: &str,
        doc: &DriveLog,
        source: Arc<dyn Recording>,
        sources: &mut Sources,
        problems: &mut Vec<Diagnostic>,
    ) -> Option<Self> {
        let (header, facts) = check::check(path, doc, source.as_ref(), sources, problems)?;
        Some(Self { path: path.to_owned(), facts, header: Arc::new(header), source })
    }

    /// Its samples from the start.
    ///
    /// # Errors
    /// Says why it can no longer be read.
    pub fn samples(&self) -> Result<Samples, Stopped> {
        let mut samples = Samples::open(self.source.as_ref())?;
        // The header was read when the log was checked; here only its line is passed over.
        samples.header_line()?;
        samples.read_as(Arc::clone(&self.header));
        Ok(samples)
    }

    /// Tells the host how far the work on it is; nothing when it is done.
    pub fn worked_through(&self, bytes: Option<u64>) {
        self.source.worked_through(bytes);
    }
}
