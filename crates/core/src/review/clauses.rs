//! What comes of holding pans against customers' lists.

use crate::source::Span;
use crate::verdict::Verdict;

/// A customer's list, held against every pan of a review.
#[derive(Debug, Clone)]
pub struct ChecklistHeld {
    /// Its path as shown.
    pub path: String,
    /// What it is called.
    pub title: String,
    /// Who asks for it.
    pub customer: String,
    /// The pans, in the order of the review.
    pub pans: Vec<PanHeld>,
}

impl ChecklistHeld {
    /// Whether a binding clause is not shown to be met by some pan.
    pub fn is_against(&self) -> bool {
        self.pans.iter().any(|pan| pan.clauses.iter().any(ClauseHeld::is_against))
    }
}

/// One pan against a list.
#[derive(Debug, Clone)]
pub struct PanHeld {
    /// The pan's path as shown.
    pub path: String,
    /// Every clause, in the order of the list.
    pub clauses: Vec<ClauseHeld>,
}

/// One clause on one pan.
#[derive(Debug, Clone)]
pub struct ClauseHeld {
    /// Its name in the list.
    pub name: String,
    /// Its number in the customer's text.
    pub number: Option<String>,
    /// What it asks.
    pub says: String,
    /// Whether it must be met.
    pub binding: bool,
    /// Where it stands.
    pub span: Span,
    /// What comes of it.
    pub answer: Answer,
    /// The verdicts of its rules, on each object.
    pub rules: Vec<RuleAnswer>,
    /// The document that answers it.
    pub evidence: Option<EvidenceHeld>,
    /// What a person says to it.
    pub statement: Option<StatementHeld>,
}

impl ClauseHeld {
    /// Whether it must be met and is not shown to be.
    pub fn is_against(&self) -> bool {
        self.binding && !self.answer.is_settled()
    }
}

/// What comes of a clause.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Answer {
    /// The worst verdict of its rules.
    Rules(Verdict),
    /// A document answers it.
    Evidence,
    /// A person's word answers it.
    Statement,
    /// Nothing does.
    Unanswered,
}

impl Answer {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Rules(verdict) => verdict.words(),
            Self::Evidence => "by evidence",
            Self::Statement => "by statement",
            Self::Unanswered => "unanswered",
        }
    }

    /// Whether nothing remains to be shown. Written so that a verdict added later is not settled until someone
    /// says so.
    pub fn is_settled(self) -> bool {
        matches!(
            self,
            Self::Rules(Verdict::Conforms | Verdict::Conceded | Verdict::NotApplicable)
                | Self::Evidence
                | Self::Statement
        )
    }
}

/// A verdict that answers a clause.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RuleAnswer {
    /// Id of the rule.
    pub rule: String,
    /// Path of the object, for a rule on a kind.
    pub object: Option<String>,
    /// The verdict.
    pub verdict: Verdict,
}

/// A document that answers a clause; its digest was found to be the one stated.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EvidenceHeld {
    /// Its path as shown.
    pub path: String,
    /// Its SHA-256 digest.
    pub sha256: String,
    /// What it shows.
    pub shows: String,
}

/// What a person says to a clause.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StatementHeld {
    /// What.
    pub words: String,
    /// Who.
    pub by: String,
    /// In which function.
    pub function: String,
    /// On which day.
    pub on: String,
}
