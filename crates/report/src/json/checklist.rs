//! Customers' lists for programs.

use super::wire::{PlaceWire, place};
use schemars::JsonSchema;
use serde::Serialize;
use sumpwright_core::review::{ChecklistHeld, ClauseHeld};
use sumpwright_core::source::Sources;

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct ChecklistWire {
    path: String,
    title: String,
    customer: String,
    pans: Vec<PanHeldWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct PanHeldWire {
    path: String,
    met: bool,
    clauses: Vec<ClauseWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct ClauseWire {
    name: String,
    number: Option<String>,
    says: String,
    binding: bool,
    answer: String,
    against: bool,
    rules: Vec<RuleWire>,
    evidence: Option<EvidenceWire>,
    statement: Option<StatementWire>,
    place: PlaceWire,
}

#[derive(Debug, Serialize, JsonSchema)]
struct RuleWire {
    rule: String,
    object: Option<String>,
    verdict: String,
}

#[derive(Debug, Serialize, JsonSchema)]
struct EvidenceWire {
    path: String,
    sha256: String,
    shows: String,
}

#[derive(Debug, Serialize, JsonSchema)]
struct StatementWire {
    words: String,
    by: String,
    function: String,
    on: String,
}

pub(super) fn checklist(sources: &Sources, list: &ChecklistHeld) -> ChecklistWire {
    let pans = list.pans.iter().map(|pan| PanHeldWire {
        path: pan.path.clone(),
        met: !pan.clauses.iter().any(ClauseHeld::is_against),
        clauses: pan.clauses.iter().map(|c| clause(sources, c)).collect(),
    });
    ChecklistWire {
        path: list.path.clone(),
        title: list.title.clone(),
        customer: list.customer.clone(),
        pans: pans.collect(),
    }
}

fn clause(sources: &Sources, clause: &ClauseHeld) -> ClauseWire {
    let rules = clause.rules.iter().map(|answer| RuleWire {
        rule: answer.rule.clone(),
        object: answer.object.clone(),
        verdict: answer.verdict.words().replace(' ', "_"),
    });
    ClauseWire {
        name: clause.name.clone(),
        number: clause.number.clone(),
        says: clause.says.clone(),
        binding: clause.binding,
        answer: clause.answer.words().replace(' ', "_"),
        against: clause.is_against(),
        rules: rules.collect(),
        evidence: clause.evidence.as_ref().map(|found| EvidenceWire {
            path: found.path.clone(),
            sha256: found.sha256.clone(),
            shows: found.shows.clone(),
        }),
        statement: clause.statement.as_ref().map(|said| StatementWire {
            words: said.words.clone(),
            by: said.by.clone(),
            function: said.function.clone(),
            on: said.on.clone(),
        }),
        place: place(sources, clause.span),
    }
}
