//! What a repository already knew to be against its pans: a list that is written by the program and read by people.

use super::Text;
use crate::quantity::Unit;
use crate::source::Span;

/// A list of known findings.
#[derive(Debug, Clone)]
pub struct KnownDoc {
    /// The key that says the kind.
    pub span: Span,
    /// `findings`, in the order written; empty where it is `none`.
    pub findings: Vec<KnownFinding>,
}

/// One finding that is known.
#[derive(Debug, Clone)]
pub struct KnownFinding {
    /// `pan`: from the folder of the project.
    pub pan: Text,
    /// `rule`.
    pub rule: Text,
    /// `object`: the one that the finding is on, for a rule on several.
    pub object: Option<Text>,
    /// `at`: the dotted path of the value that it points at.
    pub at: Text,
    /// `verdict`.
    pub verdict: Text,
    /// `value`: that of the measure, or the worse of its bounds; none where nothing could be computed.
    pub value: Option<KnownValue>,
    /// The whole entry.
    pub span: Span,
}

/// A value as it was when it became known.
#[derive(Debug, Clone)]
pub struct KnownValue {
    /// As written.
    pub text: String,
    /// In SI base units.
    pub value: f64,
    /// One unit of the last digit written, in SI base units.
    pub last_digit: f64,
    /// The unit as written.
    pub unit: Unit,
    /// Where it stands.
    pub span: Span,
}

/// The verdicts that a known finding can have: those that count against a pan and can be lived with.
pub const KNOWN_VERDICTS: &[&str] = &["does not conform", "inconclusive"];
