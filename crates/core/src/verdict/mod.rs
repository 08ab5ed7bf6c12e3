//! A margin, its uncertainty and a decision rule become a verdict.

mod decide;

pub use decide::{Margin, Standing, decide, guard_factor};

/// The verdict of a rule on a pan or on one object of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Inside the limit with the uncertainty taken off, by the decision rule in force.
    Conforms,
    /// Outside the limit, beyond the uncertainty.
    DoesNotConform,
    /// It cannot be said; the reason and what would settle it go with it.
    Inconclusive,
    /// A `should` is not met.
    Advisory,
    /// It does not conform, and a valid concession covers it: said by a stage after judging, never by a rule.
    Conceded,
    /// The rule's own condition is false.
    NotApplicable,
    /// The tool could not finish.
    NotJudged,
}

impl Verdict {
    /// All verdicts, in the order they are counted.
    pub const ALL: [Self; 7] = [
        Self::DoesNotConform,
        Self::Inconclusive,
        Self::Advisory,
        Self::Conceded,
        Self::Conforms,
        Self::NotApplicable,
        Self::NotJudged,
    ];

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Conforms => "conforms",
            Self::DoesNotConform => "does not conform",
            Self::Inconclusive => "inconclusive",
            Self::Advisory => "advisory",
            Self::Conceded => "conceded",
            Self::NotApplicable => "not applicable",
            Self::NotJudged => "not judged",
        }
    }
}
