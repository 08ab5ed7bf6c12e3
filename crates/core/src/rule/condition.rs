//! Conditions with three truths.

use super::Formula;
use crate::source::Span;

/// A condition: `or` of `and` of tests.
#[derive(Debug, Clone)]
pub struct Condition {
    /// Each clause holds if all its tests hold; the condition holds if one clause does.
    pub clauses: Vec<Vec<Test>>,
    /// Where it stands.
    pub span: Span,
}

/// A test, possibly after `not`.
#[derive(Debug, Clone)]
pub struct Test {
    /// Turned by `not`.
    pub negated: bool,
    /// What is tested.
    pub kind: TestKind,
    /// Where it stands.
    pub span: Span,
}

/// The forms of a test.
#[derive(Debug, Clone)]
pub enum TestKind {
    /// `name is given`.
    Given(String),
    /// `name is word`.
    Is(String, String),
    /// `a at least b`.
    AtLeast(Formula, Formula),
    /// `a at most b`.
    AtMost(Formula, Formula),
    /// `( condition )`.
    Group(Condition),
}
