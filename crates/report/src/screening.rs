//! What is said of known findings, the same in every format.

use crate::said::number_of;
use sumpwright_core::review::{Review, Screening, StaleFinding};

/// Over what is known and no more.
pub(crate) const HEADING: &str = "Known and no more";

/// The word for what is known and no more.
pub(crate) const WORD: &str = "mended";

/// The id by which programs know it.
pub(crate) const ID: &str = "known.mended";

/// What it means, in one sentence.
pub(crate) const DESCRIPTION: &str = "The list of known findings holds one that is no more.";

/// What is known and no more; nothing of a review that was not held against a list.
pub(crate) fn stale(review: &Review) -> &[StaleFinding] {
    review.screening.as_ref().map_or(&[], |screening| &screening.stale)
}

/// The pan and the finding that it was.
pub(crate) fn about(finding: &StaleFinding) -> String {
    let object = finding.object.as_ref().map_or_else(String::new, |object| format!(" · {object}"));
    format!("{} · {}{object}", finding.pan, finding.rule)
}

/// What became of it, with what it was.
pub(crate) fn finding(finding: &StaleFinding) -> String {
    let object = finding.object.as_ref().map_or_else(String::new, |object| format!(" · {object}"));
    format!("{}{object}: {}", finding.rule, finding.message)
}

/// The last sentence of what only what is worse than known is told of; nothing of other reviews.
pub(crate) fn summary(review: &Review) -> Option<String> {
    let Screening { looked_at, known, list, stale } = review.screening.as_ref()?;
    let told: usize = review.pans.iter().map(|pan| pan.findings.len()).sum();
    let (pans, rules) = (number_of(*looked_at, "pan"), number_of(review.rules, "rule"));
    let told = match (told, list) {
        (0, Some(_)) => "nothing new or worse than known".to_owned(),
        (0, None) => "no finding".to_owned(),
        (told, Some(_)) => format!("{} new or worse than known", number_of(told, "finding")),
        (told, None) => number_of(told, "finding"),
    };
    let known = list.as_ref().map_or_else(String::new, |list| format!(", {known} known ({list})"));
    let stale = match stale.len() {
        0 => String::new(),
        count => format!(", {count} known and no more"),
    };
    Some(format!("Looked at {pans} against {rules}: {told}{known}{stale}."))
}
