//! A pan beside its baseline, as data: what every measure comes to in both, and which verdicts are others.

use crate::measure::{Spec, Unknown, Worst};
use crate::review::{BookUsed, Contribution, Reading};
use crate::source::{Diagnostic, Sources, has_error};
use crate::verdict::Verdict;

/// What came of holding a pan beside its baseline or baselines.
#[derive(Debug)]
pub struct PansCompared {
    /// Every text that was read.
    pub sources: Sources,
    /// What is wrong with the documents; with an error in it nothing is compared.
    pub problems: Vec<Diagnostic>,
    /// The rulebook by which the verdicts are, and which says what is better.
    pub book: BookUsed,
    /// How many rules it holds.
    pub rules: usize,
    /// Both sides; nothing where the documents are at fault.
    pub sides: Option<Sides>,
}

/// The two sides.
#[derive(Debug)]
pub struct Sides {
    /// The pan.
    pub pan: PanNamed,
    /// What it is held beside, each as if it were used on this pan's vehicle, with its oil and duty.
    pub baselines: Vec<PanNamed>,
    /// Measures by topic, in the order in which a reader wants them.
    pub topics: Vec<TopicCompared>,
    /// Rules whose verdict is another, the gravest here first.
    pub verdicts: Vec<VerdictBeside>,
    /// How many rules come to the same verdict in all.
    pub same_verdicts: usize,
}

/// A pan by path and title.
#[derive(Debug, Clone)]
pub struct PanNamed {
    /// Its path as shown.
    pub path: String,
    /// Its title.
    pub title: Option<String>,
}

/// The measures of one topic: first what is surest to differ.
#[derive(Debug)]
pub struct TopicCompared {
    /// In words.
    pub name: &'static str,
    /// Its measures on every object.
    pub measures: Vec<MeasureBeside>,
}

/// One measure in both.
#[derive(Debug)]
pub struct MeasureBeside {
    /// The measure.
    pub spec: &'static Spec,
    /// Path of the object.
    pub object: Option<String>,
    /// What it is here.
    pub here: Result<Reading, Unknown>,
    /// The mean over the baselines.
    pub there: Result<Reading, Unknown>,
    /// Here less there, as one quantity: what both share cancels.
    pub difference: Result<Reading, Unknown>,
    /// What moves the difference most.
    pub driver: Option<Contribution>,
    /// The state of the duty that decides here.
    pub worst: Option<Worst>,
    /// Which way is better, and the rules that say so; nothing where no rule does.
    pub better: Option<Better>,
    /// What it comes to.
    pub outcome: Outcome,
}

/// Which way of a measure is better.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Better {
    /// The way.
    pub way: Way,
    /// The ids of the rules that say so.
    pub by: Vec<String>,
}

/// A way in which a measure is better.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// More is better: rules ask for at least so much.
    More,
    /// Less is better: rules allow at most so much.
    Less,
    /// Nearer to what lies between two limits is better.
    Band,
}

impl Way {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::More => "more is better",
            Self::Less => "less is better",
            Self::Band => "nearer to the band is better",
        }
    }
}

/// What a measure in both comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// Surely worse here.
    Lost,
    /// Surely better here.
    Won,
    /// Surely another, where no rule says which is better, or where both are within the band.
    Differs,
    /// Another, but by no more than the uncertainty of the difference.
    NotToldApart,
    /// Known here only.
    OnlyHere,
    /// Known in the baseline only.
    OnlyThere,
    /// Alike.
    Same,
    /// Known in neither.
    Unknown,
}

impl Outcome {
    /// All outcomes, in the order in which they are told.
    pub const ALL: [Self; 8] = [
        Self::Lost,
        Self::Won,
        Self::Differs,
        Self::NotToldApart,
        Self::OnlyHere,
        Self::OnlyThere,
        Self::Same,
        Self::Unknown,
    ];

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Lost => "lost",
            Self::Won => "won",
            Self::Differs => "differs",
            Self::NotToldApart => "cannot be told apart",
            Self::OnlyHere => "known here only",
            Self::OnlyThere => "known in the baseline only",
            Self::Same => "alike",
            Self::Unknown => "known in neither",
        }
    }
}

/// A rule whose verdict is not the same in all: the gravest over its objects.
#[derive(Debug)]
pub struct VerdictBeside {
    /// The rule.
    pub rule: String,
    /// Its title.
    pub title: String,
    /// Here.
    pub here: Verdict,
    /// In each baseline, in their order.
    pub there: Vec<Verdict>,
}

impl PansCompared {
    /// Whether the documents are at fault, so that nothing was compared.
    pub fn has_error(&self) -> bool {
        has_error(&self.problems)
    }
}

impl Sides {
    /// How many measures came to an outcome.
    pub fn count(&self, outcome: Outcome) -> usize {
        let all = self.topics.iter().flat_map(|topic| &topic.measures);
        all.filter(|measure| measure.outcome == outcome).count()
    }
}
