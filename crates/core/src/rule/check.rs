//! Formulas put together from parts, with dimensions and kinds of object checked before any value exists.

use super::{ForEach, Formula, FormulaKind, Function, Operator};
use crate::measure::{ObjectKind, Spec};
use crate::quantity::Dimension;
use crate::source::{Code, Diagnostic, Span};

/// A checked part, or the first problem in it.
pub(super) type Checked<T> = Result<T, Box<Diagnostic>>;

/// `-a`.
pub(super) fn negative(inner: Formula, span: Span) -> Checked<Formula> {
    if inner.dimension.point {
        return Err(point_refused(&inner, "has no opposite"));
    }
    let (dimension, each) = (inner.dimension, inner.each);
    Ok(Formula { kind: FormulaKind::Negative(Box::new(inner)), dimension, span, each })
}

/// Two operands and an operator.
pub(super) fn binary(
    operator: Operator,
    left: Formula,
    right: Formula,
    span: Span,
) -> Checked<Formula> {
    let dimension = match operator {
        Operator::Add => added(&left, &right)?,
        Operator::Subtract => subtracted(&left, &right)?,
        Operator::Multiply | Operator::Divide => multiplied(operator, &left, &right)?,
    };
    let each = join(left.each, right.each)?;
    let kind = FormulaKind::Binary(operator, Box::new(left), Box::new(right));
    Ok(Formula { kind, dimension, span, each })
}

/// A function with its arguments.
pub(super) fn call(
    function: Function,
    word: Span,
    arguments: Vec<Formula>,
    span: Span,
) -> Checked<Formula> {
    let Some((first, others)) = arguments.split_first() else {
        return Err(wrong_count(function, word, 0));
    };
    let wants_several = matches!(function, Function::Min | Function::Max);
    if wants_several == others.is_empty() {
        return Err(wrong_count(function, word, arguments.len()));
    }
    let mut each = first.each;
    for other in others {
        agree(first, other)?;
        each = join(each, other.each)?;
    }
    let dimension = result_dimension(function, first)?;
    match function {
        Function::Least | Function::Most | Function::Sum if each.is_none() => {
            return Err(nothing_to_choose_from(function, first));
        }
        Function::Least | Function::Most | Function::Sum => each = None,
        Function::Baseline | Function::Spread => refuse_second_baseline(first)?,
        Function::Min | Function::Max | Function::Abs | Function::Sqrt => {}
    }
    Ok(Formula { kind: FormulaKind::Call(function, arguments), dimension, span, each })
}

/// Two formulas of one dimension, as a comparison and a limit want them.
pub(super) fn agree(first: &Formula, second: &Formula) -> Checked<()> {
    if first.dimension == second.dimension {
        return Ok(());
    }
    for (number, other) in [(second, first), (first, second)] {
        if let Some(problem) = lacks_unit(number, other.dimension) {
            return Err(problem.also(other.span, other.dimension.name()).into());
        }
    }
    let (found, wanted) = (second.dimension.name(), first.dimension.name());
    let problem = wrong(second.span, format!("this is {found}, and should be {wanted}"));
    let problem = problem.labelled(found).also(first.span, wanted);
    Err(problem.help("both sides have to be quantities of one kind").into())
}

/// What a measure has to be read for.
pub(super) fn each(measure: &Spec, span: Span) -> Option<ForEach> {
    (measure.kind != ObjectKind::Pan).then_some(ForEach { kind: measure.kind, span })
}

/// The one kind of object in two parts.
pub(super) fn join(first: Option<ForEach>, second: Option<ForEach>) -> Checked<Option<ForEach>> {
    let (Some(a), Some(b)) = (first, second) else { return Ok(first.or(second)) };
    if a.kind == b.kind {
        return Ok(first);
    }
    let (before, here) = (a.kind.family(), b.kind.family());
    let message =
        format!("this is read for each of the {here}, and the rule for each of the {before}");
    Err(Diagnostic::error(Code::TwoKinds, b.span, message)
        .also(a.span, format!("read for each of the {before}"))
        .help("bring one to a single reading for the pan: `least( )`, `most( )` or `sum( )`")
        .into())
}

fn added(left: &Formula, right: &Formula) -> Checked<Dimension> {
    let difference = |d: Dimension| Dimension { point: false, ..d };
    match (left.dimension.point, right.dimension.point) {
        (true, false) if right.dimension == difference(left.dimension) => Ok(left.dimension),
        (true, true) if left.dimension == right.dimension => {
            Err(point_refused(right, "cannot be added to a temperature"))
        }
        (false, true) if left.dimension == difference(right.dimension) => {
            Err(point_refused(right, "stands before what is added to it"))
        }
        _ => agree(left, right).map(|()| left.dimension),
    }
}

fn subtracted(left: &Formula, right: &Formula) -> Checked<Dimension> {
    let difference = |d: Dimension| Dimension { point: false, ..d };
    match (left.dimension.point, right.dimension.point) {
        (true, true) if left.dimension == right.dimension => Ok(difference(left.dimension)),
        (true, false) if right.dimension == difference(left.dimension) => Ok(left.dimension),
        (false, true) if left.dimension == difference(right.dimension) => {
            Err(point_refused(right, "cannot be taken from a difference"))
        }
        _ => agree(left, right).map(|()| left.dimension),
    }
}

fn multiplied(operator: Operator, left: &Formula, right: &Formula) -> Checked<Dimension> {
    for operand in [left, right] {
        if operand.dimension.point {
            return Err(point_refused(operand, "cannot be multiplied or divided"));
        }
    }
    let result = if operator == Operator::Multiply {
        left.dimension.times(right.dimension)
    } else {
        left.dimension.over(right.dimension)
    };
    result.ok_or_else(|| {
        let problem = wrong(right.span, "the units rise to a power out of all measure");
        problem.help("multiply and divide fewer quantities").into()
    })
}

fn result_dimension(function: Function, argument: &Formula) -> Checked<Dimension> {
    let dimension = argument.dimension;
    match function {
        Function::Sqrt | Function::Abs | Function::Sum if dimension.point => {
            Err(point_refused(argument, &format!("has no {}( )", function.word())))
        }
        Function::Sqrt => dimension.root().ok_or_else(|| {
            let found = dimension.name();
            let problem =
                wrong(argument.span, format!("the square root of {found} is no quantity"));
            problem.labelled(found).help("every unit under the root needs an even power").into()
        }),
        Function::Spread => Ok(Dimension { point: false, ..dimension }),
        _ => Ok(dimension),
    }
}

/// The problem with a plain number where a quantity with a unit is wanted.
fn lacks_unit(formula: &Formula, wanted: Dimension) -> Option<Diagnostic> {
    let number = plain_number(formula).filter(|_| !wanted.is_number())?;
    let (plain, unit) = (number.to_string(), wanted.usual_symbol());
    Some(
        wrong(number.span, format!("`{plain}` needs a unit here, for {}", wanted.name()))
            .help(format!("write `{plain} {unit}`, or the unit that is meant")),
    )
}

fn wrong_count(function: Function, word: Span, found: usize) -> Box<Diagnostic> {
    let wants_several = matches!(function, Function::Min | Function::Max);
    let wanted = if wants_several { "two arguments or more" } else { "one argument" };
    let name = function.word();
    let problem = Diagnostic::error(
        Code::BadFormula,
        word,
        format!("`{name}( )` takes {wanted}, found {found}"),
    );
    Box::new(match (function, found) {
        (Function::Min, 1) => problem.help("over the objects of a kind, write `least( )`"),
        (Function::Max, 1) => problem.help("over the objects of a kind, write `most( )`"),
        _ => problem.help("arguments are separated by a comma and a blank"),
    })
}

fn nothing_to_choose_from(function: Function, argument: &Formula) -> Box<Diagnostic> {
    let name = function.word();
    let message = format!("nothing in `{name}( )` is read for each drain, baffle or the like");
    let problem = Diagnostic::error(Code::BadFormula, argument.span, message);
    let instead = match function {
        Function::Least => "for the least of several values, write `min(a, b)`",
        Function::Most => "for the largest of several values, write `max(a, b)`",
        _ => "add values of the pan with ` + `",
    };
    Box::new(problem.help(instead))
}

fn refuse_second_baseline(argument: &Formula) -> Checked<()> {
    match first_baseline(argument) {
        None => Ok(()),
        Some(inner) => {
            let message = "a baseline's own baseline is not followed";
            let problem = Diagnostic::error(Code::BadFormula, inner, message);
            Err(problem.help("take `baseline( )` and `spread( )` apart from each other").into())
        }
    }
}

/// The number without a unit that a formula is, but for signs.
fn plain_number(formula: &Formula) -> Option<&Formula> {
    match &formula.kind {
        FormulaKind::Number(number) if number.unit.is_bare() => Some(formula),
        FormulaKind::Negative(inner) => plain_number(inner),
        _ => None,
    }
}

/// Where the first `baseline( )` or `spread( )` stands.
fn first_baseline(formula: &Formula) -> Option<Span> {
    match &formula.kind {
        FormulaKind::Number(_) | FormulaKind::Measure(_) => None,
        FormulaKind::Negative(inner) => first_baseline(inner),
        FormulaKind::Binary(_, left, right) => {
            first_baseline(left).or_else(|| first_baseline(right))
        }
        FormulaKind::Call(Function::Baseline | Function::Spread, _) => Some(formula.span),
        FormulaKind::Call(_, arguments) => arguments.iter().find_map(first_baseline),
    }
}

fn point_refused(formula: &Formula, why: &str) -> Box<Diagnostic> {
    wrong(formula.span, format!("a temperature {why}"))
        .help("temperatures may be subtracted from each other, and a difference in K added to or taken from one")
        .into()
}

fn wrong(span: Span, message: impl Into<String>) -> Diagnostic {
    Diagnostic::error(Code::WrongFormulaDimension, span, message)
}
