//! The phrases of a pan beside its baseline, the same in every format for people.

pub(crate) mod markdown;

use crate::said::{self, glued};
use crate::scale::{Scale, coarser};
use std::collections::BTreeMap;
use sumpwright_core::compare::{
    MeasureBeside, Outcome, PanNamed, Sides, TopicCompared, VerdictBeside,
};
use sumpwright_core::measure::Bounds;
use sumpwright_core::review::Reading;
use sumpwright_core::verdict::Verdict;

/// The topic whose losses are told beside what is won.
const CLEARANCE: &str = "Clearance";

/// What is said over everything else.
pub(crate) const HOW: &str = "Each baseline is taken as if it were used on this pan's vehicle, with its oil and \
duty. A difference is one quantity, so that what both share cancels; it is sure beyond 1.645 of its standard \
uncertainties (one-sided 95 %). Won and lost are said only where the rules say which way is better; whether it is \
enough, a review says.";

/// Whether a measure is told in full without being asked for.
pub(crate) fn is_told(beside: &MeasureBeside) -> bool {
    matches!(beside.outcome, Outcome::Lost | Outcome::Won | Outcome::Differs)
}

/// Measure and object.
pub(crate) fn name(beside: &MeasureBeside) -> String {
    match &beside.object {
        Some(object) => format!("{} · {object}", beside.spec.name),
        None => beside.spec.name.to_owned(),
    }
}

/// Title and path of a pan.
pub(crate) fn pan(named: &PanNamed) -> String {
    named
        .title
        .as_ref()
        .map_or_else(|| named.path.clone(), |title| format!("{} · {title}", named.path))
}

/// What it is here.
pub(crate) fn here(beside: &MeasureBeside) -> String {
    side(beside, &beside.here)
}

/// What it is in the baseline, or on average over several.
pub(crate) fn there(beside: &MeasureBeside) -> String {
    side(beside, &beside.there)
}

fn side<E>(beside: &MeasureBeside, reading: &Result<Reading, E>) -> String {
    match reading {
        Ok(reading) => {
            let scale = Scale::of_value(beside.spec.dimension, size(reading.bounds));
            glued(&scale.reading(reading))
        }
        Err(_) => "not known".to_owned(),
    }
}

/// Here less there, with its sign: `+1.3 mm (u 0.2 mm)`.
pub(crate) fn difference(beside: &MeasureBeside) -> String {
    signed(beside, Scale::reading)
}

/// The same without its uncertainty.
fn short(beside: &MeasureBeside) -> String {
    signed(beside, |scale, difference| scale.bounds(difference.bounds, coarser(difference)))
}

fn signed(beside: &MeasureBeside, print: impl Fn(&Scale, &Reading) -> String) -> String {
    let Ok(difference) = &beside.difference else { return "not known".to_owned() };
    let scale = Scale::of_value(beside.spec.dimension.difference(), size(difference.bounds));
    let rises = difference.bounds.value().is_some_and(|value| value > 0.0);
    glued(&format!("{}{}", if rises { "+" } else { "" }, print(&scale, difference)))
}

/// A value by which a unit is chosen: a bound that there is.
fn size(bounds: Bounds) -> f64 {
    if bounds.high.is_finite() { bounds.high } else { bounds.low }
}

/// Which way is better, and by which rules; nothing where no rule says so.
pub(crate) fn better(beside: &MeasureBeside) -> Option<String> {
    let better = beside.better.as_ref()?;
    Some(format!("{}: {}", better.way.words(), better.by.join(", ")))
}

/// What moves the difference most.
pub(crate) fn driver(beside: &MeasureBeside) -> Option<String> {
    let driver = beside.driver.as_ref()?;
    let scale = Scale::of_value(beside.spec.dimension.difference(), driver.effect);
    Some(format!("unsure most by {}, {}", driver.path, said::effect(driver, &scale)))
}

/// The whole of a measure after its name and outcome, in a sentence.
pub(crate) fn sentence(beside: &MeasureBeside) -> String {
    let mut parts =
        vec![format!("{}: {} against {}", difference(beside), here(beside), there(beside))];
    parts.extend(beside.worst.as_ref().map(|worst| format!("worst in {}", said::worst(worst))));
    parts.extend(better(beside));
    parts.join("; ")
}

/// What is known on one side only: measures of the pan with their values, and objects with the number of measures
/// on each.
pub(crate) fn one_sided(topic: &TopicCompared, outcome: Outcome) -> Vec<String> {
    let side = if outcome == Outcome::OnlyThere { there } else { here };
    let found = || topic.measures.iter().filter(move |one| one.outcome == outcome);
    let mut objects: BTreeMap<&str, usize> = BTreeMap::new();
    for object in found().filter_map(|one| one.object.as_deref()) {
        *objects.entry(object).or_default() += 1;
    }
    let of_pan = found().filter(|one| one.object.is_none());
    let of_pan = of_pan.map(|one| format!("{} {}", one.spec.name, side(one)));
    let of_objects = objects
        .into_iter()
        .map(|(object, count)| format!("{object} ({})", said::number_of(count, "measure")));
    of_objects.chain(of_pan).collect()
}

/// What is won, lost, and what it comes to in clearance, a line each: a word, and measures with differences.
pub(crate) fn summary(sides: &Sides) -> Vec<(&'static str, String)> {
    let others = || {
        let topics = sides.topics.iter().filter(|topic| topic.name != CLEARANCE);
        topics.flat_map(|topic| &topic.measures)
    };
    let listed = |measures: &mut dyn Iterator<Item = &MeasureBeside>| {
        let said: Vec<String> =
            measures.map(|one| format!("{} {}", name(one), short(one))).collect();
        said.join(", ")
    };
    // Where what is won and what is lost stand together, a word says which is which.
    let judged = |measures: &mut dyn Iterator<Item = &MeasureBeside>| {
        let word = |one: &MeasureBeside| match one.outcome {
            Outcome::Differs => String::new(),
            outcome => format!(" ({})", outcome.words()),
        };
        let said = measures.map(|one| format!("{} {}{}", name(one), short(one), word(one)));
        said.collect::<Vec<_>>().join(", ")
    };
    let of = |outcome| listed(&mut others().filter(move |one| one.outcome == outcome));
    let clearance = sides.topics.iter().filter(|topic| topic.name == CLEARANCE);
    let mut clearance = clearance.flat_map(|topic| &topic.measures).filter(|one| is_told(one));
    let lines = [
        ("won", of(Outcome::Won)),
        ("lost", of(Outcome::Lost)),
        ("clearance", judged(&mut clearance)),
    ];
    let or_nothing = |(word, said): (&'static str, String)| match (word, said.is_empty()) {
        ("clearance", true) => (word, "no sure difference".to_owned()),
        (_, true) => (word, "nothing for sure".to_owned()),
        _ => (word, said),
    };
    lines.into_iter().map(or_nothing).collect()
}

/// How many measures came to what.
pub(crate) fn counts(sides: &Sides) -> String {
    let said: Vec<String> = Outcome::ALL
        .into_iter()
        .map(|outcome| (outcome, sides.count(outcome)))
        .filter(|(_, count)| *count > 0)
        .map(|(outcome, count)| glued(&format!("{count} {}", plural(outcome, count))))
        .collect();
    let all: usize = Outcome::ALL.into_iter().map(|outcome| sides.count(outcome)).sum();
    format!("{}: {}", said::number_of(all, "measure"), said.join(", "))
}

fn plural(outcome: Outcome, count: usize) -> &'static str {
    match (outcome, count) {
        (Outcome::Differs, 2..) => "differ",
        _ => outcome.words(),
    }
}

/// Whether a verdict is told without being asked for: something stands against one side, or is open there.
pub(crate) fn is_grave(beside: &VerdictBeside) -> bool {
    let mut all = beside.there.iter().chain([&beside.here]);
    !all.all(|verdict| matches!(verdict, Verdict::Conforms | Verdict::NotApplicable))
}

/// `conforms → does not conform`: the baselines first, each of them where they are not of one mind.
pub(crate) fn verdicts(beside: &VerdictBeside) -> String {
    let mut there: Vec<&str> = beside.there.iter().map(|verdict| verdict.words()).collect();
    there.dedup();
    format!("{} → {}", there.join(", "), beside.here.words())
}
