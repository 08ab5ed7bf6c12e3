//! One thing wrong with a text, where it stands, and what to do about it.

use super::{Code, Span};

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The document cannot be used; exit 2.
    Error,
    /// Used all the same, but look at it.
    Warning,
}

/// A place and the word said there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What is said there; may be empty.
    pub text: String,
}

/// One problem of a document. Its title is lower case, without a final stop, and makes sense alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// What kind of problem.
    pub code: Code,
    /// How bad.
    pub severity: Severity,
    /// One sentence: what was found, and what was expected.
    pub message: String,
    /// The smallest place that shows it.
    pub primary: Label,
    /// Other places that belong to it.
    pub others: Vec<Label>,
    /// What to do.
    pub help: Option<String>,
}

/// Whether anything is an error.
pub fn has_error(problems: &[Diagnostic]) -> bool {
    problems.iter().any(Diagnostic::is_error)
}

impl Diagnostic {
    /// An error at a place.
    pub fn error(code: Code, span: Span, message: impl Into<String>) -> Self {
        Self {
            code,
            severity: Severity::Error,
            message: message.into(),
            primary: Label { span, text: String::new() },
            others: Vec::new(),
            help: None,
        }
    }

    /// Whether it is an error, so that the document cannot be used.
    pub fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }

    /// A warning at a place.
    pub fn warning(code: Code, span: Span, message: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, span, message) }
    }

    /// The word at the primary place.
    #[must_use]
    pub fn labelled(mut self, text: impl Into<String>) -> Self {
        self.primary.text = text.into();
        self
    }

    /// A second place.
    #[must_use]
    pub fn also(mut self, span: Span, text: impl Into<String>) -> Self {
        self.others.push(Label { span, text: text.into() });
        self
    }

    /// What to do.
    #[must_use]
    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help = Some(text.into());
        self
    }
}
