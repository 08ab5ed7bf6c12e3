//! What is known and no more, as results of a rule of its own.

use super::place::location;
use super::wire::{Message, ResultProperties, Results, Rule};
use crate::json::reading;
use crate::said::unglued;
use crate::screening;
use std::collections::BTreeMap;
use sumpwright_core::quantity::Dimension;
use sumpwright_core::review::{Review, StaleFinding};

/// The rule, where there is a result of it.
pub(super) fn descriptors(review: &Review) -> Vec<Rule> {
    let stale = !screening::stale(review).is_empty();
    stale.then(|| Rule::described(screening::ID, screening::DESCRIPTION)).into_iter().collect()
}

/// Each finding that is known and no more.
pub(super) fn results(review: &Review, suppressed: bool) -> Vec<Results> {
    let result = |finding: &StaleFinding| Results {
        rule_id: screening::ID.to_owned(),
        rule_index: None,
        kind: "fail",
        level: "error",
        message: Message::text(unglued(&format!(
            "{}; {}.",
            screening::finding(finding),
            finding.help
        ))),
        locations: vec![location(&review.sources, finding.span, "", finding.object.as_deref())],
        related_locations: Vec::new(),
        partial_fingerprints: BTreeMap::from([(
            "finding/v1",
            format!("{} | {}", screening::ID, screening::about(finding)),
        )]),
        suppressions: suppressed.then(Vec::new),
        properties: ResultProperties {
            clause: None,
            verdict: screening::WORD,
            reading: reading(None, Dimension::default()),
            limits: Vec::new(),
            remarks: Vec::new(),
            computed_changes: Vec::new(),
        },
    };
    screening::stale(review).iter().map(result).collect()
}
