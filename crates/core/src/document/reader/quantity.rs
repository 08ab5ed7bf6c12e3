//! Quantities: held against what the field wants, with the uncertainty that is stated, taken from an
//! instrument, or assumed; each becomes an input of the computation.

use super::cursor::{Context, Spot};
use super::instrument::by_instrument;
use super::message::wrong_shape;
use super::value::scalar;
use crate::document::field::{Field, Limits};
use crate::quantity::{
    Dimension, Input, Kind, ParsedQuantity, Stated, StatedUncertainty, parse_quantity, print_in, si,
};
use crate::source::{Code, Diagnostic, FileId, Scalar, Span, Value};
use uom::si::f64::{Acceleration, Angle, DiffusionCoefficient};

/// A quantity of the type that the field has.
pub(super) fn quantity<Q: Kind>(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Stated<Q>> {
    let written = scalar(context, spot, "a quantity")?;
    let value = amount(context, written, spot.node.defined, &spot.path, &spot.name, Q::DIMENSION)?;
    Some(Stated { value: si(value), span: spot.node.defined })
}

/// A list of so many quantities.
pub(super) fn quantities<Q: Kind, const N: usize>(
    context: &mut Context<'_>,
    spot: &Spot<'_>,
) -> Option<[Stated<Q>; N]> {
    let expected = || format!("a list of {N} quantities, each {}", Q::DIMENSION.name());
    let Value::Sequence(items) = &spot.node.value else {
        context.report(wrong_shape(spot, &expected()));
        return None;
    };
    if items.len() != N {
        let message = format!("`{}` is {}, and this has {}", spot.name, expected(), items.len());
        let mut problem = Diagnostic::error(Code::WrongShape, spot.node.span, message);
        if items.len() > N {
            problem = problem.help("a decimal is written with a point, not a comma");
        }
        context.report(problem);
        return None;
    }
    let read: Vec<Stated<Q>> = items
        .iter()
        .enumerate()
        .map(|(i, node)| {
            let path = format!("{}.{i}", spot.path);
            quantity(context, &Spot { node, path, name: spot.name.clone(), key: spot.key })
        })
        .collect::<Vec<_>>()
        .into_iter()
        .collect::<Option<_>>()?;
    read.try_into().ok()
}

/// The value in SI base units of a quantity written in `written`, which becomes an input.
pub(super) fn amount(
    context: &mut Context<'_>,
    written: &Scalar,
    defined: Span,
    path: &str,
    name: &str,
    wanted: Dimension,
) -> Option<f64> {
    let field = context.field(path);
    debug_assert_eq!(field.and_then(|row| row.dimension), Some(wanted), "row and reader: {path}");
    let (parsed, u) = match understood(context, written, field, name, wanted) {
        Ok(read) => read,
        Err(problem) => {
            context.report(*problem);
            return None;
        }
    };
    let value = parsed.value + context.shift(defined, path);
    let limits = field.map_or(Limits::Any, |row| row.limits);
    if context.checks()
        && let Some(limit) = broken(limits, value)
    {
        let printed = print_in(value, 0.0, &parsed.unit);
        let message = format!("`{name}` must be {limit}, and this is {printed}");
        let span = written.part(parsed.number_range);
        let problem = Diagnostic::error(Code::OutOfRange, span, message);
        let help = within(limits, value, path, field);
        context.report(match help {
            Some(help) => problem.help(help),
            None => problem,
        });
        return None;
    }
    // An anchored value that two fields share is one input: it moves in both at once.
    if context.seen.insert(defined) {
        context.out.inputs.push(Input {
            path: format!("{}{path}", context.options.prefix),
            span: defined,
            dimension: wanted,
            value,
            u: if context.options.exact { 0.0 } else { u },
            last_digit: parsed.last_digit,
            assumed: parsed.uncertainty == StatedUncertainty::Assumed,
            unit: parsed.unit,
            how_to_get: field.map_or("", |row| row.how_to_get),
        });
    }
    Some(value)
}

/// The value in SI base units of a quantity that is no input of the computation.
pub(super) fn plain_amount(
    context: &mut Context<'_>,
    written: &Scalar,
    path: &str,
    name: &str,
    wanted: Dimension,
) -> Option<f64> {
    match understood(context, written, context.field(path), name, wanted) {
        Ok((parsed, _)) => Some(parsed.value),
        Err(problem) => {
            context.report(*problem);
            None
        }
    }
}

/// The quantity and its standard uncertainty, or the first thing that does not fit.
fn understood(
    context: &Context<'_>,
    written: &Scalar,
    field: Option<&Field>,
    name: &str,
    wanted: Dimension,
) -> Result<(ParsedQuantity, f64), Box<Diagnostic>> {
    let parsed = parse_quantity(written)?;
    if parsed.unit.dimension != wanted {
        return Err(Box::new(wrong_dimension(written, &parsed, field, name, wanted)));
    }
    let u = uncertainty(context, written, &parsed, field, name)?;
    Ok((parsed, u))
}

/// What a unit can stand behind: all of the text where it is a number and at most a width, else the number alone.
fn bare<'a>(text: &'a str, number: &'a str) -> &'a str {
    let text = text.trim();
    if text.ends_with(|last: char| last.is_ascii_digit()) { text } else { number }
}

fn wrong_dimension(
    written: &Scalar,
    parsed: &ParsedQuantity,
    field: Option<&Field>,
    name: &str,
    wanted: Dimension,
) -> Diagnostic {
    let unit = usual_unit(field, wanted);
    let kind = wanted.name();
    let number = written.text.get(parsed.number_range.clone()).unwrap_or_default();
    if parsed.unit.symbol.is_empty() {
        let message = format!("`{}` has no unit, and `{name}` is {kind}", written.text);
        return Diagnostic::error(Code::MissingUnit, written.span, message)
            .help(format!("write `{} {unit}` if that is what it is", bare(&written.text, number)));
    }
    let found = parsed.unit.dimension.name();
    let message = format!("`{name}` is {kind}, and `{}` measures {found}", parsed.unit.symbol);
    let span = written.part(parsed.unit_range.clone());
    let help = mixed_up(parsed, wanted).unwrap_or_else(|| match unit.as_str() {
        "" => "write a plain number".to_owned(),
        unit => format!("write it in {unit}"),
    });
    Diagnostic::error(Code::WrongDimension, span, message).labelled(found).help(help)
}

/// The unit a person most likely means: that of the field's typical range, else the usual one.
fn usual_unit(field: Option<&Field>, dimension: Dimension) -> String {
    let typical = field.and_then(|row| row.typical).and_then(|(low, _)| low.split_once(' '));
    typical.map_or_else(|| dimension.usual_symbol(), |(_, unit)| unit.to_owned())
}

/// The mix-ups that a person is likely to have made.
fn mixed_up(parsed: &ParsedQuantity, wanted: Dimension) -> Option<String> {
    let found = parsed.unit.dimension;
    let mass = Dimension { mass: 1, ..Dimension::default() };
    let dynamic = Dimension { mass: 1, length: -1, time: -1, ..Dimension::default() };
    if wanted == Acceleration::DIMENSION && found == mass {
        return Some("`g` is the gram; standard gravity is `gn`, as in `0.6 gn`".to_owned());
    }
    if wanted == Angle::DIMENSION && found == Dimension::default() {
        let degrees = libm::atan(parsed.value) * 180.0 / std::f64::consts::PI;
        return Some(format!("write it in deg: a rise of that share is {degrees:.1} deg"));
    }
    if wanted == DiffusionCoefficient::DIMENSION && found == dynamic {
        return Some(
            "this is the dynamic viscosity; divide it by the density and write mm^2/s".to_owned(),
        );
    }
    match (wanted.point, found.point) {
        (true, false) if found.temperature == 1 => {
            Some("K is a difference of temperature; write a temperature in degC".to_owned())
        }
        (false, true) if wanted.temperature == 1 => {
            Some("degC is a temperature; write a difference in K".to_owned())
        }
        _ => None,
    }
}

/// The standard uncertainty in SI base units.
fn uncertainty(
    context: &Context<'_>,
    written: &Scalar,
    parsed: &ParsedQuantity,
    field: Option<&Field>,
    name: &str,
) -> Result<f64, Box<Diagnostic>> {
    match &parsed.uncertainty {
        StatedUncertainty::Nothing => Ok(0.0),
        StatedUncertainty::Standard(u) => Ok(*u),
        StatedUncertainty::Assumed => {
            assumed(parsed.value, field).ok_or_else(|| Box::new(cannot_assume(written, name)))
        }
        StatedUncertainty::Instrument(instrument, range) => {
            let span = written.part(range.clone());
            by_instrument(context, instrument, span, parsed.unit.dimension).map_err(Box::new)
        }
    }
}

fn cannot_assume(written: &Scalar, name: &str) -> Diagnostic {
    let from = written.text.rfind("assumed").unwrap_or(0);
    let span = written.part(from..written.text.len());
    let message = format!("`{name}` has no typical range, so it cannot be assumed");
    Diagnostic::error(Code::CannotAssume, span, message)
        .help("measure it and state its ±, or leave it out: its rules are then inconclusive")
}

/// The standard uncertainty of a value that is only assumed: anywhere in the typical range, which is
/// widened to hold the value.
///
/// # Formula
/// u = (b₊ − b₋)/√12, b₋ and b₊ the ends of the range (SI).
///
/// # Source
/// JCGM 100:2008, 4.3.8 for a range in which the value does not stand in the middle; 4.3.7 where it
/// does.
fn assumed(value: f64, field: Option<&Field>) -> Option<f64> {
    let (low, high) = field?.typical?;
    let (low, high) = (end_of_range(low)?, end_of_range(high)?);
    let low = if value < low { value } else { low };
    let high = if value > high { value } else { high };
    Some((high - low) / 12.0_f64.sqrt())
}

fn end_of_range(text: &str) -> Option<f64> {
    let span = Span { file: FileId(0), start: 0, end: 0 };
    let scalar = Scalar { text: text.to_owned(), span, verbatim_at: None, plain: true };
    parse_quantity(&scalar).ok().map(|parsed| parsed.value)
}

/// What to do about a value that breaks a limit.
fn within(limits: Limits, value: f64, path: &str, field: Option<&Field>) -> Option<String> {
    let downward = ["depth", "below_rail", "level", "top", "bottom"];
    let last = path.rsplit('.').next().unwrap_or(path);
    match limits {
        Limits::Share if value > 1.0 => {
            Some("all of it is 1, and 3 of 100 are `0.03` or `3 %`".to_owned())
        }
        Limits::Positive | Limits::NotNegative if value < 0.0 && downward.contains(&last) => {
            Some("it counts downward from the rail, without a sign".to_owned())
        }
        _ => field.map(|row| format!("how it is got: {}", row.how_to_get.trim_end_matches('.'))),
    }
}

/// What a value breaks, in words that follow "must be". NaN breaks every limit but `Any`.
fn broken(limits: Limits, value: f64) -> Option<&'static str> {
    let degrees = std::f64::consts::PI / 180.0;
    let (kept, words) = match limits {
        Limits::Any => (true, ""),
        Limits::Positive => (value > 0.0, "more than 0"),
        Limits::NotNegative => (value >= 0.0, "0 or more"),
        Limits::Share => (value > 0.0 && value <= 1.0, "more than 0 and at most 1"),
        Limits::Draft => (value >= 0.0 && value < 60.0 * degrees, "from 0 deg to below 60 deg"),
        Limits::Slope => (value >= 0.0 && value < 90.0 * degrees, "from 0 deg to below 90 deg"),
        Limits::Tilt => (value.abs() < 90.0 * degrees, "between -90 deg and 90 deg"),
        Limits::Temperature => (value > 0.0, "above absolute zero, -273.15 degC"),
    };
    (!kept).then_some(words)
}
