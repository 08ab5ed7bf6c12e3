//! Conditions: `or` of `and` of tests, and their text.

use super::{ForEach, Formula, Number};
use crate::source::Span;
use std::fmt;

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
    Given(DocumentPath),
    /// `name is word`.
    Is(DocumentPath, String),
    /// `a at least b`.
    AtLeast(Formula, Formula),
    /// `a at most b`.
    AtMost(Formula, Formula),
    /// `( condition )`.
    Group(Condition),
}

/// A path into the pan or a document it refers to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DocumentPath {
    /// As written: `vehicle.skid`, `drain.boss`.
    pub written: String,
    /// The kind whose word it starts with, if it leads into the object that the rule is read for.
    pub each: Option<ForEach>,
    /// Where it stands.
    pub span: Span,
}

impl DocumentPath {
    /// The path for the object of this name: `drain.boss` for `plug` is `drains.plug.boss`.
    pub fn for_object(&self, object: &str) -> String {
        let Some(each) = self.each else { return self.written.clone() };
        let rest = self.written.strip_prefix(each.kind.word()).unwrap_or_default();
        format!("{}.{object}{rest}", each.kind.family())
    }
}

impl Condition {
    /// Every number in it with its place, in the order written.
    pub fn numbers(&self) -> Vec<(&Number, Span)> {
        let mut all = Vec::new();
        for test in self.clauses.iter().flatten() {
            match &test.kind {
                TestKind::Given(_) | TestKind::Is(..) => {}
                TestKind::AtLeast(left, right) | TestKind::AtMost(left, right) => {
                    all.extend(left.numbers());
                    all.extend(right.numbers());
                }
                TestKind::Group(inner) => all.extend(inner.numbers()),
            }
        }
        all
    }

    /// Every kind of object that a formula in it asks for, in the order written.
    pub(super) fn formula_kinds(&self) -> Vec<ForEach> {
        let mut all = Vec::new();
        for test in self.clauses.iter().flatten() {
            match &test.kind {
                TestKind::Given(_) | TestKind::Is(..) => {}
                TestKind::AtLeast(left, right) | TestKind::AtMost(left, right) => {
                    all.extend(left.each);
                    all.extend(right.each);
                }
                TestKind::Group(inner) => all.extend(inner.formula_kinds()),
            }
        }
        all
    }

    /// Every path in it, in the order written.
    pub(crate) fn paths(&self) -> Vec<&DocumentPath> {
        let mut all = Vec::new();
        for test in self.clauses.iter().flatten() {
            match &test.kind {
                TestKind::Given(path) | TestKind::Is(path, _) => all.push(path),
                TestKind::AtLeast(..) | TestKind::AtMost(..) => {}
                TestKind::Group(inner) => all.extend(inner.paths()),
            }
        }
        all
    }
}

/// The canonical text: reading it gives the same condition again.
impl fmt::Display for Condition {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, clause) in self.clauses.iter().enumerate() {
            if i > 0 {
                out.write_str(" or ")?;
            }
            for (j, test) in clause.iter().enumerate() {
                if j > 0 {
                    out.write_str(" and ")?;
                }
                write!(out, "{test}")?;
            }
        }
        Ok(())
    }
}

impl fmt::Display for Test {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.negated {
            out.write_str("not ")?;
        }
        match &self.kind {
            TestKind::Given(path) => write!(out, "{} is given", path.written),
            TestKind::Is(path, word) => write!(out, "{} is {word}", path.written),
            TestKind::AtLeast(left, right) => write!(out, "{left} at least {right}"),
            TestKind::AtMost(left, right) => write!(out, "{left} at most {right}"),
            TestKind::Group(inner) => write!(out, "({inner})"),
        }
    }
}
