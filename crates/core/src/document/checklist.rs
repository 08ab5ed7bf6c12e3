//! A customer's written list as its document states it.

use super::pan::Word;
use super::rulebook::Decision;
use super::{Named, Text};

/// A customer's list.
#[derive(Debug, Clone)]
pub struct ChecklistDoc {
    /// `title`.
    pub title: Option<Text>,
    /// `customer`.
    pub customer: Option<Text>,
    /// `decision`: the decision rule that it asks for.
    pub decision: Option<Word<Decision>>,
    /// `rulebook_edition`: the digest of the rules that it asks for.
    pub rulebook_edition: Option<Text>,
    /// `clauses`.
    pub clauses: Named<ClauseDoc>,
}

/// One clause.
#[derive(Debug, Clone)]
pub struct ClauseDoc {
    /// `number`: as in the customer's text.
    pub number: Option<Text>,
    /// `says`.
    pub says: Text,
    /// `binding`.
    pub binding: bool,
    /// `rules`: ids of the rules that answer it.
    pub rules: Vec<Text>,
    /// `evidence`.
    pub evidence: Option<EvidenceDoc>,
    /// `statement`.
    pub statement: Option<StatementDoc>,
}

/// A document that answers a clause.
#[derive(Debug, Clone)]
pub struct EvidenceDoc {
    /// `document`: a path.
    pub document: Text,
    /// `sha256`: 64 hexadecimal digits in small letters.
    pub sha256: Text,
    /// `shows`.
    pub shows: Text,
}

/// What a named person says.
#[derive(Debug, Clone)]
pub struct StatementDoc {
    /// `words`.
    pub words: Text,
    /// `by`.
    pub by: Text,
    /// `function`.
    pub function: Text,
    /// `on`: a date.
    pub on: Text,
}
