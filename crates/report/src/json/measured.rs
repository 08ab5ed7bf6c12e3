//! Readings for programs.

use super::MEASURE_SCHEMA;
use super::coverage::{CoverageWire, coverage};
use super::wire::{
    ContributionWire, InputWire, MadeBy, PlaceWire, ProblemWire, ReadingWire, StateWire, WorstWire,
    contribution, files, input, made_by, place, problems, reading, state, worst,
};
use schemars::JsonSchema;
use serde::Serialize;
use sumpwright_core::review::{MeasureReading, Measured, PanMeasured};
use sumpwright_core::source::Sources;

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct MeasuredWire {
    schema: &'static str,
    made_by: MadeBy,
    files: Vec<String>,
    problems: Vec<ProblemWire>,
    pans: Vec<PanWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct PanWire {
    path: String,
    title: Option<String>,
    measures: Vec<MeasureWire>,
    inputs: Vec<InputWire>,
    notes: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    coverage: Option<CoverageWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct MeasureWire {
    measure: &'static str,
    object: Option<String>,
    meaning: &'static str,
    formula: &'static str,
    source: &'static str,
    range: &'static str,
    reading: ReadingWire,
    reason: Option<String>,
    missing: Vec<MissingWire>,
    place: Option<PlaceWire>,
    contributions: Vec<ContributionWire>,
    worst: Option<WorstWire>,
    states: Vec<StateWire>,
    notes: Vec<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct MissingWire {
    path: String,
    within: PlaceWire,
}

pub(super) fn document(measured: &Measured) -> MeasuredWire {
    let sources = &measured.sources;
    let pan = |pan: &PanMeasured| PanWire {
        path: pan.path.clone(),
        title: pan.title.clone(),
        measures: pan.measures.iter().map(|m| measure(sources, m)).collect(),
        inputs: pan.inputs.iter().map(|i| input(sources, i)).collect(),
        notes: pan.notes.clone(),
        coverage: pan.coverage.as_ref().map(|map| coverage(sources, map)),
    };
    MeasuredWire {
        schema: MEASURE_SCHEMA,
        made_by: made_by(),
        files: files(sources),
        problems: problems(sources, &measured.problems),
        pans: measured.pans.iter().map(pan).collect(),
    }
}

fn measure(sources: &Sources, measure: &MeasureReading) -> MeasureWire {
    let spec = measure.spec;
    let unknown = measure.reading.as_ref().err();
    let missing = |missing: &sumpwright_core::quantity::Missing| MissingWire {
        path: missing.path.clone(),
        within: place(sources, missing.within),
    };
    MeasureWire {
        measure: spec.name,
        object: measure.object.clone(),
        meaning: spec.meaning,
        formula: spec.formula,
        source: spec.source,
        range: spec.range,
        reading: reading(measure.reading.as_ref().ok().copied(), spec.dimension),
        reason: unknown.map(|unknown| unknown.reason.clone()),
        missing: unknown.map_or_else(Vec::new, |u| u.missing.iter().map(missing).collect()),
        place: measure.subject.map(|span| place(sources, span)),
        contributions: measure
            .contributions
            .iter()
            .map(|c| contribution(sources, c, spec.dimension))
            .collect(),
        worst: measure.worst.as_ref().map(|w| worst(sources, w)),
        states: measure.states.iter().map(|s| state(sources, s)).collect(),
        notes: measure.notes.clone(),
    }
}
