//! The parts of a formula that are read from a pan, each with its value.

use super::{Part, Term};
use crate::measure::{ObjectKind, Spec, Unknown};
use crate::review::{Situation, Sweep};
use crate::rule::{Formula, FormulaKind, Function, Rule, Scope, evaluate};

/// The object that a rule is read for: its kind, and its place among those of the kind.
pub(super) type Object = Option<(ObjectKind, usize)>;

/// What the formulas of a rule are made of, each part once, in the order written.
pub(super) fn terms(rule: &Rule, sweep: &Sweep, object: Object) -> Vec<Term> {
    let mut parts = Vec::new();
    collect(&rule.measure, &mut parts);
    for formula in rule.at_least.iter().chain(&rule.at_most) {
        collect(formula, &mut parts);
    }
    let mut terms: Vec<Term> = Vec::new();
    for part in parts {
        let text = part.to_string();
        if terms.iter().all(|term| term.text != text) {
            terms.push(of(part, sweep, object));
        }
    }
    terms
}

fn collect<'f>(formula: &'f Formula, out: &mut Vec<&'f Formula>) {
    match &formula.kind {
        FormulaKind::Number(_) => {}
        FormulaKind::Negative(inner) => collect(inner, out),
        FormulaKind::Binary(_, left, right) => {
            collect(left, out);
            collect(right, out);
        }
        FormulaKind::Call(Function::Min | Function::Max | Function::Abs | Function::Sqrt, all) => {
            for argument in all {
                collect(argument, out);
            }
        }
        FormulaKind::Measure(_) | FormulaKind::Call(..) => out.push(formula),
    }
}

/// A formula with its value.
pub(super) fn of(formula: &Formula, sweep: &Sweep, object: Object) -> Term {
    let reading = sweep
        .propagate(|situation| Ok(evaluate(formula, situation, object)?.bounds))
        .map(|(reading, _)| reading);
    let mut term = Term {
        text: formula.to_string(),
        spec: None,
        is_read: is_read(formula),
        dimension: formula.dimension,
        reading,
        worst: None,
        states: Vec::new(),
        parts: Vec::new(),
        note: None,
    };
    match &formula.kind {
        FormulaKind::Measure(spec) => {
            term.spec = Some(spec);
            of_measure(&mut term, spec, sweep, object);
        }
        FormulaKind::Call(function, arguments) => {
            if let [argument] = arguments.as_slice() {
                term.parts = parts(*function, argument, sweep, object);
            }
            if *function == Function::Spread && term.parts.len() < 3 {
                term.note = Some("as it is for fewer than three baseline pans");
            }
        }
        _ => {}
    }
    term
}

fn is_read(formula: &Formula) -> bool {
    let mut parts = Vec::new();
    collect(formula, &mut parts);
    !parts.is_empty()
}

fn of_measure(term: &mut Term, spec: &'static Spec, sweep: &Sweep, object: Object) {
    let place = object.filter(|(kind, _)| *kind == spec.kind).map_or(0, |(_, place)| place);
    if let Ok(sample) = sweep.nominal.own.outcome(spec, place).as_ref() {
        term.worst.clone_from(&sample.worst);
        term.states.clone_from(&sample.states);
    }
}

/// What a function over objects or baseline pans brings together.
fn parts(function: Function, argument: &Formula, sweep: &Sweep, object: Object) -> Vec<Part> {
    match function {
        Function::Least | Function::Most | Function::Sum => of_objects(argument, sweep),
        Function::Baseline | Function::Spread => of_baselines(argument, sweep, object),
        Function::Min | Function::Max | Function::Abs | Function::Sqrt => Vec::new(),
    }
}

fn of_objects(argument: &Formula, sweep: &Sweep) -> Vec<Part> {
    let Some(each) = argument.each else { return Vec::new() };
    let names = sweep.nominal.objects(each.kind).unwrap_or_default();
    let part = |(place, name): (usize, String)| Part {
        of: format!("{}.{name}", each.kind.family()),
        reading: sweep
            .propagate(|s| Ok(evaluate(argument, s, Some((each.kind, place)))?.bounds))
            .map(|(reading, _)| reading),
    };
    names.into_iter().enumerate().map(part).collect()
}

fn of_baselines(argument: &Formula, sweep: &Sweep, object: Object) -> Vec<Part> {
    // For an object, its twin of the same name.
    let name = object.and_then(|(kind, place)| {
        let names = sweep.nominal.objects(kind).ok()?;
        Some((kind, names.get(place)?.clone()))
    });
    let at = |situation: &Situation, index: usize| {
        let baseline = situation.baselines.get(index).map(std::sync::Arc::as_ref);
        let baseline = baseline.ok_or_else(|| Unknown::because("there is no baseline pan"))?;
        let twin = match (&name, argument.each) {
            (Some((kind, name)), Some(_)) => {
                let names = baseline.objects(*kind)?;
                names.iter().position(|other| other == name).map(|place| (*kind, place))
            }
            _ => None,
        };
        Ok(evaluate(argument, baseline, twin)?.bounds)
    };
    (0..sweep.nominal.baselines.len())
        .map(|index| Part {
            of: sweep.nominal.baselines.get(index).map_or("", |b| b.path()).to_owned(),
            reading: sweep.propagate(|s| at(s, index)).map(|(reading, _)| reading),
        })
        .collect()
}
