//! What a supplier declares, as its document states it.

use super::checklist::EvidenceDoc;
use super::concessions::Day;
use super::{Named, Text};
use crate::source::Span;

/// A declaration.
#[derive(Debug, Clone)]
pub struct DeclarationDoc {
    /// The key that says the kind.
    pub span: Span,
    /// `number`.
    pub number: Text,
    /// `supersedes`.
    pub supersedes: Option<Text>,
    /// `issuer`.
    pub issuer: IssuerDoc,
    /// `pans`: paths from the folder of the file, as are all others.
    pub pans: Vec<Text>,
    /// `serials`.
    pub serials: Vec<Text>,
    /// `rulebooks`; empty where the built-in one is meant.
    pub rulebooks: Vec<Text>,
    /// `checklists`.
    pub checklists: Vec<Text>,
    /// `concessions`.
    pub concessions: Vec<Text>,
    /// `issued`.
    pub issued: IssuedDoc,
    /// `signatory`.
    pub signatory: PersonDoc,
    /// `limits`.
    pub limits: LimitsDoc,
    /// `assessed_by`.
    pub assessed_by: Option<AssessorDoc>,
    /// `kept_in_line`.
    pub kept_in_line: Option<Text>,
    /// `kept_until`.
    pub kept_until: Option<Day>,
    /// `evidence`.
    pub evidence: Named<EvidenceDoc>,
    /// `withheld`.
    pub withheld: Named<WithheldDoc>,
}

/// `issuer`.
#[derive(Debug, Clone)]
pub struct IssuerDoc {
    /// `name`.
    pub name: Text,
    /// `address`.
    pub address: Text,
}

/// `issued`.
#[derive(Debug, Clone)]
pub struct IssuedDoc {
    /// `on`.
    pub on: Day,
    /// `at`.
    pub at: Text,
}

/// A person in a function.
#[derive(Debug, Clone)]
pub struct PersonDoc {
    /// `name`.
    pub name: Text,
    /// `function`.
    pub function: Text,
}

/// `assessed_by`.
#[derive(Debug, Clone)]
pub struct AssessorDoc {
    /// Who, in which function.
    pub person: PersonDoc,
    /// `competence`.
    pub competence: Text,
}

/// `limits`.
#[derive(Debug, Clone, Default)]
pub struct LimitsDoc {
    /// `use`.
    pub purpose: Option<Text>,
    /// `until`.
    pub until: Option<Day>,
}

/// A file that stays secret.
#[derive(Debug, Clone)]
pub struct WithheldDoc {
    /// `file`.
    pub file: Text,
    /// `because`.
    pub because: Text,
}
