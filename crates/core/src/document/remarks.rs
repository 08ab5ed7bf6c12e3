//! A reviewer's remarks on the findings of one pan, kept beside it.

use super::Text;
use super::concessions::Day;
use crate::quantity::Unit;
use crate::source::Span;

/// What stands before `.yaml` in the name of a pan's remarks: `low-finned.remarks.yaml`.
pub const REMARKS: &str = ".remarks";

/// The remarks on one pan.
#[derive(Debug, Clone)]
pub struct RemarksDoc {
    /// The whole document.
    pub span: Span,
    /// `title`.
    pub title: Option<Text>,
    /// `remarks_on`, those that say something, in the order written.
    pub remarks: Vec<RemarkDoc>,
}

/// One remark on one finding.
#[derive(Debug, Clone)]
pub struct RemarkDoc {
    /// `rule`.
    pub rule: Text,
    /// `object`.
    pub object: Option<Text>,
    /// `verdict`: what it was when the remark was made.
    pub verdict: Option<Text>,
    /// `value`: likewise.
    pub value: Option<ValueThen>,
    /// `judgement`: what the reviewer makes of it, in a few words.
    pub judgement: Option<Text>,
    /// `remark`.
    pub remark: Text,
    /// `by`, or that of the whole file.
    pub by: Text,
    /// `on`, or that of the whole file.
    pub on: Option<Day>,
}

/// A value as it was when a remark was made.
#[derive(Debug, Clone)]
pub struct ValueThen {
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
