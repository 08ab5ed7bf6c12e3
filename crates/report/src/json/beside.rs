//! A pan beside its baseline, for programs.

use super::BESIDE_SCHEMA;
use super::book::{BookWire, book};
use super::wire::{
    ContributionWire, MadeBy, ProblemWire, ReadingWire, WorstWire, contribution, files, made_by,
    problems, reading, worst,
};
use schemars::JsonSchema;
use serde::Serialize;
use sumpwright_core::compare::{
    MeasureBeside, PanNamed, PansCompared, Sides, TopicCompared, VerdictBeside,
};
use sumpwright_core::source::Sources;

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct BesideWire {
    schema: &'static str,
    made_by: MadeBy,
    rules: usize,
    rulebook: BookWire,
    files: Vec<String>,
    problems: Vec<ProblemWire>,
    /// `null` where the documents are at fault.
    pan: Option<PanWire>,
    baselines: Vec<PanWire>,
    topics: Vec<TopicWire>,
    verdicts: Vec<VerdictsWire>,
    same_verdicts: usize,
}

#[derive(Debug, Serialize, JsonSchema)]
struct PanWire {
    path: String,
    title: Option<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct TopicWire {
    topic: &'static str,
    measures: Vec<MeasureWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct MeasureWire {
    measure: &'static str,
    object: Option<String>,
    meaning: &'static str,
    /// `won`, `lost`, `differs`, `cannot be told apart`, `known here only`, `known in the baseline only`, `alike` or
    /// `known in neither`.
    outcome: &'static str,
    here: ReadingWire,
    baseline: ReadingWire,
    /// Here less baseline, as one quantity.
    difference: ReadingWire,
    /// Why a side is not known.
    reasons: Vec<String>,
    better: Option<BetterWire>,
    driver: Option<ContributionWire>,
    worst: Option<WorstWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct BetterWire {
    /// `more is better`, `less is better` or `nearer to the band is better`.
    way: &'static str,
    rules: Vec<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct VerdictsWire {
    rule: String,
    title: String,
    here: &'static str,
    /// In the order of the baselines.
    baselines: Vec<&'static str>,
}

pub(super) fn document(compared: &PansCompared) -> BesideWire {
    let sources = &compared.sources;
    let sides = compared.sides.as_ref();
    let topics = sides.map_or(&[][..], |sides: &Sides| &sides.topics);
    let baselines = sides.map_or(&[][..], |sides| &sides.baselines);
    let others = sides.map_or(&[][..], |sides| &sides.verdicts);
    BesideWire {
        schema: BESIDE_SCHEMA,
        made_by: made_by(),
        rules: compared.rules,
        rulebook: book(sources, &compared.book),
        files: files(sources),
        problems: problems(sources, &compared.problems),
        pan: sides.map(|sides| pan(&sides.pan)),
        baselines: baselines.iter().map(pan).collect(),
        topics: topics.iter().map(|one| topic(sources, one)).collect(),
        verdicts: others.iter().map(verdicts).collect(),
        same_verdicts: sides.map_or(0, |sides| sides.same_verdicts),
    }
}

fn pan(named: &PanNamed) -> PanWire {
    PanWire { path: named.path.clone(), title: named.title.clone() }
}

fn topic(sources: &Sources, topic: &TopicCompared) -> TopicWire {
    let measures = topic.measures.iter().map(|one| measure(sources, one)).collect();
    TopicWire { topic: topic.name, measures }
}

fn measure(sources: &Sources, beside: &MeasureBeside) -> MeasureWire {
    let dimension = beside.spec.dimension;
    let difference = dimension.difference();
    let side = |found: &Result<_, _>, dimension| reading(found.as_ref().ok().copied(), dimension);
    let mut reasons: Vec<String> = [&beside.here, &beside.there, &beside.difference]
        .into_iter()
        .filter_map(|found| found.as_ref().err().map(|unknown| unknown.reason.clone()))
        .collect();
    reasons.dedup();
    MeasureWire {
        measure: beside.spec.name,
        object: beside.object.clone(),
        meaning: beside.spec.meaning,
        outcome: beside.outcome.words(),
        here: side(&beside.here, dimension),
        baseline: side(&beside.there, dimension),
        difference: side(&beside.difference, difference),
        reasons,
        better: beside
            .better
            .as_ref()
            .map(|better| BetterWire { way: better.way.words(), rules: better.by.clone() }),
        driver: beside.driver.as_ref().map(|one| contribution(sources, one, difference)),
        worst: beside.worst.as_ref().map(|one| worst(sources, one)),
    }
}

fn verdicts(beside: &VerdictBeside) -> VerdictsWire {
    VerdictsWire {
        rule: beside.rule.clone(),
        title: beside.title.clone(),
        here: beside.here.words(),
        baselines: beside.there.iter().map(|verdict| verdict.words()).collect(),
    }
}
