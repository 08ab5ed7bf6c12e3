//! What people have said of findings: accepted departures and remarks, as plain data beside the verdicts.

use crate::document::concessions::ConcessionKind;
use crate::document::date::Date;
use crate::source::Span;
use crate::verdict::Verdict;

/// The concession or deviation permit that bears on a finding, whether or not it covers it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Acceptance {
    /// What it is called in its file.
    pub name: String,
    /// Concession or deviation permit.
    pub kind: ConcessionKind,
    /// Where its name stands.
    pub span: Span,
    /// Why the departure may stand.
    pub reason: String,
    /// Who accepted it.
    pub by: String,
    /// By what function.
    pub function: String,
    /// The first day on which it holds.
    pub from: Date,
    /// The last day on which it holds.
    pub expires: Date,
    /// The worst value that is accepted, as written.
    pub bound: String,
    /// For how many pieces.
    pub quantity: Option<u32>,
    /// For which pieces.
    pub serials: Vec<String>,
    /// For which use.
    pub purpose: Option<String>,
    /// The verdict of the rulebook alone.
    pub without: Verdict,
    /// Why it does not cover the finding; nothing where it does.
    pub refused: Option<String>,
}

/// What is against a concession itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ConcessionFault {
    /// Its last day is over.
    Expired,
    /// Its first day is not there yet.
    NotInForce,
    /// The value is worse than its bound, or could be.
    Exceeded,
    /// It is of the other kind than the state of the pan asks for.
    WrongKind,
    /// It covers more than the finding needs.
    TooWide,
    /// Nothing needs it.
    Unused,
}

impl ConcessionFault {
    /// All faults.
    pub const ALL: [Self; 6] = [
        Self::Expired,
        Self::NotInForce,
        Self::Exceeded,
        Self::WrongKind,
        Self::TooWide,
        Self::Unused,
    ];

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Expired => "expired",
            Self::NotInForce => "not in force",
            Self::Exceeded => "exceeded",
            Self::WrongKind => "wrong kind",
            Self::TooWide => "too wide",
            Self::Unused => "unused",
        }
    }

    /// What it means, in one sentence.
    pub fn description(self) -> &'static str {
        match self {
            Self::Expired => "The last day of the concession is over.",
            Self::NotInForce => "The first day of the concession is not there yet.",
            Self::Exceeded => "The value is not shown to be within what was accepted.",
            Self::WrongKind => {
                "A concession is for a pan as made, a deviation permit for one as designed."
            }
            Self::TooWide => "The concession covers more than the finding needs.",
            Self::Unused => "Nothing needs the concession.",
        }
    }
}

/// A finding on a concession.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ConcessionFinding {
    /// What is against it.
    pub fault: ConcessionFault,
    /// What it is called in its file.
    pub name: String,
    /// Path of the pan as shown.
    pub pan: String,
    /// Id of the rule.
    pub rule: String,
    /// Path of the object, where one is meant.
    pub object: Option<String>,
    /// What was found, lower case and without a final stop.
    pub message: String,
    /// The smallest place that shows it.
    pub span: Span,
    /// Another place that belongs to it, and what is said there.
    pub other: Option<(Span, String)>,
    /// What to do.
    pub help: String,
}

/// What came of the concessions that were read.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Conceding {
    /// The day by which they were judged.
    pub on: Option<Date>,
    /// How many were read.
    pub read: usize,
    /// How many of them are for a pan or a rule that was not judged here.
    pub elsewhere: usize,
    /// What is against them, in the order in which they stand.
    pub findings: Vec<ConcessionFinding>,
}

/// What came of holding a review against what was known before.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Screening {
    /// How many pans were looked at.
    pub looked_at: usize,
    /// How many findings are known and no worse, and are not told.
    pub known: usize,
    /// The list of them, as it is shown; none where there is none, and everything counts.
    pub list: Option<String>,
    /// What is known and no more, in the order in which it stands.
    pub stale: Vec<StaleFinding>,
}

/// A known finding that is no more.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StaleFinding {
    /// Path of the pan as shown.
    pub pan: String,
    /// Id of the rule.
    pub rule: String,
    /// Path of the object, where it was on one.
    pub object: Option<String>,
    /// What has become of it, lower case and without a final stop.
    pub message: String,
    /// Where it stands in the list.
    pub span: Span,
    /// What to do.
    pub help: String,
}

/// What a reviewer has said of a finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// In the reviewer's words.
    pub text: String,
    /// What the reviewer makes of the finding, in one or a few words.
    pub judgement: Option<String>,
    /// Who said it.
    pub by: String,
    /// When, if that is said.
    pub on: Option<Date>,
    /// Where it stands.
    pub span: Span,
    /// What has changed since it was written; nothing where all is as it was.
    pub changed: Option<String>,
}
