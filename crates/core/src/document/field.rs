//! The table of fields: for every path its dimension, how a person gets it, and what is typical.
//! Reader, "did you mean", schema and docs all read it here.

use super::DocumentKind;
use crate::quantity::Dimension;

/// A field of a document.
#[derive(Debug, Clone, Copy)]
pub struct Field {
    /// The document it stands in.
    pub document: DocumentKind,
    /// Dotted path; `*` for a name that the author chooses (`drains.*.boss`).
    pub path: &'static str,
    /// Dimension of a quantity; none for words, mappings and the like.
    pub dimension: Option<Dimension>,
    /// How a person gets it, in one sentence.
    pub how_to_get: &'static str,
    /// Typical range, as two quantities in text; only with one may the value be assumed.
    pub typical: Option<(&'static str, &'static str)>,
    /// Left out counts as `none`.
    pub optional: bool,
}

/// All fields.
pub const FIELDS: &[Field] = &[];

/// The row of a concrete path such as `drains.plug.boss`.
pub fn field(_document: DocumentKind, _path: &str) -> Option<&'static Field> {
    None
}
