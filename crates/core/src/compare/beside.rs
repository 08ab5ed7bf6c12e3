//! The entry for pans: one, and what it is held beside, become a comparison measure by measure.

use super::direction::{better, moving_margins, outside, rules_on};
use super::topic::{topic, topics};
use super::{
    MeasureBeside, Outcome, PanNamed, PansCompared, Sides, TopicCompared, VerdictBeside, Way,
};
use crate::document::rulebook::Decision;
use crate::measure::{Bounds, MEASURES, ObjectKind, Spec, Unknown};
use crate::review::{Beside, BookUsed, Contribution, Reading, Sweep, gravest, open_beside};
use crate::rule::{ForEach, Formula, FormulaKind, Function, Operator, Rulebook, Scope, evaluate};
use crate::source::{Files, Span};
use crate::verdict::{Verdict, guard_factor};
use rayon::prelude::*;
use std::cmp::Ordering;
use std::collections::BTreeSet;

/// Values that agree to this share of the larger are alike: levels and volumes are not computed closer.
const ALIKE: f64 = 1e-9;

/// What is asked for.
#[derive(Clone, Copy)]
pub struct BesideRequest<'a> {
    /// The host's files.
    pub files: &'a dyn Files,
    /// Path of the pan.
    pub pan: &'a str,
    /// Paths of the pans that it is held beside; without any, its own baselines.
    pub baselines: &'a [String],
    /// Path as shown and text of each file of the rulebook.
    pub rulebook: &'a [(String, String)],
}

impl std::fmt::Debug for BesideRequest<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("BesideRequest")
            .field("pan", &self.pan)
            .field("baselines", &self.baselines)
            .finish_non_exhaustive()
    }
}

/// Holds a pan beside its baselines. Bad documents are data: they come back among the problems.
pub fn compare_pans(request: BesideRequest<'_>) -> PansCompared {
    let BesideRequest { files, pan, baselines, rulebook } = request;
    let Beside { sources, problems, rulebook, sweeps } =
        open_beside(files, rulebook, pan, baselines);
    let book = BookUsed::of(&rulebook, &problems);
    let sides = sweeps.map(|(own, others)| sides(&own, &others, &rulebook));
    PansCompared { sources, problems, book, rules: rulebook.rules.len(), sides }
}

fn sides(own: &Sweep, others: &[Sweep], rulebook: &Rulebook) -> Sides {
    let measures: Vec<MeasureBeside> =
        MEASURES.par_iter().flat_map_iter(|spec| beside(spec, own, rulebook)).collect();
    let mut by_topic: Vec<TopicCompared> =
        topics().map(|name| TopicCompared { name, measures: Vec::new() }).collect();
    for measure in measures {
        let name = topic(measure.spec.name);
        if let Some(topic) = by_topic.iter_mut().find(|topic| topic.name == name) {
            topic.measures.push(measure);
        }
    }
    by_topic.retain(|topic| !topic.measures.is_empty());
    for topic in &mut by_topic {
        topic.measures.sort_by(surest_first);
    }
    let (verdicts, same_verdicts) = verdicts(own, others, rulebook);
    let named = |sweep: &Sweep| PanNamed {
        path: sweep.nominal.own.path().to_owned(),
        title: sweep.title(),
    };
    Sides {
        pan: named(own),
        baselines: others.iter().map(named).collect(),
        topics: by_topic,
        verdicts,
        same_verdicts,
    }
}

/// Rules that come to another verdict, and how many do not.
fn verdicts(own: &Sweep, others: &[Sweep], rulebook: &Rulebook) -> (Vec<VerdictBeside>, usize) {
    let judged: Vec<VerdictBeside> = rulebook
        .rules
        .par_iter()
        .map(|rule| VerdictBeside {
            rule: rule.doc.id.text.clone(),
            title: rule.doc.title.text.clone(),
            here: gravest(rule, own),
            there: others.iter().map(|other| gravest(rule, other)).collect(),
        })
        .collect();
    let all = judged.len();
    let mut others: Vec<VerdictBeside> =
        judged.into_iter().filter(|one| one.there.iter().any(|there| *there != one.here)).collect();
    let same = all - others.len();
    let place = |verdict: Verdict| Verdict::ALL.iter().position(|one| *one == verdict);
    // A stable sort: rules of one verdict stay in the order of their ids.
    others.sort_by_key(|one| place(one.here));
    (others, same)
}

/// A measure on every object of either side.
fn beside(spec: &'static Spec, own: &Sweep, rulebook: &Rulebook) -> Vec<MeasureBeside> {
    if spec.kind == ObjectKind::Pan {
        return vec![on_object(spec, None, own, rulebook)];
    }
    let here = own.nominal.objects(spec.kind).unwrap_or_default();
    let there: BTreeSet<String> = own
        .nominal
        .baselines()
        .iter()
        .flat_map(|baseline| baseline.objects(spec.kind).unwrap_or_default())
        .filter(|name| !here.contains(name))
        .collect();
    let both = here.into_iter().enumerate().map(|(place, name)| (Some(place), name));
    let all = both.chain(there.into_iter().map(|name| (None, name)));
    all.map(|(place, name)| match place {
        Some(place) => on_object(spec, Some((place, name)), own, rulebook),
        None => only_there(spec, &name, own),
    })
    .collect()
}

fn on_object(
    spec: &'static Spec,
    object: Option<(usize, String)>,
    own: &Sweep,
    rulebook: &Rulebook,
) -> MeasureBeside {
    let key = object.as_ref().map(|(place, _)| (spec.kind, *place));
    let read = |formula: &Formula| {
        own.propagate(|situation| Ok(evaluate(formula, situation, key)?.bounds))
    };
    let rules = rules_on(spec, rulebook, &own.nominal, key);
    let measure = measure(spec, own.whole());
    let (here, there) = (read(&measure), read(&mean(&measure)));
    let difference = read(&against_baseline(&measure));
    let index = key.map_or(0, |(_, place)| place);
    let sample = own.nominal.own.outcome(spec, index);
    let (difference, driver) = parted(difference);
    let mut beside = MeasureBeside {
        spec,
        object: object.map(|(_, name)| format!("{}.{name}", spec.kind.family())),
        here: here.map(|(reading, _)| reading),
        there: there.map(|(reading, _)| reading),
        difference,
        driver,
        worst: sample.as_ref().as_ref().ok().and_then(|sample| sample.worst.clone()),
        better: better(&rules),
        outcome: Outcome::Unknown,
    };
    let judge = Judge {
        outside: &|value| outside(value, &rules, &own.nominal, key),
        margin: &|formula| parted(read(&against_baseline(formula))).0,
        moving: moving_margins(&rules),
    };
    beside.outcome = judge.outcome(&beside);
    beside
}

/// An object that only the baselines have.
fn only_there(spec: &'static Spec, name: &str, own: &Sweep) -> MeasureBeside {
    let unknown =
        || Unknown::because(format!("this pan has no `{name}` under its {}", spec.kind.family()));
    let there = own.propagate(|situation| {
        let mut sum = Bounds::exactly(0.0);
        for baseline in situation.baselines() {
            let names = baseline.objects(spec.kind)?;
            let place = names.iter().position(|other| other == name).ok_or_else(|| {
                Unknown::because(format!(
                    "a baseline pan has no `{name}` under its {}",
                    spec.kind.family()
                ))
            })?;
            let bounds = baseline.reading(spec, place)?;
            sum = Bounds { low: sum.low + bounds.low, high: sum.high + bounds.high };
        }
        let count = situation.baselines().len() as f64;
        Ok(Bounds { low: sum.low / count, high: sum.high / count })
    });
    let there = there.map(|(reading, _)| reading);
    let outcome = if there.is_ok() { Outcome::OnlyThere } else { Outcome::Unknown };
    MeasureBeside {
        spec,
        object: Some(format!("{}.{name}", spec.kind.family())),
        here: Err(unknown()),
        there,
        difference: Err(unknown()),
        driver: None,
        worst: None,
        better: None,
        outcome,
    }
}

type Propagated = Result<(Reading, Vec<Contribution>), Unknown>;

fn parted(propagated: Propagated) -> (Result<Reading, Unknown>, Option<Contribution>) {
    match propagated {
        Ok((reading, contributions)) => (Ok(reading), contributions.into_iter().next()),
        Err(unknown) => (Err(unknown), None),
    }
}

/// A measure as a rule would write it.
fn measure(spec: &'static Spec, span: Span) -> Formula {
    let each = (spec.kind != ObjectKind::Pan).then_some(ForEach { kind: spec.kind, span });
    Formula { kind: FormulaKind::Measure(spec), dimension: spec.dimension, span, each }
}

/// `baseline(…)`.
fn mean(formula: &Formula) -> Formula {
    let kind = FormulaKind::Call(Function::Baseline, vec![formula.clone()]);
    Formula { kind, ..formula.clone() }
}

/// `… - baseline(…)`.
fn against_baseline(formula: &Formula) -> Formula {
    let (own, mean) = (Box::new(formula.clone()), Box::new(mean(formula)));
    let kind = FormulaKind::Binary(Operator::Subtract, own, mean);
    Formula { kind, dimension: formula.dimension.difference(), ..formula.clone() }
}

/// What a judgement of better and worse looks at beside the readings.
struct Judge<'a> {
    outside: &'a dyn Fn(f64) -> Option<f64>,
    /// How a margin differs from that of the baseline.
    margin: &'a dyn Fn(&Formula) -> Result<Reading, Unknown>,
    /// Margins to limits that are others in other pans.
    moving: Vec<Formula>,
}

impl Judge<'_> {
    /// What the difference comes to.
    fn outcome(&self, beside: &MeasureBeside) -> Outcome {
        let (here, there) = match (&beside.here, &beside.there) {
            (Ok(here), Ok(there)) => (here, there),
            (Ok(_), Err(_)) => return Outcome::OnlyHere,
            (Err(_), Ok(_)) => return Outcome::OnlyThere,
            (Err(_), Err(_)) => return Outcome::Unknown,
        };
        if alike(here.bounds, there.bounds) {
            return Outcome::Same;
        }
        let side = beside.difference.as_ref().ok().and_then(sure_side);
        let Some(rises) = side else { return Outcome::NotToldApart };
        let won = match beside.better.as_ref().map(|better| better.way) {
            None => return Outcome::Differs,
            Some(Way::More) => rises,
            Some(Way::Less) => !rises,
            Some(Way::Band) => {
                let beyond = |reading: &Reading| reading.bounds.value().and_then(self.outside);
                match (beyond(here), beyond(there)) {
                    (Some(here), Some(there)) if here < there => true,
                    (Some(here), Some(there)) if here > there => false,
                    _ => return Outcome::Differs,
                }
            }
        };
        let agrees =
            |margin: &Formula| (self.margin)(margin).ok().as_ref().and_then(sure_side) == Some(won);
        match (self.moving.iter().all(agrees), won) {
            (false, _) => Outcome::Differs,
            (true, true) => Outcome::Won,
            (true, false) => Outcome::Lost,
        }
    }
}

/// Whether a difference is surely above nothing or surely below; beyond the guard of a one-sided 95 %.
fn sure_side(difference: &Reading) -> Option<bool> {
    let factor = guard_factor(Decision::Guarded);
    let rises = difference.bounds.low - factor * difference.u_low > 0.0;
    let falls = difference.bounds.high + factor * difference.u_high < 0.0;
    (rises || falls).then_some(rises)
}

/// Whether two readings agree as closely as they are computed.
fn alike(here: Bounds, there: Bounds) -> bool {
    let near = |a: f64, b: f64| {
        let larger = if a.abs() > b.abs() { a.abs() } else { b.abs() };
        a.total_cmp(&b) == Ordering::Equal || (a - b).abs() <= ALIKE * larger
    };
    near(here.low, there.low) && near(here.high, there.high)
}

/// By how many times its uncertainty the difference is, then by outcome.
fn surest_first(a: &MeasureBeside, b: &MeasureBeside) -> Ordering {
    let [sure_a, sure_b] = [a, b].map(|beside| coarse(sureness(beside)));
    let [share_a, share_b] = [a, b].map(|beside| coarse(share(beside)));
    sure_b
        .total_cmp(&sure_a)
        .then_with(|| a.outcome.cmp(&b.outcome))
        .then_with(|| share_b.total_cmp(&share_a))
        .then_with(|| (a.spec.name, &a.object).cmp(&(b.spec.name, &b.object)))
}

/// A number to some seven digits: two measures that are multiples of each other are equally sure, and rounding must not
/// put them in order.
fn coarse(number: f64) -> f64 {
    const DROPPED: u64 = 1 << 30;
    f64::from_bits((number.to_bits() + DROPPED / 2) & !(DROPPED - 1))
}

/// How many standard uncertainties lie between the difference and none at all; without any, without end.
fn sureness(beside: &MeasureBeside) -> f64 {
    let Ok(difference) = &beside.difference else { return 0.0 };
    if beside.outcome == Outcome::Same {
        return 0.0;
    }
    let (size, u) = if difference.bounds.low > 0.0 {
        (difference.bounds.low, difference.u_low)
    } else {
        (-difference.bounds.high, difference.u_high)
    };
    if size > 0.0 { size / u } else { 0.0 }
}

/// The difference as a share of what the baseline has: of use among those that are all without uncertainty.
fn share(beside: &MeasureBeside) -> f64 {
    match (&beside.difference, &beside.there) {
        (Ok(difference), Ok(there)) => {
            difference.bounds.low.abs() / (there.bounds.low.abs() + f64::MIN_POSITIVE)
        }
        _ => 0.0,
    }
}
