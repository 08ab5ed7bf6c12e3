//! A review: plain data, sorted by one key, from which every format is written.

mod baseline;
mod change;
mod clauses;
mod documents;
mod judge;
mod map;
mod marks;
mod ruled;
mod run;
mod situation;
mod sweep;

pub(crate) use documents::read_scene;
pub(crate) use judge::{gravest, gravity, judge, margin_at, worst_verdict};
pub(crate) use ruled::Ruled;
pub(crate) use run::{
    Beside, Opened, OpenedPan, open, open_beside, open_with, readings, rejudged, review_then,
    without_pans,
};
pub(crate) use situation::Situation;
pub(crate) use sweep::Sweep;

pub use change::{Change, Costly, Remedy};
pub use clauses::{
    Answer, ChecklistHeld, ClauseHeld, EvidenceHeld, PanHeld, RuleAnswer, StatementHeld,
};
pub use marks::{
    Acceptance, Conceding, ConcessionFault, ConcessionFinding, Remark, Screening, StaleFinding,
};
pub use run::{
    ProjectRead, Request, measure, measure_with_map, read_alone, read_book, read_project_file,
    review,
};

use crate::coverage::CoverageMap;
use crate::document::rulebook::{Decision, Force};
use crate::figure::Figure;
use crate::measure::{Bounds, Spec, StateValue, Unknown, Worst};
use crate::quantity::{Dimension, Unit};
use crate::rule::{self, Layer, Rulebook};
use crate::source::{Diagnostic, Sources, Span, has_error};
use crate::verdict::Verdict;

/// What came of looking at some pans.
#[derive(Debug)]
pub struct Review {
    /// Every text that was read.
    pub sources: Sources,
    /// The pans, in the order of their paths.
    pub pans: Vec<PanReview>,
    /// What is wrong with the documents, by file and place; any error in it means exit 2.
    pub problems: Vec<Diagnostic>,
    /// How many rules the rulebook holds.
    pub rules: usize,
    /// The rulebook's edition, and what it changes of those that it builds on.
    pub book: BookUsed,
    /// The customers' lists that the pans were held against, in the order of their paths.
    pub checklists: Vec<ChecklistHeld>,
    /// What came of the concessions that were read.
    pub conceding: Conceding,
    /// Where only what is worse than known is told: what was passed over, and what is known and no more.
    pub screening: Option<Screening>,
}

impl Review {
    /// How many pans were looked at, told of or not.
    pub fn looked_at(&self) -> usize {
        self.screening.as_ref().map_or(self.pans.len(), |screening| screening.looked_at)
    }

    /// Whether no pan was judged at all, and none had to be.
    pub fn is_of_nothing(&self) -> bool {
        self.pans.is_empty() && self.screening.is_none()
    }
}

/// A rulebook as it was used; nothing of one that is at fault, since what it comes to is not known.
#[derive(Debug, Clone, Default)]
pub struct BookUsed {
    /// The digest of its rules.
    pub edition: String,
    /// The ids of its rules, in their order.
    pub ids: Vec<String>,
    /// The digest of each of them, made as the edition is of all.
    pub digests: Vec<String>,
    /// What it builds on, the nearest first, with every change.
    pub layers: Vec<Layer>,
}

impl BookUsed {
    /// What there is to say of a rulebook, if it stands.
    pub(crate) fn of(rulebook: &Rulebook, problems: &[Diagnostic]) -> Self {
        if has_error(problems) {
            return Self::default();
        }
        Self {
            edition: rulebook.edition.clone(),
            ids: rulebook.rules.iter().map(|rule| rule.doc.id.text.clone()).collect(),
            digests: rulebook.rules.iter().map(rule::edition_of_one).collect(),
            layers: rulebook.layers.clone(),
        }
    }
}

/// One pan.
#[derive(Debug)]
pub struct PanReview {
    /// Its path as shown.
    pub path: String,
    /// Its title.
    pub title: Option<String>,
    /// Paths of its baseline pans.
    pub baselines: Vec<String>,
    /// Every rule on every object it is judged for, sorted by rule id and object.
    pub findings: Vec<Finding>,
    /// Every stated quantity that was used, with its uncertainty: those with u = 0 were taken as exact.
    pub inputs: Vec<InputUsed>,
    /// What the reader has to know of how it was computed; whole sentences.
    pub notes: Vec<String>,
    /// Drawings, where they were asked for.
    pub figures: Vec<Figure>,
    /// The coverage map, where drawings were asked for.
    pub coverage: Option<Result<CoverageMap, Unknown>>,
}

/// A stated quantity in words.
#[derive(Debug, Clone)]
pub struct InputUsed {
    /// Dotted path.
    pub path: String,
    /// Where it stands.
    pub span: Span,
    /// Value in SI base units.
    pub value: f64,
    /// Standard uncertainty in SI base units; 0: taken as exact.
    pub u: f64,
    /// Its unit as written.
    pub unit: Unit,
    /// Only assumed.
    pub assumed: bool,
    /// How a person gets it.
    pub how_to_get: &'static str,
}

/// A quantity with the standard uncertainty of each of its bounds, in SI base units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// The value or its bounds.
    pub bounds: Bounds,
    /// Standard uncertainty of the lower bound.
    pub u_low: f64,
    /// Standard uncertainty of the upper bound.
    pub u_high: f64,
}

/// How one input moves a reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Contribution {
    /// Its path.
    pub path: String,
    /// Where it stands.
    pub span: Span,
    /// Effect of one standard uncertainty (or, where that is 0, of one unit of the last digit) on the
    /// reading, with its sign, in SI base units.
    pub effect: f64,
    /// Whether the effect is of the last digit only, since the input is taken as exact.
    pub of_last_digit: bool,
    /// Whether the input is only assumed.
    pub assumed: bool,
    /// How a person gets it better.
    pub how_to_get: &'static str,
}

/// Which side of a limit is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitSide {
    /// At least.
    AtLeast,
    /// At most.
    AtMost,
}

/// A limit as it came out for this pan.
#[derive(Debug, Clone)]
pub struct LimitReading {
    /// Which side.
    pub side: LimitSide,
    /// The formula as written.
    pub text: String,
    /// Where it stands in the rulebook.
    pub span: Span,
    /// Its value.
    pub value: Option<Reading>,
    /// Measure minus limit for `at least`, limit minus measure for `at most`: not negative is inside.
    pub margin: Option<Reading>,
    /// Uncertainty taken off by the decision rule, in SI base units.
    pub guard: Option<f64>,
}

/// Something that has to be stated or stated better.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Need {
    /// Dotted path.
    pub path: String,
    /// Where it stands or would stand.
    pub span: Span,
    /// How a person gets it.
    pub how_to_get: String,
}

/// One rule on one object.
#[derive(Debug, Clone)]
pub struct Finding {
    /// Rule id.
    pub rule: String,
    /// What the rule asks, in words.
    pub title: String,
    /// Its force.
    pub force: Force,
    /// Path of the object (`drains.plug`), for a rule on a kind.
    pub object: Option<String>,
    /// The verdict.
    pub verdict: Verdict,
    /// The measure's formula as written.
    pub measure: String,
    /// Dimension of measure and limits.
    pub dimension: Dimension,
    /// What was computed.
    pub reading: Option<Reading>,
    /// The limits.
    pub limits: Vec<LimitReading>,
    /// The decision rule in force.
    pub decision: Decision,
    /// Where the input stands that a reader would change.
    pub subject: Span,
    /// The input that moves the margin most, if it is another than the subject.
    pub driver: Option<Contribution>,
    /// Every input that moves the deciding margin, largest first.
    pub contributions: Vec<Contribution>,
    /// The state of the duty that decides.
    pub worst: Option<Worst>,
    /// Every state, for a measure over the duty.
    pub states: Vec<StateValue>,
    /// Why it is inconclusive, not applicable or not judged; empty otherwise.
    pub reason: String,
    /// What to state or measure next, most worth first.
    pub needs: Vec<Need>,
    /// What a reader has to know beside the number.
    pub notes: Vec<String>,
    /// Why the rule is there.
    pub because: String,
    /// Where the rule or its limit comes from.
    pub source: String,
    /// What usually helps.
    pub remedy: Option<String>,
    /// What would make this pan conform by computation, where that was asked for.
    pub computed: Option<Remedy>,
    /// What to take care of.
    pub caution: Option<String>,
    /// Where the rule stands.
    pub rule_span: Span,
    /// The concession that bears on it.
    pub acceptance: Option<Acceptance>,
    /// What reviewers have said of it.
    pub remarks: Vec<Remark>,
}

impl Finding {
    /// Whether it counts against the pan. Written so that a verdict added later does, until someone says otherwise.
    pub fn is_against(&self) -> bool {
        match self.verdict {
            Verdict::Conforms | Verdict::NotApplicable | Verdict::Advisory | Verdict::Conceded => {
                false
            }
            Verdict::Inconclusive => self.force == Force::Shall,
            Verdict::DoesNotConform | Verdict::NotJudged => true,
        }
    }
}

impl PanReview {
    /// Whether no rule applied at all.
    pub fn is_of_nothing(&self) -> bool {
        self.findings.iter().all(|finding| finding.verdict == Verdict::NotApplicable)
    }
}

/// Every measure of some pans.
#[derive(Debug)]
pub struct Measured {
    /// Every text that was read.
    pub sources: Sources,
    /// The pans, in the order of their paths.
    pub pans: Vec<PanMeasured>,
    /// What is wrong with the documents.
    pub problems: Vec<Diagnostic>,
}

/// Every measure of one pan.
#[derive(Debug)]
pub struct PanMeasured {
    /// Its path as shown.
    pub path: String,
    /// Its title.
    pub title: Option<String>,
    /// Measures on every object, by name and object.
    pub measures: Vec<MeasureReading>,
    /// Stated quantities.
    pub inputs: Vec<InputUsed>,
    /// What the reader has to know of how it was computed.
    pub notes: Vec<String>,
    /// The coverage map, where it was asked for.
    pub coverage: Option<Result<CoverageMap, Unknown>>,
    /// Drawings, where they were asked for.
    pub figures: Vec<Figure>,
}

/// One measure on one object.
#[derive(Debug)]
pub struct MeasureReading {
    /// The measure.
    pub spec: &'static Spec,
    /// Path of the object.
    pub object: Option<String>,
    /// Its reading with uncertainty, or why there is none.
    pub reading: Result<Reading, Unknown>,
    /// Where the input stands that a reader would change.
    pub subject: Option<Span>,
    /// Every input that moves it, largest first.
    pub contributions: Vec<Contribution>,
    /// The state that decides.
    pub worst: Option<Worst>,
    /// Every state.
    pub states: Vec<StateValue>,
    /// What a reader has to know beside the number.
    pub notes: Vec<String>,
}
