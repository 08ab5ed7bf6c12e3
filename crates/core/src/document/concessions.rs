//! Accepted departures: who lets a finding stand, why, how far, and until when.

use super::Text;
use super::date::Date;
use super::pan::Word;
use crate::quantity::Unit;
use crate::source::Span;

/// A list of concessions and deviation permits.
#[derive(Debug, Clone)]
pub struct ConcessionsDoc {
    /// The whole document.
    pub span: Span,
    /// `title`.
    pub title: Option<Text>,
    /// `accepted`, in the order written.
    pub accepted: Vec<ConcessionDoc>,
}

/// One accepted departure.
#[derive(Debug, Clone)]
pub struct ConcessionDoc {
    /// What it is called.
    pub name: Text,
    /// `kind`.
    pub kind: Word<ConcessionKind>,
    /// `rule`: the id of the rule that is not met.
    pub rule: Text,
    /// `pan`: from the file's folder.
    pub pan: Text,
    /// `object`: the path of the one object that is meant, `fins.keel`.
    pub object: Option<Text>,
    /// `reason`.
    pub reason: Text,
    /// `accepted_by.name`.
    pub by: Text,
    /// `accepted_by.function`.
    pub function: Text,
    /// `accepted_by.on`: the first day on which it holds.
    pub from: Day,
    /// `bound`: the worst value that is accepted.
    pub bound: Bound,
    /// `expires`: the last day on which it holds.
    pub expires: Day,
    /// `also: inconclusive`: whether it covers what cannot be decided too.
    pub also_inconclusive: bool,
    /// `quantity`: for how many pieces.
    pub quantity: Option<Word<u32>>,
    /// `serials`: for which pieces.
    pub serials: Vec<Text>,
    /// `use`: for which use.
    pub purpose: Option<Text>,
    /// The whole entry.
    pub span: Span,
}

/// The two words of quality management for a departure that is accepted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ConcessionKind {
    /// After making: what was made is used although it does not conform.
    Concession,
    /// Before making: it may be made otherwise than asked.
    DeviationPermit,
}

impl ConcessionKind {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Concession => "concession",
            Self::DeviationPermit => "deviation permit",
        }
    }
}

/// A day with its place.
#[derive(Debug, Clone, Copy)]
pub struct Day {
    /// The day.
    pub date: Date,
    /// Where it stands.
    pub span: Span,
}

/// The worst value that is accepted.
#[derive(Debug, Clone)]
pub struct Bound {
    /// As written.
    pub text: String,
    /// In SI base units.
    pub value: f64,
    /// The unit as written.
    pub unit: Unit,
    /// Where it stands.
    pub span: Span,
}
