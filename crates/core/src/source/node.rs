//! The tree that a text becomes: every key and value knows where it stands.

use super::Span;
use std::ops::Range;

/// A value of the document.
#[derive(Debug, Clone)]
pub struct Node {
    /// Where it stands: the whole mapping, list or scalar (quotes included); for an alias, the alias.
    pub span: Span,
    /// Where it was first written: differs from `span` for what an alias or merge key brought in.
    /// This, not `span`, says whether two values are one and the same input.
    pub defined: Span,
    /// What it is.
    pub value: Value,
}

/// What a node is.
#[derive(Debug, Clone)]
pub enum Value {
    /// Nothing at all: `key:`, `~` or `null`.
    Null,
    /// A single text; numbers are kept as text.
    Scalar(Scalar),
    /// A list.
    Sequence(Vec<Node>),
    /// A mapping, in the order written; a duplicate key has been reported and only the first is kept.
    Mapping(Vec<Entry>),
}

/// One key of a mapping with its value.
#[derive(Debug, Clone)]
pub struct Entry {
    /// The key.
    pub key: Key,
    /// The value.
    pub value: Node,
}

/// A key and where it stands.
#[derive(Debug, Clone)]
pub struct Key {
    /// The key as text.
    pub text: String,
    /// Where it stands.
    pub span: Span,
}

/// A single text.
#[derive(Debug, Clone)]
pub struct Scalar {
    /// The text, quotes and folding resolved.
    pub text: String,
    /// Where it stands in the source, quotes included; for an alias, the place it was anchored.
    pub span: Span,
    /// Byte in the source at which `text` begins, if `text` stands there letter by letter.
    pub verbatim_at: Option<u32>,
    /// Written without quotes.
    pub plain: bool,
}

impl Scalar {
    /// Span of a stretch of `text`; the whole scalar where text and source differ letter by letter.
    pub fn part(&self, range: Range<usize>) -> Span {
        let offset = |i: usize| u32::try_from(i).unwrap_or(u32::MAX);
        match self.verbatim_at {
            Some(at) => Span {
                file: self.span.file,
                start: at + offset(range.start),
                end: at + offset(range.end.max(range.start)),
            },
            None => self.span,
        }
    }
}

impl Node {
    /// The scalar, if it is one.
    pub fn scalar(&self) -> Option<&Scalar> {
        match &self.value {
            Value::Scalar(scalar) => Some(scalar),
            _ => None,
        }
    }

    /// The value under a key, if this is a mapping that has it.
    pub fn get(&self, key: &str) -> Option<&Node> {
        match &self.value {
            Value::Mapping(entries) => entries.iter().find(|e| e.key.text == key).map(|e| &e.value),
            _ => None,
        }
    }

    /// The word `none` written plain.
    pub fn is_none_word(&self) -> bool {
        self.scalar().is_some_and(|s| s.plain && s.text == "none")
    }

    /// What it is, in words: for messages.
    pub fn shape(&self) -> &'static str {
        match self.value {
            Value::Null => "nothing",
            Value::Scalar(_) => "a single value",
            Value::Sequence(_) => "a list",
            Value::Mapping(_) => "a mapping",
        }
    }
}
