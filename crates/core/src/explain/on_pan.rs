//! How a rule came to its verdict on a pan: condition, terms, inputs, limits, in that order.

use super::rule::sides;
use super::term::{self, Object};
use super::{Chain, OnPan, condition};
use crate::measure::{Bounds, ObjectKind};
use crate::review::{Contribution, Finding, LimitSide, OpenedPan, Sweep, judge, margin_at};
use crate::rule::{Rule, Scope, Truth};
use crate::verdict::guard_factor;

/// A share of a quantity that the rounding of its sums may come to, and no stated input is as good as.
const ROUNDING: f64 = 1e-12;

/// A rule on a pan, for the pan or for every object of its kind.
pub(super) fn on_pan(rule: &Rule, pan: &OpenedPan) -> OnPan {
    let sweep = &pan.sweep;
    let count = sweep.nominal.objects(rule.kind).map_or(0, |names| names.len());
    let chains = judge(rule, sweep)
        .into_iter()
        .enumerate()
        .map(|(place, finding)| {
            // Without an object there is one finding, which says why there is none.
            let object = (place < count).then_some((rule.kind, place));
            chain(rule, sweep, object, finding)
        })
        .collect();
    OnPan {
        path: pan.path.clone(),
        title: pan.title.clone(),
        baselines: pan.baselines.clone(),
        chains,
    }
}

fn chain(
    rule: &Rule,
    sweep: &Sweep,
    object: Option<(ObjectKind, usize)>,
    finding: Finding,
) -> Chain {
    let mut chain = Chain {
        condition: None,
        terms: Vec::new(),
        moved_by: Vec::new(),
        exact: Vec::new(),
        finding,
    };
    let Some((kind, _)) = object else { return chain };
    let object = object.filter(|_| kind != ObjectKind::Pan);
    chain.condition = rule.when.as_ref().map(|when| condition::seen(when, sweep, object));
    if chain.condition.as_ref().is_some_and(|when| when.truth != Truth::True) {
        return chain;
    }
    chain.terms = term::terms(rule, sweep, object);
    let size = chain.finding.reading.map_or(0.0, |reading| size_of(reading.bounds));
    let uncertain = |moved: &&Contribution| !moved.of_last_digit;
    let moved_by = chain.finding.contributions.iter().filter(uncertain).cloned().collect();
    chain.moved_by = without_dust(moved_by, size);
    chain.exact = without_dust(exact(rule, sweep, object, &chain.finding), size);
    chain
}

/// The inputs taken as exact that would move the deciding margin.
fn exact(rule: &Rule, sweep: &Sweep, object: Object, finding: &Finding) -> Vec<Contribution> {
    let Some(side) = deciding(finding) else { return Vec::new() };
    let Some((_, limit, _)) = sides(rule).find(|(of, ..)| *of == side) else { return Vec::new() };
    sweep.last_digits(|situation| margin_at((&rule.measure, limit), side, situation, object))
}

/// The larger of the finite ends of a reading, without its sign.
pub(super) fn size_of(bounds: Bounds) -> f64 {
    let ends = [bounds.low, bounds.high].map(f64::abs);
    let [low, high] = ends.map(|end| if end.is_finite() { end } else { 0.0 });
    if low > high { low } else { high }
}

/// Leaves out what is only the rounding of the sums: inputs that do not move a quantity of this size at all.
pub(super) fn without_dust(mut all: Vec<Contribution>, size: f64) -> Vec<Contribution> {
    let largest = all.first().map_or(0.0, |moved| moved.effect.abs());
    let least = ROUNDING * if largest > size { largest } else { size };
    all.retain(|moved| moved.effect.abs() > least);
    all
}

/// The side whose margin is least with the uncertainty taken off: that from which the finding has its inputs.
fn deciding(finding: &Finding) -> Option<LimitSide> {
    let factor = guard_factor(finding.decision);
    let worth = |limit: &crate::review::LimitReading| {
        limit.margin.map_or(f64::INFINITY, |margin| margin.bounds.low - factor * margin.u_low)
    };
    let least = finding.limits.iter().min_by(|a, b| worth(a).total_cmp(&worth(b)))?;
    Some(least.side)
}
