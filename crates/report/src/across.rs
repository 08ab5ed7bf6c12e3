//! Many pans at once: rules in lines, pans in columns, a short word where they meet.

use std::collections::BTreeMap;
use sumpwright_core::review::{PanReview, Review};
use sumpwright_core::verdict::Verdict;

/// One rule on every pan.
#[derive(Debug)]
pub(crate) struct Line<'r> {
    /// Its id.
    pub(crate) rule: &'r str,
    /// Its title.
    pub(crate) title: &'r str,
    /// The gravest verdict over its objects on each pan; nothing where the rule was not looked at.
    pub(crate) verdicts: Vec<Option<Verdict>>,
}

/// The lines of several pans, by rule id: those with something to tell, or all. Nothing for a single pan, which tells
/// it all by itself.
pub(crate) fn lines(review: &Review, all: bool) -> Vec<Line<'_>> {
    if review.pans.len() < 2 {
        return Vec::new();
    }
    let mut lines: BTreeMap<&str, Line<'_>> = BTreeMap::new();
    let pans = review.pans.len();
    for (place, pan) in review.pans.iter().enumerate() {
        for finding in &pan.findings {
            let line = lines.entry(&finding.rule).or_insert_with(|| Line {
                rule: &finding.rule,
                title: &finding.title,
                verdicts: vec![None; pans],
            });
            let Some(verdict) = line.verdicts.get_mut(place) else { continue };
            let is_graver = verdict.is_none_or(|known| gravity(finding.verdict) > gravity(known));
            if is_graver {
                *verdict = Some(finding.verdict);
            }
        }
    }
    let is_told = |line: &Line<'_>| all || line.verdicts.iter().flatten().any(|v| tells(*v));
    lines.into_values().filter(is_told).collect()
}

/// The places of the pans that have something to tell, or of all.
pub(crate) fn columns(lines: &[Line<'_>], pans: &[PanReview], all: bool) -> Vec<usize> {
    let tells_something = |place: &usize| {
        let in_line =
            |line: &Line<'_>| line.verdicts.get(*place).copied().flatten().is_some_and(tells);
        all || lines.iter().any(in_line)
    };
    (0..pans.len()).filter(tells_something).collect()
}

/// Whether a verdict is worth a line: all but what conforms or does not apply.
fn tells(verdict: Verdict) -> bool {
    !matches!(verdict, Verdict::Conforms | Verdict::NotApplicable)
}

/// How grave a verdict is beside the others of one rule.
fn gravity(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::NotApplicable => 0,
        Verdict::Conforms => 1,
        Verdict::Conceded => 2,
        Verdict::Inconclusive => 3,
        Verdict::Advisory => 4,
        Verdict::DoesNotConform => 5,
        Verdict::NotJudged => 6,
    }
}

/// A verdict in a word that fits a column.
pub(crate) fn short(verdict: Option<Verdict>) -> &'static str {
    match verdict {
        None => "",
        Some(Verdict::Conforms) => "met",
        Some(Verdict::DoesNotConform) => "NOT MET",
        Some(Verdict::Inconclusive) => "open",
        Some(Verdict::Advisory) => "advice",
        Some(Verdict::NotApplicable) => "-",
        Some(Verdict::NotJudged) => "unjudged",
        Some(Verdict::Conceded) => "conceded",
    }
}

/// What the words mean.
pub(crate) const MEANS: &str = "met: conforms. NOT MET: does not conform. advice: a recommendation is not met. \
conceded: not met, and a concession covers it. \
open: inconclusive. -: not applicable. unjudged: not judged. Of a rule on several things of a pan, the gravest.";
