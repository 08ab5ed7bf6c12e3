//! Formulas at one set of inputs, on bounds.

use super::interval::{self, absolute, combine, half_range, maximum, mean, minimum, square_root};
use super::{Formula, FormulaKind, Function, Operator, Scope};
use crate::measure::{Bounds, ObjectKind, Spec, Unknown};

/// What a formula comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Evaluated {
    /// Its value, or the bounds between which it lies, in SI base units.
    pub bounds: Bounds,
    /// The object that the first `least( )` or `most( )` chose.
    pub deciding: Option<(ObjectKind, usize)>,
    /// Why some objects under `least( )` or `most( )` could not be read, so that the bounds are open on
    /// one side; empty where all were.
    pub unread: Vec<Unknown>,
}

/// Two pans do not tell a family's spread from a difference between two designs.
const LEAST_FOR_A_SPREAD: usize = 3;

/// The object that a formula is read for: its kind, and its place among those of the kind.
type Object = Option<(ObjectKind, usize)>;

/// The value of a formula; `object` is the one the rule is read for, if any.
///
/// # Errors
/// Says why there is no value, with everything that would have to be stated.
pub fn evaluate(
    formula: &Formula,
    scope: &dyn Scope,
    object: Option<(ObjectKind, usize)>,
) -> Result<Evaluated, Unknown> {
    match &formula.kind {
        FormulaKind::Number(number) => Ok(plain(Bounds::exactly(number.value))),
        FormulaKind::Measure(spec) => measured(spec, scope, object).map(plain),
        FormulaKind::Negative(inner) => {
            let inner = evaluate(inner, scope, object)?;
            Ok(Evaluated { bounds: interval::negative(inner.bounds), ..inner })
        }
        FormulaKind::Binary(operator, left, right) => {
            let both = all([left.as_ref(), right.as_ref()], scope, object)?;
            folded(both, |a, b| combine(*operator, a, b))
        }
        FormulaKind::Call(function, arguments) => called(*function, arguments, scope, object),
    }
}

fn called(
    function: Function,
    arguments: &[Formula],
    scope: &dyn Scope,
    object: Object,
) -> Result<Evaluated, Unknown> {
    let Some(first) = arguments.first() else {
        return Err(Unknown::because(format!("{}( ) has no argument", function.word())));
    };
    match function {
        Function::Min => folded(all(arguments, scope, object)?, |a, b| Ok(minimum(a, b))),
        Function::Max => folded(all(arguments, scope, object)?, |a, b| Ok(maximum(a, b))),
        Function::Abs => {
            let value = evaluate(first, scope, object)?;
            Ok(Evaluated { bounds: absolute(value.bounds), ..value })
        }
        Function::Sqrt => {
            let value = evaluate(first, scope, object)?;
            Ok(Evaluated { bounds: square_root(value.bounds)?, ..value })
        }
        Function::Least | Function::Most | Function::Sum => over_objects(function, first, scope),
        Function::Baseline => {
            let (values, unread) = over_baselines(first, scope, object)?;
            Ok(Evaluated { bounds: mean(&values)?, deciding: None, unread })
        }
        Function::Spread => {
            let (values, unread) = over_baselines(first, scope, object)?;
            if values.len() < LEAST_FOR_A_SPREAD {
                return Ok(plain(Bounds::exactly(0.0)));
            }
            Ok(Evaluated { bounds: half_range(&values)?, deciding: None, unread })
        }
    }
}

fn measured(spec: &'static Spec, scope: &dyn Scope, object: Object) -> Result<Bounds, Unknown> {
    let place = match object {
        _ if spec.kind == ObjectKind::Pan => 0,
        Some((kind, place)) if kind == spec.kind => place,
        _ => {
            let family = spec.kind.family();
            let reason =
                format!("{} is read for each of the {family}, and none is chosen", spec.name);
            return Err(Unknown::because(reason));
        }
    };
    interval::usable(scope.reading(spec, place)?)
}

/// `least`, `most` or `sum` over the objects of the kind that the argument asks for.
fn over_objects(
    function: Function,
    argument: &Formula,
    scope: &dyn Scope,
) -> Result<Evaluated, Unknown> {
    let Some(each) = argument.each else {
        return Err(Unknown::because(format!("{}( ) has no objects", function.word())));
    };
    let count = scope.objects(each.kind)?.len();
    let mut known: Vec<(usize, Evaluated)> = Vec::new();
    let mut unread = Vec::new();
    for place in 0..count {
        match evaluate(argument, scope, Some((each.kind, place))) {
            Ok(value) => known.push((place, value)),
            Err(unknown) => unread.push(unknown),
        }
    }
    if known.is_empty() && count > 0 || function == Function::Sum && !unread.is_empty() {
        return Err(joined(unread));
    }
    for (_, value) in &mut known {
        unread.append(&mut value.unread);
    }
    let family = each.kind.family();
    let empty = || Unknown::because(format!("the pan has no {family}"));
    let bounds = || known.iter().map(|(_, value)| value.bounds);
    if function == Function::Sum {
        let mut sum = Bounds::exactly(0.0);
        for value in bounds() {
            sum = combine(Operator::Add, sum, value)?;
        }
        return Ok(Evaluated { bounds: sum, deciding: None, unread });
    }
    let least = function == Function::Least;
    let mut result = bounds().reduce(if least { minimum } else { maximum }).ok_or_else(empty)?;
    let end = |value: Bounds| if least { value.low } else { value.high };
    let deciding =
        known.iter().find(|(_, value)| end(value.bounds).total_cmp(&end(result)).is_eq());
    let deciding = deciding.map(|(place, _)| (each.kind, *place));
    if known.len() < count {
        // One that could not be read may be smaller (larger) than all that could.
        if least {
            result.low = f64::NEG_INFINITY;
        } else {
            result.high = f64::INFINITY;
        }
    }
    Ok(Evaluated { bounds: result, deciding, unread })
}

/// The argument in every baseline pan, and why some objects there could not be read; for the object of
/// the same name, if it is read for one.
fn over_baselines(
    argument: &Formula,
    scope: &dyn Scope,
    object: Object,
) -> Result<(Vec<Bounds>, Vec<Unknown>), Unknown> {
    let baselines = scope.baselines();
    if baselines.is_empty() {
        return Err(Unknown::because("there is no baseline pan"));
    }
    let name = match (argument.each, object) {
        (Some(each), Some((kind, place))) if each.kind == kind => {
            scope.objects(kind)?.get(place).cloned().map(|name| (kind, name))
        }
        _ => None,
    };
    let mut values = Vec::with_capacity(baselines.len());
    let mut unread = Vec::new();
    for baseline in baselines {
        let twin = match &name {
            Some((kind, name)) => Some((*kind, place_of(name, *kind, baseline)?)),
            None => None,
        };
        let value = evaluate(argument, baseline, twin).map_err(in_baseline)?;
        values.push(value.bounds);
        unread.extend(value.unread.into_iter().map(in_baseline));
    }
    Ok((values, unread))
}

/// The place of the object of a name in a baseline pan.
fn place_of(name: &str, kind: ObjectKind, baseline: &dyn Scope) -> Result<usize, Unknown> {
    let names = baseline.objects(kind).map_err(in_baseline)?;
    names.iter().position(|other| other == name).ok_or_else(|| {
        let family = kind.family();
        Unknown::because(format!("a baseline pan has no `{name}` under its {family}"))
    })
}

fn in_baseline(unknown: Unknown) -> Unknown {
    // What is at fault with the baseline is looked for there, and the finding stays with the pan.
    Unknown { reason: format!("in a baseline pan, {}", unknown.reason), at: None, ..unknown }
}

/// All formulas of a list, or everything that is unknown about them.
fn all<'f>(
    formulas: impl IntoIterator<Item = &'f Formula>,
    scope: &dyn Scope,
    object: Object,
) -> Result<Vec<Evaluated>, Unknown> {
    let mut values = Vec::new();
    let mut unknown = Vec::new();
    for formula in formulas {
        match evaluate(formula, scope, object) {
            Ok(value) => values.push(value),
            Err(reason) => unknown.push(reason),
        }
    }
    if unknown.is_empty() { Ok(values) } else { Err(joined(unknown)) }
}

/// Values brought together one after the other.
fn folded(
    values: Vec<Evaluated>,
    operation: impl Fn(Bounds, Bounds) -> Result<Bounds, Unknown>,
) -> Result<Evaluated, Unknown> {
    let mut values = values.into_iter();
    let Some(mut result) = values.next() else {
        return Err(Unknown::because("there is no value"));
    };
    for next in values {
        result.bounds = operation(result.bounds, next.bounds)?;
        result.deciding = result.deciding.or(next.deciding);
        result.unread.extend(next.unread);
    }
    Ok(result)
}

/// Stands between reasons that were joined, so that they can be taken apart again.
const AND: &str = ", and ";

/// Several reasons as one; each reason, and what is missing, is named once.
pub(super) fn joined(reasons: Vec<Unknown>) -> Unknown {
    let mut words: Vec<String> = Vec::new();
    let mut missing = Vec::new();
    let at = reasons.iter().find_map(|unknown| unknown.at);
    for unknown in reasons {
        for reason in unknown.reason.split(AND) {
            if !words.iter().any(|word| word == reason) {
                words.push(reason.to_owned());
            }
        }
        for item in unknown.missing {
            if !missing.contains(&item) {
                missing.push(item);
            }
        }
    }
    Unknown { reason: words.join(AND), missing, at }
}

fn plain(bounds: Bounds) -> Evaluated {
    Evaluated { bounds, deciding: None, unread: Vec::new() }
}
