//! A rule or a measure laid open: what it asks and why, and how it came to its verdict on one pan.

mod condition;
mod curve;
mod measure;
mod on_pan;
mod rule;
mod run;
mod term;

pub use run::{Demo, ExplainRequest, explain};

use crate::document::rulebook::{Decision, Expected, Force};
use crate::measure::{Bounds, ObjectKind, Spec, StateValue, Unknown, Worst};
use crate::prove::Slack;
use crate::quantity::{Dimension, Unit};
use crate::review::{BookUsed, Contribution, Finding, LimitSide, MeasureReading, Need, Reading};
use crate::rule::Truth;
use crate::source::{Diagnostic, Sources, Span};
use crate::verdict::Verdict;

/// What came of asking for an explanation.
#[derive(Debug)]
pub struct Explanation {
    /// Every text that was read.
    pub sources: Sources,
    /// What is wrong with the documents; any error in it means exit 2.
    pub problems: Vec<Diagnostic>,
    /// What is explained.
    pub subject: Subject,
    /// The rulebook's edition, and what it changes of those that it builds on.
    pub book: BookUsed,
}

/// What is explained.
#[derive(Debug)]
pub enum Subject {
    /// Nothing was named: every rule and every measure.
    Everything(Everything),
    /// A rule.
    Rule(Box<RuleExplained>),
    /// A measure.
    Measure(Box<MeasureExplained>),
    /// No rule and no measure has the name.
    Unknown {
        /// The name.
        name: String,
        /// The name that was probably meant.
        meant: Option<String>,
    },
    /// The rulebook is at fault, so that nothing can be said of its rules.
    Nothing,
}

/// Every rule and every measure, by name.
#[derive(Debug)]
pub struct Everything {
    /// The rules.
    pub rules: Vec<RuleLine>,
    /// The measures.
    pub measures: Vec<&'static Spec>,
}

/// A rule in one line.
#[derive(Debug, Clone)]
pub struct RuleLine {
    /// Its id.
    pub id: String,
    /// Its force.
    pub force: Force,
    /// What it asks, in words.
    pub title: String,
    /// Where it stands.
    pub span: Span,
}

/// A formula or condition as it stands in the rulebook.
#[derive(Debug, Clone)]
pub struct Written {
    /// The text.
    pub text: String,
    /// Where it stands.
    pub span: Span,
}

/// A rule in full.
#[derive(Debug)]
pub struct RuleExplained {
    /// Id, force, title and place.
    pub line: RuleLine,
    /// What it is judged for: the pan once, or each object of a kind.
    pub kind: ObjectKind,
    /// The formula that is judged.
    pub measure: Written,
    /// Dimension of measure and limits.
    pub dimension: Dimension,
    /// Every measure in it, in the order of the formulas, each once.
    pub measures: Vec<&'static Spec>,
    /// Its limits.
    pub limits: Vec<LimitAsked>,
    /// Its numbers, and how tightly its cases must hold each.
    pub pins: Vec<Pin>,
    /// The decision rule in force.
    pub decision: Decision,
    /// When it applies; always, if left out.
    pub when: Option<Written>,
    /// Why it is there.
    pub because: String,
    /// Where it comes from.
    pub source: String,
    /// What usually helps.
    pub remedy: Option<String>,
    /// What to take care of.
    pub caution: Option<String>,
    /// The edition of the rulebook that brought it.
    pub since: Option<u32>,
    /// Its cases.
    pub cases: Cases,
    /// What other rulebooks changed of it, in whole sentences.
    pub changed: Vec<String>,
    /// How it came to its verdict on the pan asked for.
    pub on_pan: Option<OnPan>,
    /// Its measure against the input that drives it, where that was asked for.
    pub curve: Option<Curve>,
}

/// A measure against one input, all else as a pan states it.
#[derive(Debug)]
pub struct Curve {
    /// The formula of the measure.
    pub measure: String,
    /// Dimension of measure and limits.
    pub dimension: Dimension,
    /// Dotted path of the input.
    pub input: String,
    /// Its dimension.
    pub input_dimension: Dimension,
    /// The unit that it is written in.
    pub input_unit: Unit,
    /// How a person gets it.
    pub how_to_get: &'static str,
    /// The pan whose curve it is.
    pub of: String,
    /// The sides of the limits.
    pub sides: Vec<LimitSide>,
    /// By rising value of the input.
    pub points: Vec<CurvePoint>,
    /// Pans, each at its own value of the input, with its own reading.
    pub pans: Vec<PanOnCurve>,
}

/// A point of a curve.
#[derive(Debug, Clone)]
pub struct CurvePoint {
    /// Value of the input, in SI base units.
    pub at: f64,
    /// The measure there, in SI base units; nothing where it cannot be computed.
    pub value: Option<Bounds>,
    /// Each limit there, likewise.
    pub limits: Vec<Option<Bounds>>,
}

/// Where a pan stands.
#[derive(Debug, Clone)]
pub struct PanOnCurve {
    /// Its title, or its path.
    pub name: String,
    /// Its value of the input, in SI base units.
    pub at: f64,
    /// What the measure reads in it.
    pub reading: Reading,
    /// What the decision rule takes off its margin, in SI base units; nothing without a rule.
    pub guard: Option<f64>,
    /// The verdict on it; nothing without a rule.
    pub verdict: Option<Verdict>,
    /// Whether the curve is that of this pan.
    pub is_base: bool,
}

/// A limit of a rule.
#[derive(Debug, Clone)]
pub struct LimitAsked {
    /// Which side.
    pub side: LimitSide,
    /// The formula.
    pub written: Written,
    /// Whether it is a number alone, so that its unit stands in it.
    pub is_plain: bool,
}

/// A number of a rule, as written, with the pin that holds it.
#[derive(Debug, Clone)]
pub struct Pin {
    /// The number with its unit.
    pub number: String,
    /// Where the number stands.
    pub span: Span,
    /// How far it may move before a case notices; nothing where the rule states none.
    pub pin: Option<String>,
    /// How far it could move before one does; nothing where that was not looked into.
    pub slack: Option<Slack>,
}

/// The cases of a rule.
#[derive(Debug, Clone, Default)]
pub struct Cases {
    /// The first that conforms.
    pub passing: Option<Case>,
    /// The first that does not, or is advisory.
    pub failing: Option<Case>,
    /// How many others expect each verdict, in the order of first occurrence.
    pub others: Vec<(Expected, usize)>,
    /// How many do not come out as expected, and so hold nothing.
    pub failed: usize,
}

/// A case of a rule.
#[derive(Debug, Clone)]
pub struct Case {
    /// The pan that it changes.
    pub fixture: String,
    /// Whether every uncertainty of the pan is set to zero.
    pub exact: bool,
    /// Paths, and what each is set to, as written.
    pub set: Vec<(String, String)>,
    /// Paths that are left out.
    pub dropped: Vec<String>,
    /// What must come out.
    pub expected: Expected,
    /// Where it stands.
    pub span: Span,
}

/// A rule on one pan.
#[derive(Debug)]
pub struct OnPan {
    /// The pan's path as shown.
    pub path: String,
    /// Its title.
    pub title: Option<String>,
    /// Paths of its baseline pans.
    pub baselines: Vec<String>,
    /// The chain to each verdict: one for the pan, or one for each object.
    pub chains: Vec<Chain>,
}

/// How a rule came to its verdict on one object, in the order in which it was looked at.
#[derive(Debug)]
pub struct Chain {
    /// The truth of its condition; none where it has none, or no object to be read for.
    pub condition: Option<ConditionSeen>,
    /// What its formulas are made of; empty where the condition is not true.
    pub terms: Vec<Term>,
    /// Every uncertain input that moves the deciding margin, largest first.
    pub moved_by: Vec<Contribution>,
    /// Every input taken as exact that would move it, by one of its last digit, largest first.
    pub exact: Vec<Contribution>,
    /// Reading, limits, margins, decision and verdict.
    pub finding: Finding,
}

/// A condition with its truth and that of everything in it.
#[derive(Debug)]
pub struct ConditionSeen {
    /// The condition in the canonical text.
    pub text: String,
    /// Where it stands.
    pub span: Span,
    /// Whether it holds.
    pub truth: Truth,
    /// Its clauses, one of which has to hold, each with its tests, all of which have to hold.
    pub clauses: Vec<Vec<TestSeen>>,
}

/// A test with its truth.
#[derive(Debug)]
pub struct TestSeen {
    /// The test in the canonical text, `not` included.
    pub text: String,
    /// Where it stands.
    pub span: Span,
    /// Whether it holds, `not` included.
    pub truth: Truth,
    /// What it looks at.
    pub looks_at: LooksAt,
}

/// What a test looks at.
#[derive(Debug)]
pub enum LooksAt {
    /// A value of a document.
    Path {
        /// Its path, with the object's name in it.
        path: String,
        /// Where it stands, if it does.
        stands: Option<Span>,
    },
    /// Two formulas.
    Formulas(Box<[Term; 2]>),
    /// A condition in brackets.
    Condition(ConditionSeen),
}

/// A part of a formula that is read from the pan: a measure, or one brought together over objects or baseline
/// pans.
#[derive(Debug)]
pub struct Term {
    /// As the formula has it.
    pub text: String,
    /// The measure, where it is one.
    pub spec: Option<&'static Spec>,
    /// Whether anything in it is read from the pan: a number alone is not.
    pub is_read: bool,
    /// Its dimension.
    pub dimension: Dimension,
    /// Its value with uncertainty, or why there is none.
    pub reading: Result<Reading, Unknown>,
    /// The state that decides.
    pub worst: Option<Worst>,
    /// Every state, for a measure over the duty.
    pub states: Vec<StateValue>,
    /// What it was brought together from: each object, or each baseline pan.
    pub parts: Vec<Part>,
    /// What a reader has to know of the value.
    pub note: Option<&'static str>,
}

/// One of several readings that a function brings together.
#[derive(Debug)]
pub struct Part {
    /// The object's path, or the path of the baseline pan.
    pub of: String,
    /// Its reading, or why there is none.
    pub reading: Result<Reading, Unknown>,
}

/// A measure in full.
#[derive(Debug)]
pub struct MeasureExplained {
    /// The measure.
    pub spec: &'static Spec,
    /// The rules that use it, by id.
    pub rules: Vec<RuleLine>,
    /// What it reads in the pan asked for, or in the demo pan.
    pub shown_on: Option<ShownOn>,
    /// The measure against the input that drives it, where that was asked for.
    pub curve: Option<Curve>,
}

/// A measure on one pan.
#[derive(Debug)]
pub struct ShownOn {
    /// The pan's path as shown.
    pub path: String,
    /// Its title.
    pub title: Option<String>,
    /// Whether it is the demo pan, since none was named.
    pub is_demo: bool,
    /// One entry for the pan, or one for each object.
    pub objects: Vec<MeasureSeen>,
}

/// A measure on one object.
#[derive(Debug)]
pub struct MeasureSeen {
    /// Its reading, with every uncertain input that moves it.
    pub reading: MeasureReading,
    /// Every input taken as exact that would move it, by one of its last digit, largest first.
    pub exact: Vec<Contribution>,
    /// The input that a reader would change, whether a number or a word.
    pub subject: Option<Need>,
    /// What would have to be stated, where it has no reading.
    pub needs: Vec<Need>,
}
