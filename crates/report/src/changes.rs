//! What a rulebook builds on and changes, what loosens first: nobody may change a rule unseen, in whatever format.

use crate::place;
use sumpwright_core::review::BookUsed;
use sumpwright_core::rule::{Layer, RuleChange, Strictness, WhatChanged, in_words};
use sumpwright_core::source::{Sources, Span};

/// Over the lines.
pub(crate) const HEADING: &str = "The rulebook builds on another";

/// A word, what there is to say under it, and where that stands.
#[derive(Debug)]
pub(crate) struct Line {
    pub(crate) word: &'static str,
    pub(crate) text: String,
    pub(crate) span: Span,
    /// Whether less is asked, or may be.
    pub(crate) loosens: bool,
}

impl Line {
    /// With its place behind it.
    pub(crate) fn placed(&self, sources: &Sources) -> String {
        format!("{} ({})", self.text, place::text(sources, self.span))
    }
}

/// The edition, every rulebook below, and every change; nothing where a rulebook stands by itself.
pub(crate) fn lines(book: &BookUsed) -> Vec<Line> {
    let mut lines = Vec::new();
    if let Some(first) = book.layers.first() {
        lines.push(line("edition", book.edition.clone(), first.span));
    }
    for layer in &book.layers {
        below(layer, &mut lines);
    }
    lines
}

fn line(word: &'static str, text: String, span: Span) -> Line {
    Line { word, text, span, loosens: false }
}

fn below(layer: &Layer, lines: &mut Vec<Line>) {
    let Layer { base, edition, .. } = layer;
    lines.push(line("builds on", format!("{base} of edition {edition}"), layer.span));
    if !layer.pinned {
        let text = "that edition is not asked for, so another would be taken as readily: write it as \
                    `edition` under `builds_on`";
        lines.push(line("not pinned", text.to_owned(), layer.span));
    }
    if layer.changes.is_empty() {
        lines.push(line("unchanged", "nothing of it is changed".to_owned(), layer.span));
    }
    let mut changes: Vec<&RuleChange> = layer.changes.iter().collect();
    // What asks less comes first.
    changes.sort_by_key(|change| (rank(change.what.strictness()), &change.rule));
    lines.extend(changes.into_iter().map(told));
}

fn told(change: &RuleChange) -> Line {
    let RuleChange { rule, title, span, what } = change;
    let (word, text) = match what {
        WhatChanged::Overridden { parts, strictness, reason } => {
            let text = format!("{rule}, {}: {}", strictness.word(), in_words(parts));
            ("overridden", format!("{text}. {}", because(reason)))
        }
        WhatChanged::Dropped { reason } => {
            ("dropped", format!("{rule}: {title}. {}", because(reason)))
        }
        WhatChanged::Added => ("added", format!("{rule}: {title}")),
    };
    let loosens = matches!(what.strictness(), Strictness::Looser | Strictness::Incomparable);
    Line { word, text, span: *span, loosens }
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
