//! The kinds of document: typed, still untrusted, every value with its span.
//!
//! Reading never stops at an error: it returns what could be read and pushes what is wrong.

pub mod attached;
pub mod checklist;
pub mod concessions;
pub mod date;
pub mod declaration;
pub mod dossier;
pub mod duty;
pub mod field;
pub mod log;
pub mod object;
pub mod oil;
pub mod outline;
pub mod pan;
pub mod project;
pub mod reader;
pub mod recording;
pub mod remarks;
pub mod rulebook;
pub mod soundings;
pub mod vehicle;
pub mod watched;

use crate::source::Span;

/// Named things of one sort, in the order written.
#[derive(Debug, Clone)]
pub struct Named<T> {
    /// The things.
    pub entries: Vec<Item<T>>,
    /// The whole mapping.
    pub span: Span,
}

/// One named thing.
#[derive(Debug, Clone)]
pub struct Item<T> {
    /// Its name.
    pub name: String,
    /// Where the name stands.
    pub name_span: Span,
    /// Its whole mapping.
    pub span: Span,
    /// What it is.
    pub value: T,
}

/// A word as written, with its place.
#[derive(Debug, Clone)]
pub struct Text {
    /// The word or sentence.
    pub text: String,
    /// Where it stands.
    pub span: Span,
}

/// A kind of document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum DocumentKind {
    /// A pan.
    Pan,
    /// A vehicle.
    Vehicle,
    /// An oil.
    Oil,
    /// A duty.
    Duty,
    /// A rulebook.
    Rulebook,
    /// A project: where the documents of a repository live.
    Project,
    /// A customer's written list.
    Checklist,
    /// Accepted departures.
    Concessions,
    /// A reviewer's remarks on one pan.
    Remarks,
    /// What a supplier declares.
    Declaration,
}

impl DocumentKind {
    /// All kinds.
    pub const ALL: [Self; 10] = [
        Self::Pan,
        Self::Vehicle,
        Self::Oil,
        Self::Duty,
        Self::Rulebook,
        Self::Project,
        Self::Checklist,
        Self::Concessions,
        Self::Remarks,
        Self::Declaration,
    ];

    /// The key that says the kind, which stands first in its file.
    pub fn key(self) -> &'static str {
        match self {
            Self::Pan => "pan",
            Self::Vehicle => "vehicle",
            Self::Oil => "oil",
            Self::Duty => "duty",
            Self::Rulebook => "rulebook",
            Self::Project => "project",
            Self::Checklist => "checklist",
            Self::Concessions => "concessions",
            Self::Remarks => "remarks",
            Self::Declaration => "declaration",
        }
    }
}

/// The row of a path that says its document: `vehicle.skid.load`, `oil.expansion`, `duty.strike`,
/// `baseline.wall.floor`, and everything else in the pan.
pub fn field_of_path(path: &str) -> Option<&'static field::Field> {
    let (first, rest) = path.split_once('.').unwrap_or((path, ""));
    let document = DocumentKind::ALL
        .into_iter()
        .find(|kind| kind.key() == first && !matches!(kind, DocumentKind::Pan))
        .filter(|_| !rest.is_empty());
    match document {
        Some(document) => field::field(document, rest),
        None if first == "baseline" && !rest.is_empty() => field::field(DocumentKind::Pan, rest),
        None => field::field(DocumentKind::Pan, path),
    }
}
