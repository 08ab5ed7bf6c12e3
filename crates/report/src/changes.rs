//! What a rulebook builds on and changes, what loosens first: nobody may change a rule unseen, in whatever format.

use crate::place;
use sumpwright_core::review::BookUsed;
use sumpwright_core::rule::{Layer, RuleChange, Strictness, WhatChanged, in_words};
use sumpwright_core::source::Sources;

/// Over the lines.
pub(crate) const HEADING: &str = "The rulebook builds on another";

/// A word and what there is to say under it, for the edition, every rulebook below, and every change; nothing where
/// a rulebook stands by itself.
pub(crate) fn lines(sources: &Sources, book: &BookUsed) -> Vec<(&'static str, String)> {
    let mut lines = Vec::new();
    if !book.layers.is_empty() {
        lines.push(("edition", book.edition.clone()));
    }
    for layer in &book.layers {
        below(sources, layer, &mut lines);
    }
    lines
}

fn below(sources: &Sources, layer: &Layer, lines: &mut Vec<(&'static str, String)>) {
    let at = place::text(sources, layer.span);
    let Layer { base, edition, .. } = layer;
    lines.push(("builds on", format!("{base} of edition {edition} ({at})")));
    if !layer.pinned {
        let text = "that edition is not asked for, so another would be taken as readily: write it as \
                    `edition` under `builds_on`";
        lines.push(("not pinned", text.to_owned()));
    }
    if layer.changes.is_empty() {
        lines.push(("unchanged", "nothing of it is changed".to_owned()));
    }
    let mut changes: Vec<&RuleChange> = layer.changes.iter().collect();
    // What asks less comes first.
    changes.sort_by_key(|change| (rank(change.what.strictness()), &change.rule));
    lines.extend(changes.into_iter().map(|change| told(sources, change)));
}

fn told(sources: &Sources, change: &RuleChange) -> (&'static str, String) {
    let at = place::text(sources, change.span);
    let RuleChange { rule, title, .. } = change;
    match &change.what {
        WhatChanged::Overridden { parts, strictness, reason } => {
            let text = format!("{rule}, {}: {}", strictness.word(), in_words(parts));
            ("overridden", format!("{text}. {} ({at})", because(reason)))
        }
        WhatChanged::Dropped { reason } => {
            ("dropped", format!("{rule}: {title}. {} ({at})", because(reason)))
        }
        WhatChanged::Added => ("added", format!("{rule}: {title} ({at})")),
    }
}

fn rank(strictness: Strictness) -> u8 {
    match strictness {
        Strictness::Looser => 0,
        Strictness::Incomparable => 1,
        Strictness::Stricter => 2,
        Strictness::Same => 3,
    }
}

fn because(reason: &str) -> String {
    let stop = if reason.ends_with(['.', '!', '?']) { "" } else { "." };
    format!("Reason: {reason}{stop}")
}
