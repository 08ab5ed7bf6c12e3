//! Rulebook documents to typed rules.

use super::{Condition, Formula};
use crate::document::rulebook::{Decision, RuleDoc, RulebookDoc};
use crate::measure::ObjectKind;
use crate::source::Diagnostic;

/// A rule, ready to judge.
#[derive(Debug, Clone)]
pub struct Rule {
    /// Its texts and places.
    pub doc: RuleDoc,
    /// What it is judged for: the pan once, or each object of a kind.
    pub kind: ObjectKind,
    /// What is measured.
    pub measure: Formula,
    /// The lower limit.
    pub at_least: Option<Formula>,
    /// The upper limit.
    pub at_most: Option<Formula>,
    /// When it applies.
    pub when: Option<Condition>,
    /// Its own decision rule, or the book's.
    pub decision: Decision,
}

/// All rules of a run, by id.
#[derive(Debug, Clone, Default)]
pub struct Rulebook {
    /// The rules.
    pub rules: Vec<Rule>,
}

/// Makes typed rules of rulebook files that belong together.
pub fn resolve(_docs: &[RulebookDoc], _problems: &mut Vec<Diagnostic>) -> Rulebook {
    Rulebook::default()
}
