//! The last lines: what was looked at, how it was decided, and the cautions.

use super::page::Page;
use crate::counts::by_verdict;
use crate::told::is_told;
use crate::{conceded, said, screening};
use std::collections::BTreeSet;
use sumpwright_core::review::{Finding, Review};
use sumpwright_core::source::{Diagnostic, Severity};

/// Writes the end of a review.
pub(super) fn write(page: &mut Page, review: &Review) {
    let findings = || review.pans.iter().flat_map(|pan| &pan.findings);
    page.gap();
    if findings().any(is_told) {
        page.paragraph(said::CAUTIONS);
        page.gap();
    }
    if let Some(summary) = screening::summary(review) {
        page.paragraph(&summary);
        problems(page, &review.problems);
        return;
    }
    let decided = decided(findings()).map_or_else(String::new, |by| format!(" Decided by: {by}."));
    page.paragraph(&format!(
        "Looked at {} against {}, in {}: {}.{decided}",
        said::number_of(review.pans.len(), "pan"),
        said::number_of(review.rules, "rule"),
        said::number_of(review.sources.files_read(), "file"),
        said::counts(&by_verdict(findings())),
    ));
    if let Some(summary) = conceded::summary(review) {
        page.paragraph(&summary);
    }
    problems(page, &review.problems);
    if review.pans.is_empty() {
        page.paragraph("Nothing was judged.");
    }
}

/// How many problems the documents have; nothing where there are none.
pub(super) fn problems(page: &mut Page, problems: &[Diagnostic]) {
    let of = |severity| problems.iter().filter(|problem| problem.severity == severity).count();
    let (errors, warnings) = (of(Severity::Error), of(Severity::Warning));
    let parts: Vec<_> = [(errors, "error"), (warnings, "warning")]
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| said::number_of(count, word))
        .collect();
    if !parts.is_empty() {
        page.paragraph(&format!("The documents have {}.", parts.join(" and ")));
    }
}

/// The decision rules in force, each once.
fn decided<'a>(findings: impl Iterator<Item = &'a Finding>) -> Option<String> {
    let rules: BTreeSet<String> = findings.map(|f| said::decision(f.decision)).collect();
    (!rules.is_empty()).then(|| rules.into_iter().collect::<Vec<_>>().join("; "))
}
