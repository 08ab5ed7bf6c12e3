//! A proof for programs.

use super::PROOF_SCHEMA;
use super::wire::{MadeBy, PlaceWire, ProblemWire, made_by, place, problems};
use serde::Serialize;
use sumpwright_core::prove::Proof;

#[derive(Debug, Serialize)]
pub(super) struct ProofWire {
    schema: &'static str,
    made_by: MadeBy,
    whole: bool,
    problems: Vec<ProblemWire>,
    rules: Vec<RuleWire>,
}

#[derive(Debug, Serialize)]
struct RuleWire {
    rule: String,
    place: PlaceWire,
    cases: Vec<CaseWire>,
    alterations: Vec<AlterationWire>,
    slacks: Vec<SlackWire>,
}

/// In SI base units.
#[derive(Debug, Serialize)]
struct SlackWire {
    written: String,
    low: Option<f64>,
    high: Option<f64>,
    pin: Option<f64>,
}

#[derive(Debug, Serialize)]
struct CaseWire {
    place: PlaceWire,
    expected: &'static str,
    found: Option<&'static str>,
    reason: Option<String>,
    holds: bool,
    decides_alone: bool,
}

#[derive(Debug, Serialize)]
struct AlterationWire {
    what: String,
    caught: bool,
}

pub(super) fn document(proof: &Proof) -> ProofWire {
    let rules = proof.rules.iter().map(|rule| RuleWire {
        rule: rule.id.clone(),
        place: place(&proof.sources, rule.span),
        cases: rule
            .cases
            .iter()
            .map(|case| CaseWire {
                place: place(&proof.sources, case.span),
                expected: case.expected.words(),
                found: case.found.as_ref().ok().map(|found| found.words()),
                reason: case.found.as_ref().err().cloned(),
                holds: case.holds(),
                decides_alone: case.decides_alone,
            })
            .collect(),
        alterations: rule
            .alterations
            .iter()
            .map(|a| AlterationWire { what: a.what.clone(), caught: a.caught })
            .collect(),
        slacks: rule
            .slacks
            .iter()
            .map(|slack| SlackWire {
                written: slack.written.clone(),
                low: slack.low,
                high: slack.high,
                pin: slack.pin,
            })
            .collect(),
    });
    ProofWire {
        schema: PROOF_SCHEMA,
        made_by: made_by(),
        whole: proof.is_whole(),
        problems: problems(&proof.sources, &proof.problems),
        rules: rules.collect(),
    }
}
