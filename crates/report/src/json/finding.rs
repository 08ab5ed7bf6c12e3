//! A finding for programs.

use super::conceded::{AcceptanceWire, RemarkWire, acceptance, remark};
use super::wire::{
    ContributionWire, DecisionWire, PlaceWire, ReadingWire, StateWire, WorstWire, contribution,
    decision, number, place, reading, state, worst,
};
use crate::si;
use schemars::JsonSchema;
use serde::Serialize;
use sumpwright_core::document::rulebook::Force;
use sumpwright_core::quantity::Dimension;
use sumpwright_core::review::{Change, Finding, LimitReading, LimitSide, Remedy};
use sumpwright_core::source::Sources;

/// One rule on one object.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct FindingWire {
    rule: String,
    object: Option<String>,
    verdict: &'static str,
    force: &'static str,
    title: String,
    place: PlaceWire,
    rule_place: PlaceWire,
    measure: String,
    unit: String,
    reading: ReadingWire,
    limits: Vec<LimitWire>,
    decision: DecisionWire,
    driver: Option<ContributionWire>,
    contributions: Vec<ContributionWire>,
    worst: Option<WorstWire>,
    states: Vec<StateWire>,
    reason: Option<String>,
    needs: Vec<NeedWire>,
    notes: Vec<String>,
    because: String,
    source: String,
    remedy: Option<String>,
    caution: Option<String>,
    concession: Option<AcceptanceWire>,
    remarks: Vec<RemarkWire>,
    #[serde(skip_serializing_if = "Option::is_none")]
    computed: Option<RemedyWire>,
}

/// A computed change to consider, or why there is none; only where it was asked for.
#[derive(Debug, Serialize, JsonSchema)]
struct RemedyWire {
    found: bool,
    /// Without any that it turns, a change stands alone.
    changes: Vec<ChangeWire>,
    tried: Option<usize>,
    outside: Option<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct ChangeWire {
    path: String,
    place: PlaceWire,
    from: String,
    to: String,
    unit: String,
    steps: Option<f64>,
    of_last_digit: bool,
    turned: Vec<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct LimitWire {
    side: &'static str,
    text: String,
    place: PlaceWire,
    limit: ReadingWire,
    /// Not negative is inside.
    margin: ReadingWire,
    guard: Option<f64>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct NeedWire {
    path: String,
    place: PlaceWire,
    how_to_get: String,
}

pub(super) fn finding(sources: &Sources, finding: &Finding) -> FindingWire {
    let dimension = finding.dimension;
    let moved = |c: &_| contribution(sources, c, dimension);
    let need = |need: &sumpwright_core::review::Need| NeedWire {
        path: need.path.clone(),
        place: place(sources, need.span),
        how_to_get: need.how_to_get.clone(),
    };
    FindingWire {
        rule: finding.rule.clone(),
        object: finding.object.clone(),
        verdict: finding.verdict.words(),
        force: match finding.force {
            Force::Shall => "shall",
            Force::Should => "should",
        },
        title: finding.title.clone(),
        place: place(sources, finding.subject),
        rule_place: place(sources, finding.rule_span),
        measure: finding.measure.clone(),
        unit: si::symbol(dimension),
        reading: reading(finding.reading, dimension),
        limits: finding.limits.iter().map(|l| limit(sources, l, dimension)).collect(),
        decision: decision(finding.decision),
        driver: finding.driver.as_ref().map(moved),
        contributions: finding.contributions.iter().map(moved).collect(),
        worst: finding.worst.as_ref().map(|w| worst(sources, w)),
        states: finding.states.iter().map(|s| state(sources, s)).collect(),
        reason: (!finding.reason.is_empty()).then(|| finding.reason.clone()),
        needs: finding.needs.iter().map(need).collect(),
        notes: finding.notes.clone(),
        because: finding.because.clone(),
        source: finding.source.clone(),
        remedy: finding.remedy.clone(),
        caution: finding.caution.clone(),
        concession: finding.acceptance.as_ref().map(|a| acceptance(sources, a)),
        remarks: finding.remarks.iter().map(|r| remark(sources, r)).collect(),
        computed: finding.computed.as_ref().map(|remedy| computed(sources, remedy)),
    }
}

fn computed(sources: &Sources, remedy: &Remedy) -> RemedyWire {
    let of = |change: &Change, turned: &[String]| ChangeWire {
        path: change.path.clone(),
        place: place(sources, change.span),
        from: change.from.clone(),
        to: change.to.clone(),
        unit: change.unit.clone(),
        steps: number(change.steps),
        of_last_digit: change.of_last_digit,
        turned: turned.to_vec(),
    };
    let blank = RemedyWire { found: false, changes: Vec::new(), tried: None, outside: None };
    match remedy {
        Remedy::Change(change) => {
            RemedyWire { found: true, changes: vec![of(change, &[])], ..blank }
        }
        Remedy::AtACost(all) => RemedyWire {
            changes: all.iter().map(|costly| of(&costly.change, &costly.turned)).collect(),
            ..blank
        },
        Remedy::NotFound { tried, outside } => {
            RemedyWire { tried: Some(*tried), outside: outside.clone(), ..blank }
        }
    }
}

fn limit(sources: &Sources, limit: &LimitReading, dimension: Dimension) -> LimitWire {
    let difference = Dimension { point: false, ..dimension };
    LimitWire {
        side: match limit.side {
            LimitSide::AtLeast => "at least",
            LimitSide::AtMost => "at most",
        },
        text: limit.text.clone(),
        place: place(sources, limit.span),
        limit: reading(limit.value, dimension),
        margin: reading(limit.margin, difference),
        guard: limit.guard.and_then(number),
    }
}
