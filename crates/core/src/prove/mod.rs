//! Whether a rulebook's own cases hold it: every case is run, every number moved until a case notices, and
//! every part of a rule altered in turn. Plain data, sorted as the rules are.
//!
//! Alterations are judged on the readings of the cases as they stand, so that they need no new geometry; only
//! the search for a case that is missing makes new pans.

mod alter;
mod candidates;
mod case;
mod change;
mod edit;
mod notice;
mod rule_proof;
mod run;
mod search;
mod slack;
mod suggest;

pub(crate) use rule_proof::Held;
pub(crate) use run::held_by_cases;
pub use run::{ProveRequest, prove};

use crate::document::rulebook::{Expected, Force};
use crate::quantity::Unit;
use crate::review::BookUsed;
use crate::source::{Diagnostic, Sources, Span, has_error};
use crate::verdict::Verdict;

/// What came of trying to alter a rulebook unnoticed.
#[derive(Debug)]
pub struct Proof {
    /// Every text that was read.
    pub sources: Sources,
    /// The rules, by id.
    pub rules: Vec<RuleProof>,
    /// What is wrong with the rulebook itself; with an error in it no rule is tried.
    pub problems: Vec<Diagnostic>,
    /// The rulebook's edition, and what it changes of those that it builds on.
    pub book: BookUsed,
}

/// How many alterations met which fate.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Score {
    /// Noticed by a case.
    pub caught: usize,
    /// Noticed by none.
    pub missed: usize,
    /// No rule at all.
    pub invalid: usize,
    /// Declared to ask the same.
    pub equivalent: usize,
}

/// One rule.
#[derive(Debug)]
pub struct RuleProof {
    /// Its id.
    pub id: String,
    /// Where it stands.
    pub span: Span,
    /// Its force.
    pub force: Force,
    /// Its cases, in the order written.
    pub cases: Vec<CaseProof>,
    /// Its numbers, in the order measure, limits, condition.
    pub slacks: Vec<Slack>,
    /// Its alterations.
    pub alterations: Vec<Alteration>,
    /// Declarations of equivalence that do not hold.
    pub stale: Vec<Stale>,
    /// Whether no case comes to a verdict other than not applicable.
    pub never_applicable: bool,
    /// Whether no case breaches it.
    pub never_breached: bool,
    /// How many cases of the rulebooks below hold it no longer, since it is changed.
    pub replaced: usize,
    /// Whether it is changed and has no case of its own.
    pub lacks_own_cases: bool,
}

/// One case.
#[derive(Debug)]
pub struct CaseProof {
    /// Where it stands.
    pub span: Span,
    /// What it expects.
    pub expected: Expected,
    /// What came out.
    pub outcome: CaseOutcome,
    /// Whether every alteration that it notices is noticed by another case too.
    pub spare: bool,
    /// For a breach that was expected: what the finding points at instead of the input that the case changes.
    pub blames: Option<Span>,
}

/// What came of running a case.
#[derive(Debug)]
pub enum CaseOutcome {
    /// The worst verdict over the rule's objects.
    Judged(Verdict),
    /// The changed documents cannot be used.
    Invalid(Vec<Diagnostic>),
}

/// How far a number of a rule could move alone before a case notices.
#[derive(Debug, Clone)]
pub struct Slack {
    /// The number as written.
    pub written: String,
    /// The key of the rule that it stands under.
    pub part: &'static str,
    /// Where it stands.
    pub span: Span,
    /// Its value in SI base units.
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
    /// The least it could be, in SI base units; nothing where no case holds it from below.
    pub low: Option<f64>,
    /// The most it could be.
    pub high: Option<f64>,
    /// How tightly it must be held, in SI base units; nothing where the rule does not say.
    pub pin: Option<f64>,
}

/// What kind of change an alteration is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum AlterationKind {
    /// A number moved by its pin.
    Number,
    /// At least and at most changed for each other, or one of them left out.
    Comparison,
    /// The condition or a test of it left out or negated.
    Condition,
    /// A measure changed for another.
    Measure,
    /// The baseline changed for a constant.
    Baseline,
    /// `shall` and `should` changed for each other.
    Force,
    /// A unit changed for another.
    Unit,
    /// The rule left out.
    Rule,
    /// The uncertainties taken as other than they are.
    Uncertainty,
    /// What is not known taken as conforming.
    Unknown,
}

/// One alteration of a rule.
#[derive(Debug)]
pub struct Alteration {
    /// What is altered, in the words by which it can be declared equivalent.
    pub words: String,
    /// What kind of change.
    pub kind: AlterationKind,
    /// What came of it.
    pub fate: Fate,
}

/// What came of an alteration.
#[derive(Debug)]
pub enum Fate {
    /// A case notices: its place in the list, from 0.
    Caught(usize),
    /// No case notices.
    Missed(Suggestion),
    /// The altered rule is refused, in the words of the refusal.
    Invalid(String),
    /// Declared to ask the same, for this reason.
    Equivalent(String),
}

/// What would notice an alteration.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Suggestion {
    /// A case, as a line to paste under `cases`.
    Case(String),
    /// What kind of case is missing, where none was found.
    Words(&'static str),
}

/// A declaration of equivalence that does not hold.
#[derive(Debug, Clone)]
pub struct Stale {
    /// Where it stands.
    pub span: Span,
    /// Its words.
    pub words: String,
    /// Why it does not hold.
    pub why: String,
}

impl Proof {
    /// Whether every rule is proven and nothing is wrong with the rulebook.
    pub fn is_whole(&self) -> bool {
        !self.has_error() && !self.rules.is_empty() && self.rules.iter().all(RuleProof::is_whole)
    }

    /// Whether the rulebook cannot be used.
    pub fn has_error(&self) -> bool {
        has_error(&self.problems)
    }

    /// All alterations of all rules.
    pub fn score(&self) -> Score {
        self.rules.iter().map(RuleProof::score).fold(Score::default(), |sum, next| Score {
            caught: sum.caught + next.caught,
            missed: sum.missed + next.missed,
            invalid: sum.invalid + next.invalid,
            equivalent: sum.equivalent + next.equivalent,
        })
    }
}

impl Score {
    /// The share of alterations that were noticed, in percent, rounded down: 100 only where all were.
    pub fn percent(self) -> usize {
        (100 * self.caught).checked_div(self.caught + self.missed).unwrap_or(0)
    }
}

impl RuleProof {
    /// How its alterations fared.
    pub fn score(&self) -> Score {
        let mut score = Score::default();
        for alteration in &self.alterations {
            match alteration.fate {
                Fate::Caught(_) => score.caught += 1,
                Fate::Missed(_) => score.missed += 1,
                Fate::Invalid(_) => score.invalid += 1,
                Fate::Equivalent(_) => score.equivalent += 1,
            }
        }
        score
    }

    /// Whether all cases come out as expected and notice every change.
    pub fn is_whole(&self) -> bool {
        self.cases.iter().all(|case| case.holds() && case.blames.is_none())
            && self.slacks.iter().all(|slack| slack.within_pin() != Some(false))
            && self.score().missed == 0
            && self.stale.is_empty()
            && !self.never_applicable
            && !self.never_breached
            && !self.lacks_own_cases
    }
}

impl CaseProof {
    /// Whether what came out is what is expected.
    pub fn holds(&self) -> bool {
        matches!(self.outcome, CaseOutcome::Judged(verdict) if is_expected(verdict, self.expected))
    }
}

impl Slack {
    /// Whether a case notices within the pin on both sides; nothing where there is no pin.
    pub fn within_pin(&self) -> Option<bool> {
        let pin = self.pin?;
        // An end is found by bisection, to a millionth of the pin.
        let near =
            |end: Option<f64>| end.is_some_and(|end| (end - self.value).abs() <= pin * 1.000_01);
        Some(near(self.low) && near(self.high))
    }
}

/// Whether a verdict is the one expected.
fn is_expected(verdict: Verdict, expected: Expected) -> bool {
    expectation(verdict) == Some(expected)
}

/// The word of a case for a verdict; none for what was not judged.
fn expectation(verdict: Verdict) -> Option<Expected> {
    match verdict {
        Verdict::Conforms => Some(Expected::Conforms),
        Verdict::DoesNotConform => Some(Expected::DoesNotConform),
        Verdict::Inconclusive => Some(Expected::Inconclusive),
        Verdict::Advisory => Some(Expected::Advisory),
        Verdict::NotApplicable => Some(Expected::NotApplicable),
        // A case is judged by the rules alone.
        Verdict::Conceded | Verdict::NotJudged => None,
    }
}
