//! A rulebook held against its own cases: every case is run, every number is moved by its pin, and a few ways of
//! altering a rule are tried, to see whether some case notices.

mod alter;
mod change;
mod run;
mod slack;

pub use run::{ProveRequest, prove};

use crate::document::rulebook::Expected;
use crate::source::{Diagnostic, Sources, Span};

/// What came of proving a rulebook.
#[derive(Debug)]
pub struct Proof {
    /// Every text that was read.
    pub sources: Sources,
    /// What is wrong with the rulebook; then nothing was proven.
    pub problems: Vec<Diagnostic>,
    /// The rules, by id.
    pub rules: Vec<RuleProof>,
}

/// One rule.
#[derive(Debug)]
pub struct RuleProof {
    /// Its id.
    pub id: String,
    /// Where it stands.
    pub span: Span,
    /// Its cases, in the order written.
    pub cases: Vec<CaseProof>,
    /// Its alterations.
    pub alterations: Vec<Alteration>,
    /// How tightly its cases hold each number of its limits.
    pub slacks: Vec<Slack>,
}

/// How far a number of a limit could move, alone, before some case notices.
#[derive(Debug)]
pub struct Slack {
    /// The number as written.
    pub written: String,
    /// Its unit.
    pub unit: crate::quantity::Unit,
    /// The least value that goes unnoticed, in SI base units; none where nothing nearby is noticed.
    pub low: Option<f64>,
    /// The largest value that goes unnoticed.
    pub high: Option<f64>,
    /// How tightly it is to be held, in SI base units; none without a pin.
    pub pin: Option<f64>,
}

/// One case.
#[derive(Debug)]
pub struct CaseProof {
    /// Where it stands.
    pub span: Span,
    /// What it expects.
    pub expected: Expected,
    /// What came out, or why it could not be run.
    pub found: Result<Expected, String>,
    /// Whether some alteration is noticed by this case alone.
    pub decides_alone: bool,
}

/// One way of altering a rule.
#[derive(Debug)]
pub struct Alteration {
    /// What was altered, in words.
    pub what: String,
    /// Whether some case noticed.
    pub caught: bool,
}

impl CaseProof {
    /// Whether it came out as expected.
    pub fn holds(&self) -> bool {
        self.found.as_ref() == Ok(&self.expected)
    }
}

impl Proof {
    /// Whether every case holds, every alteration is caught, and there was something to prove.
    pub fn is_whole(&self) -> bool {
        self.problems.is_empty()
            && !self.rules.is_empty()
            && self.rules.iter().all(|rule| {
                !rule.cases.is_empty()
                    && rule.cases.iter().all(CaseProof::holds)
                    && rule.alterations.iter().all(|alteration| alteration.caught)
            })
    }
}
