//! Why a text is no quantity, with its place in the text: becomes a diagnostic once the text has one.

use crate::source::{Code, Diagnostic, Scalar};
use std::ops::Range;

/// One thing wrong, at the token that does not fit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Refusal {
    pub(super) code: Code,
    pub(super) range: Range<usize>,
    pub(super) message: String,
    pub(super) help: String,
}

impl Refusal {
    pub(super) fn new(
        code: Code,
        range: Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        Self { code, range, message: message.into(), help: help.into() }
    }

    /// The same for a text that begins `offset` bytes further on.
    pub(super) fn shifted(mut self, offset: usize) -> Self {
        self.range = self.range.start + offset..self.range.end + offset;
        self
    }

    pub(super) fn diagnostic(self, scalar: &Scalar) -> Diagnostic {
        Diagnostic::error(self.code, scalar.part(self.range), self.message).help(self.help)
    }
}
