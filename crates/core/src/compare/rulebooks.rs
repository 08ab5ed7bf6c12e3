//! Two rulebooks rule by rule, from the rules alone.

use super::{RuleCompared, RuleFate};
use crate::rule::{Rule, Rulebook, asked_otherwise, overall, told_otherwise};
use std::collections::BTreeSet;

/// Every rule of either, by id.
pub(super) fn rules(old: &Rulebook, new: &Rulebook) -> Vec<RuleCompared> {
    let all = old.rules.iter().chain(&new.rules);
    let ids: BTreeSet<&str> = all.map(|rule| rule.doc.id.text.as_str()).collect();
    ids.into_iter().filter_map(|id| both(find(old, id), find(new, id))).collect()
}

fn find<'b>(book: &'b Rulebook, id: &str) -> Option<&'b Rule> {
    book.rules.iter().find(|rule| rule.doc.id.text == id)
}

fn both(old: Option<&Rule>, new: Option<&Rule>) -> Option<RuleCompared> {
    let alone = |rule: &Rule, fate| RuleCompared {
        id: rule.doc.id.text.clone(),
        title: rule.doc.title.text.clone(),
        span: rule.doc.last_changed(),
        fate,
        parts: Vec::new(),
        reworded: Vec::new(),
    };
    match (old, new) {
        (None, None) => None,
        (Some(old), None) => Some(alone(old, RuleFate::Removed)),
        (None, Some(new)) => Some(alone(new, RuleFate::Added)),
        (Some(old), Some(new)) => {
            let parts = asked_otherwise(old, new);
            let fate = RuleFate::Kept(overall(&parts));
            Some(RuleCompared { parts, reworded: told_otherwise(old, new), ..alone(new, fate) })
        }
    }
}
