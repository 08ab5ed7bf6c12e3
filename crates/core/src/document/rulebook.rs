//! A rulebook as its document states it: formulas are still text with a place.

use super::Text;
use super::pan::Word;
use crate::source::{Node, Scalar, Span};

/// One rulebook file.
#[derive(Debug, Clone)]
pub struct RulebookDoc {
    /// The whole document.
    pub span: Span,
    /// `decision` of the whole book.
    pub decision: Option<Word<Decision>>,
    /// `fixtures`: where the names in cases live.
    pub fixtures: Option<Text>,
    /// `builds_on`: the rulebook that this one changes and adds to.
    pub builds_on: Option<BuildsOn>,
    /// `instead`: what stands in place of parts of its rules.
    pub instead: Vec<InsteadDoc>,
    /// `dropped`: the ids of its rules that do not hold here, each with the reason.
    pub dropped: Vec<(Text, Text)>,
    /// `rules`.
    pub rules: Vec<RuleDoc>,
}

/// The rulebook that another builds on.
#[derive(Debug, Clone)]
pub struct BuildsOn {
    /// `book`: the files that it is made of, or the word for the one that the host brings along.
    pub books: Vec<Text>,
    /// `edition`: the digest that its rules must have.
    pub edition: Option<Text>,
    /// The whole mapping.
    pub span: Span,
}

/// What stands in place of parts of a rule.
#[derive(Debug, Clone)]
pub struct InsteadDoc {
    /// The id of the rule.
    pub id: Text,
    /// `reason`.
    pub reason: Text,
    /// `force`.
    pub force: Option<Word<Force>>,
    /// `at_least`, or the first of `within`.
    pub at_least: Option<Replaced>,
    /// `at_most`, or the second of `within`.
    pub at_most: Option<Replaced>,
    /// Whether both limits stand under `within`, of which one may be as before.
    pub is_band: bool,
    /// `when`.
    pub when: Option<Replaced>,
    /// `decision`.
    pub decision: Option<Word<Decision>>,
    /// `pin`.
    pub pin: Option<Node>,
    /// `cases`.
    pub cases: Vec<CaseDoc>,
    /// `equivalent`.
    pub equivalent: Vec<(Text, Text)>,
    /// The whole mapping.
    pub span: Span,
}

/// What becomes of a formula or condition of a rule.
#[derive(Debug, Clone)]
pub enum Replaced {
    /// Another stands in its place.
    By(Scalar),
    /// `none`: it is taken away.
    TakenAway(Span),
}

/// A rule as it was before another rulebook put something in place of parts of it.
#[derive(Debug, Clone)]
pub struct Overridden {
    /// The rule of the rulebook that the other builds on, with the decision rule in force there.
    pub base: RuleDoc,
    /// Why it is changed.
    pub reason: Text,
    /// Where its id stands in the other rulebook.
    pub span: Span,
}

/// How a verdict takes the uncertainty into account.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Decision {
    /// The uncertainty is taken off: one-sided 95 %.
    Guarded,
    /// The value alone.
    Simple,
    /// At least this probability of conformity (0 to 1).
    Probability(f64),
}

/// The force of a rule, as in the ISO/IEC Directives, Part 2.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Force {
    /// A requirement.
    Shall,
    /// A recommendation.
    Should,
}

impl Force {
    /// As written.
    pub fn word(self) -> &'static str {
        match self {
            Self::Shall => "shall",
            Self::Should => "should",
        }
    }
}

/// A verdict that a case expects.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Expected {
    /// `conforms`.
    Conforms,
    /// `does not conform`.
    DoesNotConform,
    /// `inconclusive`.
    Inconclusive,
    /// `advisory`.
    Advisory,
    /// `not applicable`.
    NotApplicable,
}

impl Expected {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Conforms => "conforms",
            Self::DoesNotConform => "does not conform",
            Self::Inconclusive => "inconclusive",
            Self::Advisory => "advisory",
            Self::NotApplicable => "not applicable",
        }
    }
}

/// A rule.
#[derive(Debug, Clone)]
pub struct RuleDoc {
    /// Its id.
    pub id: Text,
    /// `title`.
    pub title: Text,
    /// `force`.
    pub force: Word<Force>,
    /// `measure`: a formula.
    pub measure: Scalar,
    /// `at_least`, or the first of `within`.
    pub at_least: Option<Scalar>,
    /// `at_most`, or the second of `within`.
    pub at_most: Option<Scalar>,
    /// `pin`: one for all numbers, or one for each number as written.
    pub pin: Option<Node>,
    /// `when`: a condition.
    pub when: Option<Scalar>,
    /// `because`.
    pub because: Text,
    /// `source`.
    pub source: Text,
    /// `remedy`.
    pub remedy: Option<Text>,
    /// `caution`: said where it bears.
    pub caution: Option<Text>,
    /// `since`.
    pub since: Option<Word<u32>>,
    /// `decision` of this rule alone.
    pub decision: Option<Word<Decision>>,
    /// `cases`.
    pub cases: Vec<CaseDoc>,
    /// `equivalent`: alterations, in the words of `prove`, that no case could notice, each with the reason.
    pub equivalent: Vec<(Text, Text)>,
    /// The whole mapping.
    pub span: Span,
    /// What it was before another rulebook changed it.
    pub overridden: Option<Box<Overridden>>,
}

impl RuleDoc {
    /// Where its own cases stand, or would: in the rulebook that changed it last.
    pub fn last_changed(&self) -> Span {
        self.overridden.as_ref().map_or(self.id.span, |overridden| overridden.span)
    }
}

/// A case of a rule.
#[derive(Debug, Clone)]
pub struct CaseDoc {
    /// `fixture`: a file name without its ending.
    pub fixture: Text,
    /// `exact`.
    pub exact: bool,
    /// `set`: dotted paths and the node each is set to.
    pub set: Vec<(Text, Node)>,
    /// `drop`: dotted paths.
    pub dropped: Vec<Text>,
    /// `expect`.
    pub expect: Word<Expected>,
    /// The whole mapping.
    pub span: Span,
}
