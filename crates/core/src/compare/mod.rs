//! Two things of one kind held beside each other: two rulebooks, rule by rule, and which verdicts change; or a pan
//! and its baselines, measure by measure.

mod beside;
mod direction;
mod pans;
mod rulebooks;
mod run;
mod topic;

pub use beside::{BesideRequest, compare_pans};
pub use pans::{
    Better, MeasureBeside, Outcome, PanNamed, PansCompared, Sides, TopicCompared, VerdictBeside,
    Way,
};
pub use run::{CompareRequest, compare};

use crate::document::rulebook::Force;
use crate::review::BookUsed;
use crate::rule::{PartChange, Strictness};
use crate::source::{Diagnostic, Sources, Span, has_error};
use crate::verdict::Verdict;

/// What came of holding two rulebooks beside each other.
#[derive(Debug)]
pub struct Comparison {
    /// Every text that was read.
    pub sources: Sources,
    /// What is wrong with the documents; with an error in it nothing is compared.
    pub problems: Vec<Diagnostic>,
    /// The rulebook that was there before.
    pub old: BookCompared,
    /// The one that is held beside it.
    pub new: BookCompared,
    /// Every rule of either, by id.
    pub rules: Vec<RuleCompared>,
    /// The pans on which both were tried, by path.
    pub pans: Vec<PanCompared>,
}

/// One of two rulebooks.
#[derive(Debug, Default)]
pub struct BookCompared {
    /// What it was named by.
    pub name: String,
    /// How many rules it holds.
    pub rules: usize,
    /// Its edition and what it builds on.
    pub book: BookUsed,
}

/// One rule in both.
#[derive(Debug)]
pub struct RuleCompared {
    /// Its id.
    pub id: String,
    /// Its title, in the new rulebook where it is there.
    pub title: String,
    /// Where it stands, in the new rulebook where it is there.
    pub span: Span,
    /// What became of it.
    pub fate: RuleFate,
    /// Each part that asks something else.
    pub parts: Vec<PartChange>,
    /// Keys that only say it otherwise, or prove it otherwise.
    pub reworded: Vec<&'static str>,
}

/// What became of a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RuleFate {
    /// Only in the new rulebook.
    Added,
    /// Only in the old one.
    Removed,
    /// In both, asking more, less, neither or the same.
    Kept(Strictness),
}

/// One pan judged by both.
#[derive(Debug)]
pub struct PanCompared {
    /// Its path as shown.
    pub path: String,
    /// Its title.
    pub title: Option<String>,
    /// Each verdict that is another, by rule and object.
    pub changes: Vec<VerdictChange>,
    /// How many are the same.
    pub same: usize,
}

/// A verdict that is another by the new rulebook.
#[derive(Debug)]
pub struct VerdictChange {
    /// The rule.
    pub rule: String,
    /// Path of the object, for a rule on a kind.
    pub object: Option<String>,
    /// Force and verdict by the old rulebook; nothing where it has no such rule.
    pub from: Option<(Force, Verdict)>,
    /// By the new one.
    pub to: Option<(Force, Verdict)>,
}

impl Comparison {
    /// Whether the documents are at fault, so that nothing was compared.
    pub fn has_error(&self) -> bool {
        has_error(&self.problems)
    }
}
