//! What was passed over because it is known, for programs.

use super::wire::{PlaceWire, place};
use schemars::JsonSchema;
use serde::Serialize;
use sumpwright_core::review::{Screening, StaleFinding};
use sumpwright_core::source::Sources;

/// What came of holding a review against what was known before.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct ScreeningWire {
    looked_at: usize,
    /// How many findings are known and not told.
    known: usize,
    /// Path of the list; null where everything counts.
    list: Option<String>,
    /// What is known and no more.
    stale: Vec<StaleWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct StaleWire {
    pan: String,
    rule: String,
    object: Option<String>,
    message: String,
    help: String,
    place: PlaceWire,
}

pub(super) fn screening(sources: &Sources, screening: &Screening) -> ScreeningWire {
    let stale = |stale: &StaleFinding| StaleWire {
        pan: stale.pan.clone(),
        rule: stale.rule.clone(),
        object: stale.object.clone(),
        message: stale.message.clone(),
        help: stale.help.clone(),
        place: place(sources, stale.span),
    };
    ScreeningWire {
        looked_at: screening.looked_at,
        known: screening.known,
        list: screening.list.clone(),
        stale: screening.stale.iter().map(stale).collect(),
    }
}
