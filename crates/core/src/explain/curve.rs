//! A measure against the input that drives it: the curve of one pan, with the limit, and where other pans stand.

use super::on_pan::{size_of, without_dust};
use super::rule::sides;
use super::{Curve, CurvePoint, PanOnCurve};
use crate::document::field::{Field, Limits};
use crate::document::field_of_path;
use crate::measure::{Bounds, ObjectKind, Spec, Unknown};
use crate::quantity::Input;
use crate::review::{
    Contribution, Finding, LimitSide, OpenedPan, Situation, judge, margin_at, readings,
};
use crate::rule::{Formula, Rule, Scope as _, evaluate};
use crate::source::Span;
use rayon::prelude::*;

/// How many steps a curve has.
const STEPS: u32 = 48;
/// How far a curve goes beyond the pans on it, as a share of how far these are apart, or of the value itself where
/// that is more.
const BEYOND: f64 = 0.6;
const OF_VALUE: f64 = 0.3;
/// The least value of an input that has to be more than nothing, as a share of the largest.
const MORE_THAN_NOTHING: f64 = 0.02;

/// What a situation reads.
type Value<'a> = dyn Fn(&Situation) -> Result<Bounds, Unknown> + Sync + 'a;

/// One thing to be drawn, asked of a situation.
struct Asked<'a> {
    measure: String,
    dimension: crate::quantity::Dimension,
    limits: Vec<(LimitSide, &'a Formula)>,
    value: Box<Value<'a>>,
    object: Option<(ObjectKind, usize)>,
}

/// A rule's measure, on the pan among these that has most against it.
pub(super) fn of_rule(rule: &Rule, pans: &[OpenedPan]) -> Option<Curve> {
    let found: Vec<(&OpenedPan, usize, Finding)> =
        pans.iter().filter_map(|pan| worst(rule, pan)).collect();
    let margin = |finding: &Finding| {
        let margins = finding.limits.iter().filter_map(|limit| limit.margin);
        margins
            .map(|margin| margin.bounds.low)
            .fold(f64::INFINITY, |a, b| if b < a { b } else { a })
    };
    let (base, place, finding) =
        found.iter().min_by(|a, b| margin(&a.2).total_cmp(&margin(&b.2)))?;
    let object = (rule.kind != ObjectKind::Pan).then_some((rule.kind, *place));
    let limits: Vec<_> = sides(rule).map(|(side, formula, _)| (side, formula)).collect();
    let asked = Asked {
        measure: rule.doc.measure.text.clone(),
        dimension: rule.measure.dimension,
        limits,
        value: Box::new(move |situation| Ok(evaluate(&rule.measure, situation, object)?.bounds)),
        object,
    };
    let exact = || {
        let Some((side, formula)) = asked.limits.first() else { return Vec::new() };
        base.sweep.last_digits(|s| margin_at((&rule.measure, formula), *side, s, object))
    };
    let input = driving(base, finding.subject, &finding.contributions, exact)?;
    let others = found.iter().filter_map(|(pan, _, finding)| {
        let reading = finding.reading?;
        let at = pan.sweep.input_of(&input.path)?.value;
        let guard = finding.limits.iter().find_map(|limit| limit.guard);
        let is_base = pan.path == base.path;
        let verdict = Some(finding.verdict);
        Some(PanOnCurve { name: name(pan), at, reading, guard, verdict, is_base })
    });
    let others: Vec<PanOnCurve> = others.collect();
    drawn(base, &asked, input, others)
}

/// A measure, on the first of these pans that has a reading.
pub(super) fn of_measure(spec: &'static Spec, pans: &[OpenedPan]) -> Option<Curve> {
    let read = |pan: &OpenedPan| {
        let mut all = readings(spec, &pan.sweep).into_iter().enumerate();
        all.find_map(|(place, one)| Some((place, one.reading.clone().ok()?, one)))
    };
    let found: Vec<_> = pans.iter().filter_map(|pan| Some((pan, read(pan)?))).collect();
    let (base, (place, _, reading)) = found.first()?;
    let place = *place;
    let asked = Asked {
        measure: spec.name.to_owned(),
        dimension: spec.dimension,
        limits: Vec::new(),
        value: Box::new(move |situation| situation.reading(spec, place)),
        object: None,
    };
    let exact = || base.sweep.last_digits(|situation| situation.reading(spec, place));
    let subject = reading.subject.unwrap_or_else(|| base.sweep.whole());
    let input = driving(base, subject, &reading.contributions, exact)?;
    let others = found.iter().filter_map(|(pan, (_, reading, _))| {
        let at = pan.sweep.input_of(&input.path)?.value;
        let (is_base, reading) = (pan.path == base.path, *reading);
        Some(PanOnCurve { name: name(pan), at, reading, guard: None, verdict: None, is_base })
    });
    let others: Vec<PanOnCurve> = others.collect();
    drawn(base, &asked, input, others)
}

fn name(pan: &OpenedPan) -> String {
    pan.title.clone().unwrap_or_else(|| pan.path.clone())
}

/// The finding of a rule on a pan that has a reading and the least margin, with the place of its object.
fn worst<'p>(rule: &Rule, pan: &'p OpenedPan) -> Option<(&'p OpenedPan, usize, Finding)> {
    let findings = judge(rule, &pan.sweep).into_iter().enumerate();
    let read = findings.filter(|(_, finding)| finding.reading.is_some());
    let (place, finding) = read.min_by_key(|(_, finding)| finding.verdict)?;
    Some((pan, place, finding))
}

/// The input that a reader would change, if it moves the measure; else the one that moves it most.
fn driving<'p>(
    pan: &'p OpenedPan,
    subject: Span,
    uncertain: &[Contribution],
    exact: impl FnOnce() -> Vec<Contribution>,
) -> Option<&'p Input> {
    // Both lists come with what moves most first; a place may be a point with coordinates in it.
    let is_within = |moved: &&Contribution| {
        let of = moved.span;
        of.file == subject.file && subject.start <= of.start && of.end <= subject.end
    };
    if let Some(moved) = uncertain.iter().find(is_within) {
        return pan.sweep.input_at(moved.span);
    }
    let size = uncertain.first().map_or(0.0, |moved| moved.effect.abs());
    let exact = without_dust(exact(), size);
    if let Some(moved) = exact.iter().find(is_within) {
        return pan.sweep.input_at(moved.span);
    }
    let most = uncertain.first().or(exact.first())?;
    pan.sweep.input_at(most.span)
}

fn drawn(
    pan: &OpenedPan,
    asked: &Asked<'_>,
    input: &Input,
    pans: Vec<PanOnCurve>,
) -> Option<Curve> {
    let field = field_of_path(&input.path);
    let [from, to] = range(input, &pans, field);
    let points: Vec<CurvePoint> = (0..=STEPS)
        .into_par_iter()
        .map(|step| {
            let at = from + (to - from) * f64::from(step) / f64::from(STEPS);
            point(&pan.sweep.moved_by(input.span, at - input.value), asked, at)
        })
        .collect();
    let known = points.iter().filter(|point| point.value.is_some()).count();
    (known >= 2).then(|| Curve {
        measure: asked.measure.clone(),
        dimension: asked.dimension,
        input: input.path.clone(),
        input_dimension: input.dimension,
        input_unit: input.unit.clone(),
        how_to_get: field.map_or("", |field| field.how_to_get),
        of: name(pan),
        sides: asked.limits.iter().map(|(side, _)| *side).collect(),
        points,
        pans,
    })
}

fn point(situation: &Situation, asked: &Asked<'_>, at: f64) -> CurvePoint {
    let limit = |(_, formula): &(LimitSide, &Formula)| {
        evaluate(formula, situation, asked.object).ok().map(|limit| limit.bounds)
    };
    CurvePoint {
        at,
        value: (asked.value)(situation).ok().filter(|bounds| size_of(*bounds).is_finite()),
        limits: asked.limits.iter().map(limit).collect(),
    }
}

/// From where to where: all pans, and some way on, as far as the input can have such a value at all.
fn range(input: &Input, pans: &[PanOnCurve], field: Option<&Field>) -> [f64; 2] {
    let (mut low, mut high) = (input.value, input.value);
    for pan in pans {
        low = if pan.at < low { pan.at } else { low };
        high = if pan.at > high { pan.at } else { high };
    }
    // A temperature has no size of its own: its zero is far away.
    let size = if input.dimension.point { 30.0 } else { OF_VALUE * high.abs().midpoint(low.abs()) };
    let spread = BEYOND * (high - low);
    let least = if input.last_digit > 0.0 { 10.0 * input.last_digit } else { 1e-6 };
    let wider = [size, spread, least].into_iter().fold(0.0, |a, b| if b > a { b } else { a });
    let (from, to) = (low - wider, high + wider);
    match field.map_or(Limits::Any, |field| field.limits) {
        Limits::Positive if from <= 0.0 => [MORE_THAN_NOTHING * to, to],
        Limits::NotNegative | Limits::Draft | Limits::Slope if from < 0.0 => [0.0, to],
        Limits::Share => {
            let from = if from <= 0.0 { MORE_THAN_NOTHING } else { from };
            [from, if to > 1.0 { 1.0 } else { to }]
        }
        _ => [from, to],
    }
}
