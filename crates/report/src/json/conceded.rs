//! Concessions and remarks for programs.

use super::wire::{PlaceWire, place};
use schemars::JsonSchema;
use serde::Serialize;
use sumpwright_core::review::{Acceptance, Conceding, ConcessionFinding, Remark};
use sumpwright_core::source::Sources;

/// The concession that bears on a finding.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct AcceptanceWire {
    name: String,
    kind: &'static str,
    /// `accepted`, or `rejected` with why.
    status: &'static str,
    why_rejected: Option<String>,
    /// The verdict of the rulebook alone.
    without: &'static str,
    bound: String,
    from: String,
    expires: String,
    reason: String,
    by: String,
    function: String,
    quantity: Option<u32>,
    serials: Vec<String>,
    r#use: Option<String>,
    place: PlaceWire,
}

pub(super) fn acceptance(sources: &Sources, acceptance: &Acceptance) -> AcceptanceWire {
    AcceptanceWire {
        name: acceptance.name.clone(),
        kind: acceptance.kind.words(),
        status: if acceptance.refused.is_none() { "accepted" } else { "rejected" },
        why_rejected: acceptance.refused.clone(),
        without: acceptance.without.words(),
        bound: acceptance.bound.clone(),
        from: acceptance.from.to_string(),
        expires: acceptance.expires.to_string(),
        reason: acceptance.reason.clone(),
        by: acceptance.by.clone(),
        function: acceptance.function.clone(),
        quantity: acceptance.quantity,
        serials: acceptance.serials.clone(),
        r#use: acceptance.purpose.clone(),
        place: place(sources, acceptance.span),
    }
}

/// What came of the concessions that were read.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct ConcedingWire {
    on: Option<String>,
    read: usize,
    elsewhere: usize,
    findings: Vec<ConcessionFindingWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct ConcessionFindingWire {
    fault: &'static str,
    name: String,
    pan: String,
    rule: String,
    object: Option<String>,
    message: String,
    help: String,
    place: PlaceWire,
}

pub(super) fn conceding(sources: &Sources, conceding: &Conceding) -> ConcedingWire {
    let finding = |finding: &ConcessionFinding| ConcessionFindingWire {
        fault: finding.fault.words(),
        name: finding.name.clone(),
        pan: finding.pan.clone(),
        rule: finding.rule.clone(),
        object: finding.object.clone(),
        message: finding.message.clone(),
        help: finding.help.clone(),
        place: place(sources, finding.span),
    };
    ConcedingWire {
        on: conceding.on.map(|on| on.to_string()),
        read: conceding.read,
        elsewhere: conceding.elsewhere,
        findings: conceding.findings.iter().map(finding).collect(),
    }
}

/// What a reviewer has said of a finding.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct RemarkWire {
    text: String,
    judgement: Option<String>,
    by: String,
    on: Option<String>,
    /// What has changed since.
    changed: Option<String>,
    place: PlaceWire,
}

pub(super) fn remark(sources: &Sources, remark: &Remark) -> RemarkWire {
    RemarkWire {
        text: remark.text.clone(),
        judgement: remark.judgement.clone(),
        by: remark.by.clone(),
        on: remark.on.map(|on| on.to_string()),
        changed: remark.changed.clone(),
        place: place(sources, remark.span),
    }
}
