//! What is against concessions, as results of rules of their own.

use super::place::location;
use super::wire::{Message, ResultProperties, Results, Rule};
use crate::conceded;
use crate::json::reading;
use crate::said::unglued;
use std::collections::BTreeMap;
use sumpwright_core::quantity::Dimension;
use sumpwright_core::review::Review;

/// The kinds of fault that occur, each once.
pub(super) fn descriptors(review: &Review) -> Vec<Rule> {
    let mut all = BTreeMap::new();
    for finding in &review.conceding.findings {
        all.entry(conceded::id(finding)).or_insert_with(|| finding.fault.description());
    }
    all.into_iter().map(|(id, sentence)| Rule::described(&id, sentence)).collect()
}

/// Each fault as a result.
pub(super) fn results(review: &Review, suppressed: bool) -> Vec<Results> {
    let result = |finding: &sumpwright_core::review::ConcessionFinding| {
        let said = format!("{}; {}.", conceded::finding(finding), finding.help);
        let known =
            format!("{} | {} | {}", conceded::id(finding), conceded::about(finding), finding.name);
        let other = finding.other.iter();
        Results {
            rule_id: conceded::id(finding),
            rule_index: None,
            kind: "fail",
            level: "error",
            message: Message::text(unglued(&said)),
            locations: vec![location(&review.sources, finding.span, "", finding.object.as_deref())],
            related_locations: other
                .map(|(span, said)| location(&review.sources, *span, said, None))
                .collect(),
            partial_fingerprints: BTreeMap::from([("finding/v1", known)]),
            suppressions: suppressed.then(Vec::new),
            properties: ResultProperties {
                verdict: finding.fault.words(),
                reading: reading(None, Dimension::default()),
                limits: Vec::new(),
                remarks: Vec::new(),
                computed_changes: Vec::new(),
                clause: None,
            },
        }
    };
    review.conceding.findings.iter().map(result).collect()
}
