//! A rulebook as it was used: its edition, what it builds on, and every change.

use super::wire::{PlaceWire, place};
use schemars::JsonSchema;
use serde::Serialize;
use sumpwright_core::review::BookUsed;
use sumpwright_core::rule::{Layer, PartChange, RuleChange, WhatChanged};
use sumpwright_core::source::Sources;

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct BookWire {
    /// SHA-256 of the rules in their canonical form; empty where no rulebook was read.
    edition: String,
    /// The nearest first.
    builds_on: Vec<LayerWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct LayerWire {
    book: String,
    edition: String,
    pinned: bool,
    place: PlaceWire,
    changes: Vec<ChangeWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct ChangeWire {
    rule: String,
    title: String,
    place: PlaceWire,
    /// `overridden`, `added` or `dropped`.
    change: &'static str,
    /// `stricter`, `looser` or `incomparable`.
    strictness: &'static str,
    reason: Option<String>,
    parts: Vec<PartWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct PartWire {
    part: &'static str,
    from: Option<String>,
    to: Option<String>,
    place: Option<PlaceWire>,
    strictness: &'static str,
}

pub(super) fn book(sources: &Sources, book: &BookUsed) -> BookWire {
    let builds_on = book.layers.iter().map(|below| layer(sources, below)).collect();
    BookWire { edition: book.edition.clone(), builds_on }
}

fn layer(sources: &Sources, layer: &Layer) -> LayerWire {
    LayerWire {
        book: layer.base.clone(),
        edition: layer.edition.clone(),
        pinned: layer.pinned,
        place: place(sources, layer.span),
        changes: layer.changes.iter().map(|one| change(sources, one)).collect(),
    }
}

fn change(sources: &Sources, change: &RuleChange) -> ChangeWire {
    let (word, reason, parts) = match &change.what {
        WhatChanged::Overridden { parts, reason, .. } => {
            ("overridden", Some(reason.clone()), parts.as_slice())
        }
        WhatChanged::Added => ("added", None, &[][..]),
        WhatChanged::Dropped { reason } => ("dropped", Some(reason.clone()), &[][..]),
    };
    ChangeWire {
        rule: change.rule.clone(),
        title: change.title.clone(),
        place: place(sources, change.span),
        change: word,
        strictness: change.what.strictness().word(),
        reason,
        parts: parts.iter().map(|one| part(sources, one)).collect(),
    }
}

pub(super) fn part(sources: &Sources, part: &PartChange) -> PartWire {
    PartWire {
        part: part.part,
        from: part.from.clone(),
        to: part.to.clone(),
        place: part.span.map(|span| place(sources, span)),
        strictness: part.strictness.word(),
    }
}
