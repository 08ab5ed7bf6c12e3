//! A line on a terminal that says how far the work is; nothing anywhere else, and nothing in the result.

use std::io::{IsTerminal, Write};

/// The line.
#[derive(Debug)]
pub(crate) struct Line {
    seen: bool,
}

impl Line {
    /// A line, where a person looks on.
    pub(crate) fn new() -> Self {
        Self { seen: std::io::stderr().is_terminal() }
    }

    /// Says how many of how many are done.
    pub(crate) fn show(&self, done: usize, of: usize) {
        self.write(&format!("\r{done} of {of} rules"));
    }

    /// Says what share of a drive log is worked through.
    pub(crate) fn show_share(&self, done: u64, of: u64) {
        let percent = done.saturating_mul(100).checked_div(of).unwrap_or(100);
        self.write(&format!("\r{percent} % of the drive log"));
    }

    /// Takes the line away.
    pub(crate) fn clear(&self) {
        self.write("\r                              \r");
    }

    /// Where it cannot be written, nobody misses it.
    fn write(&self, text: &str) {
        if self.seen {
            drop(std::io::stderr().lock().write_all(text.as_bytes()));
        }
    }
}
