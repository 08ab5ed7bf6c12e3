//! A computed change: what a later stage may add to a finding. A thing to consider, never an instruction.

use crate::source::Span;

/// What the search for a change came to.
#[derive(Debug, Clone, PartialEq)]
pub enum Remedy {
    /// This single change makes the rule conform and turns no other for the worse.
    Change(Change),
    /// These would each make the rule conform, and each turns other rules for the worse; least change first.
    AtACost(Vec<Costly>),
    /// No single value that the pan states was found to do it.
    NotFound {
        /// How many values of the pan were looked at closely.
        tried: usize,
        /// What moves the rule most outside the pan, by path, if anything does.
        outside: Option<String>,
    },
}

/// A change that makes one rule conform and turns others for the worse.
#[derive(Debug, Clone, PartialEq)]
pub struct Costly {
    /// The change.
    pub change: Change,
    /// What each other rule would come to, by its identity.
    pub turned: Vec<String>,
}

/// One number of a description, written otherwise.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// Dotted path of the input.
    pub path: String,
    /// The number alone, without unit and uncertainty.
    pub span: Span,
    /// The number as it stands.
    pub from: String,
    /// The number as it would have to stand.
    pub to: String,
    /// Its unit as written; empty for a bare number.
    pub unit: String,
    /// How far that is, in steps of the input's own.
    pub steps: f64,
    /// Whether a step is one unit of the last digit, since the input is taken as exact; else it is its standard
    /// uncertainty.
    pub of_last_digit: bool,
}
