//! What a rulebook builds on and changes, what loosens first: nobody may change a rule unseen.

use super::page::Page;
use crate::place;
use sumpwright_core::review::BookUsed;
use sumpwright_core::rule::{Layer, RuleChange, Strictness, WhatChanged, in_words};
use sumpwright_core::source::Sources;

/// Writes every rulebook below with every change; nothing where a rulebook stands by itself.
pub(super) fn write(page: &mut Page, sources: &Sources, book: &BookUsed) {
    if book.layers.is_empty() {
        return;
    }
    page.gap();
    page.heading("The rulebook builds on another");
    page.row("edition", &book.edition);
    for layer in &book.layers {
        below(page, sources, layer);
    }
    page.gap();
}

fn below(page: &mut Page, sources: &Sources, layer: &Layer) {
    let at = place::text(sources, layer.span);
    let Layer { base, edition, .. } = layer;
    page.row("builds on", &format!("{base} of edition {edition} ({at})"));
    if !layer.pinned {
        let text = "that edition is not asked for, so another would be taken as readily: write it as \
                    `edition` under `builds_on`";
        page.row("not pinned", text);
    }
    if layer.changes.is_empty() {
        page.row("", "nothing of it is changed");
    }
    let mut changes: Vec<&RuleChange> = layer.changes.iter().collect();
    // What asks less comes first.
    changes.sort_by_key(|change| (rank(change.what.strictness()), &change.rule));
    for change in changes {
        let at = place::text(sources, change.span);
        let RuleChange { rule, title, .. } = change;
        match &change.what {
            WhatChanged::Overridden { parts, strictness, reason } => {
                let text = format!("{rule}, {}: {}", strictness.word(), in_words(parts));
                page.row("overridden", &format!("{text}. {} ({at})", because(reason)));
            }
            WhatChanged::Dropped { reason } => {
                page.row("dropped", &format!("{rule}: {title}. {} ({at})", because(reason)));
            }
            WhatChanged::Added => page.row("added", &format!("{rule}: {title} ({at})")),
        }
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
