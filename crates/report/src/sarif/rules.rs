//! The rules that were judged, as descriptors.

use super::wire::{Configuration, Message, Rule, RuleProperties};
use crate::said::unglued;
use std::collections::BTreeMap;
use sumpwright_core::document::rulebook::Force;
use sumpwright_core::review::{Finding, Review};

/// Every rule once, by id, and where each stands in the list.
pub(super) fn descriptors(review: &Review) -> (Vec<Rule>, BTreeMap<String, usize>) {
    let mut rules: BTreeMap<&str, &Finding> = BTreeMap::new();
    for finding in review.pans.iter().flat_map(|pan| &pan.findings) {
        rules.entry(&finding.rule).or_insert(finding);
    }
    let index = rules.keys().enumerate().map(|(i, id)| ((*id).to_owned(), i)).collect();
    (rules.values().map(|finding| descriptor(finding)).collect(), index)
}

fn descriptor(finding: &Finding) -> Rule {
    let level = match finding.force {
        Force::Shall => "error",
        Force::Should => "note",
    };
    let remedy = finding.remedy.as_deref();
    let caution = finding.caution.as_deref();
    let help = [remedy, caution].into_iter().flatten().collect::<Vec<_>>().join(" ");
    Rule {
        id: finding.rule.clone(),
        short_description: Message::text(unglued(&finding.title)),
        full_description: (!finding.because.is_empty())
            .then(|| Message::text(unglued(&finding.because))),
        help: (!help.is_empty()).then(|| Message::text(unglued(&help))),
        default_configuration: Some(Configuration { level }),
        properties: Some(RuleProperties {
            force: match finding.force {
                Force::Shall => "shall",
                Force::Should => "should",
            },
            measure: finding.measure.clone(),
            source: finding.source.clone(),
        }),
    }
}
