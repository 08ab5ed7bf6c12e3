//! The grammar of a quantity as patterns, one a dimension, made from the table of units.
//!
//! A unit alone, or a power of one, must be of the dimension wanted. Products and quotients are looked at for
//! their symbols only: what they come to is computed by the program, not by a pattern. The patterns hold nothing
//! that readers of patterns disagree about: no looking ahead, no classes by name.

use serde_json::{Value, json};
use std::collections::BTreeSet;
use sumpwright_core::document::field::{Field, Limits};
use sumpwright_core::quantity::{Dimension, Unit, unit_symbols};

/// A number without its sign.
const UNSIGNED: &str = r"(?:[0-9]+(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?|(?:[0-9]+ )?[0-9]+/[0-9]+)";
/// The same, other than 0.
const NOT_ZERO: &str = r"(?:(?:[0-9]*[1-9][0-9]*(?:\.[0-9]+)?|0+\.[0-9]*[1-9][0-9]*)(?:[eE][+-]?[0-9]+)?|[0-9]*[1-9][0-9]* [0-9]+/[0-9]+|(?:[0-9]+ )?[0-9]*[1-9][0-9]*/[0-9]+)";
const PLUS_MINUS: &str = r" *(?:±|\+/-) *";
const HIGHEST_POWER: i8 = 9;
/// Where the definition stands that every quantity keeps to.
const COMMON: &str = "#/$defs/quantity";

/// The name under which the definition of a field's quantities stands.
pub(super) fn name(field: &Field, dimension: Dimension) -> String {
    let mut name = words(dimension).replace(' ', "_");
    if let Some(limits) = sign(field.limits) {
        name.push('_');
        name.push_str(limits);
    }
    if field.typical.is_some() {
        name.push_str("_or_assumed");
    }
    name
}

/// A dimension in words without an article.
pub(super) fn words(dimension: Dimension) -> String {
    let name = dimension.name();
    let bare = name.strip_prefix("a ").or_else(|| name.strip_prefix("an ")).unwrap_or(&name);
    bare.to_owned()
}

/// What the name of a definition says of the values.
fn sign(limits: Limits) -> Option<&'static str> {
    match limits {
        Limits::Positive => Some("positive"),
        Limits::NotNegative | Limits::Draft | Limits::Slope => Some("not_negative"),
        Limits::Share => Some("share"),
        _ => None,
    }
}

/// What every quantity keeps to: the form, and units out of symbols that are known.
pub(super) fn common() -> Value {
    let unit = format!(r"(?:1/)?{0}(?:[·*/]{0})*", format_args!(r"\(?{}\)?", power(&known())));
    let signed = format!("[+-]?{UNSIGNED}");
    json!({
        "pattern": or_none(&pattern(&signed, &format!("(?: *{unit})?"), &unit, true)),
        "patternErrorMessage":
            "write a number and its unit, as in `62.4 mm`, and at most one statement of uncertainty: \
             `62.4 ± 0.3 mm`, `62.4 mm (u 0.2 mm)`, `62.4 mm (U 0.4 mm at k 2)`, `62.4 mm by depth_gauge`; units \
             are written as in `L/min`, `N·m`, `kJ/(kg·K)`",
    })
}

/// Quantities of a field.
pub(super) fn definition(field: &Field, dimension: Dimension) -> Value {
    let usual = Unit::of(dimension).symbol;
    let unit = unit_of(dimension);
    let after = if dimension.is_number() { format!("(?: *{unit})?") } else { format!(" *{unit}") };
    let assumable = field.typical.is_some();
    let pattern = pattern(&number(field.limits), &after, &width_of(dimension), assumable);
    let blank = if usual.is_empty() { "" } else { " " };
    let (one, other) = match field.typical {
        Some((low, high)) => (low.to_owned(), high.to_owned()),
        None => (format!("1{blank}{usual}"), format!("2{blank}{usual}")),
    };
    let mut message = format!("{} was expected, as in `{one}` or `{other}`", dimension.name());
    if let Some(limits) = said(field.limits) {
        message.push_str(", ");
        message.push_str(limits);
    }
    if !assumable {
        message.push_str("; it cannot be assumed");
    }
    json!({
        "description": dimension.name(),
        "type": if dimension.is_number() { json!(["string", "number"]) } else { json!("string") },
        "allOf": [{ "$ref": COMMON }],
        "pattern": or_none(&pattern),
        "patternErrorMessage": message.as_str(),
        "errorMessage": message.as_str(),
    })
}

/// A quantity of any dimension, and certain: the half-width of an instrument, or what a rule measures, which has a sign
/// and may be a bare number.
pub(super) fn of_any_dimension(field: &Field) -> Value {
    let unit = format!(r"(?:1/)?{0}(?:[·*/]{0})*", format_args!(r"\(?{}\)?", power(&known())));
    if field.limits == Limits::Any {
        return json!({
            "type": ["string", "number"],
            "pattern": format!(r"^ *[+-]?{UNSIGNED} *(?:{unit})? *$"),
            "patternErrorMessage": "write the value with its unit alone, as in `-8.5 mm`",
        });
    }
    json!({
        "type": "string",
        "pattern": format!(r"^ *\+?{UNSIGNED} *{unit} *$"),
        "patternErrorMessage": "write the half-width with its unit alone, as in `0.1 mm`",
    })
}

/// Temperatures that rows of a table stand under.
pub(super) fn table_key(dimension: Dimension) -> Value {
    let signed = format!("[+-]?{UNSIGNED}");
    let after = format!(" *{}", unit_of(dimension));
    json!({
        "pattern": pattern(&signed, &after, &width_of(dimension), true),
        "patternErrorMessage": "the rows of a table stand under temperatures, as in `40 degC`",
    })
}

/// The whole of a quantity: value, unit, and at most one statement of uncertainty.
fn pattern(number: &str, unit: &str, width: &str, assumable: bool) -> String {
    let assumed = if assumable { "| *assumed" } else { "" };
    let statement = format!(
        r"{PLUS_MINUS}\+?{UNSIGNED}(?: *{width})?| *\( *(?:u[^A-Za-z].*|U[^A-Za-z].* at *k *[0-9].*)\)| *by .+{assumed}"
    );
    let shared = format!(r"{PLUS_MINUS}\+?{UNSIGNED} *{width}");
    format!("^ *{number}(?:{unit}(?:{statement})?|{shared}) *$")
}

fn or_none(pattern: &str) -> String {
    format!("{pattern}|^none$")
}

fn number(limits: Limits) -> String {
    match limits {
        Limits::Positive | Limits::Share => format!(r"\+?{NOT_ZERO}"),
        // A zero may carry either sign.
        Limits::NotNegative | Limits::Draft | Limits::Slope => {
            format!(r"(?:\+?{UNSIGNED}|-0+(?:\.0+)?(?:[eE][+-]?[0-9]+)?)")
        }
        _ => format!("[+-]?{UNSIGNED}"),
    }
}

fn said(limits: Limits) -> Option<&'static str> {
    match limits {
        Limits::Positive => Some("more than 0"),
        Limits::NotNegative => Some("0 or more"),
        Limits::Share => Some("more than 0 and at most 1"),
        Limits::Draft => Some("from 0 deg to below 60 deg"),
        Limits::Slope => Some("from 0 deg to below 90 deg"),
        _ => None,
    }
}

/// Units of a dimension: powers of one symbol, and whatever is put together.
fn unit_of(dimension: Dimension) -> String {
    let mut ways = Vec::new();
    for exponent in (1..=HIGHEST_POWER).chain((1..=HIGHEST_POWER).map(|n| -n)) {
        let symbols: Vec<&str> = unit_symbols()
            .filter(|(_, of)| raised(*of, exponent) == Some(dimension))
            .map(|(symbol, _)| symbol)
            .collect();
        if !symbols.is_empty() {
            let sign = match exponent {
                1 => r"(?:\^1)?".to_owned(),
                2 => r"(?:\^2|²)".to_owned(),
                3 => r"(?:\^3|³)".to_owned(),
                n => format!(r"\^{n}"),
            };
            ways.push(format!("(?:{}){sign}", symbols.join("|")));
        }
    }
    if !dimension.point {
        ways.push(compound());
    }
    format!("(?:{})", ways.join("|"))
}

/// Units of a width: those of a difference, or the unit of the value for one that both share.
fn width_of(dimension: Dimension) -> String {
    if !dimension.point {
        return unit_of(dimension);
    }
    format!("(?:{}|{})", unit_of(dimension.difference()), unit_of(dimension))
}

/// A temperature scale stands alone.
fn raised(dimension: Dimension, exponent: i8) -> Option<Dimension> {
    if exponent == 1 { Some(dimension) } else { dimension.power(exponent) }
}

/// Any product or quotient.
fn compound() -> String {
    let one = power(&format!("[{}]+", signs()));
    let below = format!(r"/(?:{one}|\({one}(?:[·*]{one})*\))");
    format!("1{below}|{one}(?:[·*]{one})+(?:{below})?|{one}{below}")
}

fn power(symbol: &str) -> String {
    format!(r"{symbol}(?:\^-?[1-9]|[²³])?")
}

/// Every symbol of the table.
fn known() -> String {
    let symbols: Vec<&str> = unit_symbols().map(|(symbol, _)| symbol).collect();
    format!("(?:{})", symbols.join("|"))
}

/// The signs that symbols are made of.
fn signs() -> String {
    let others: BTreeSet<char> = unit_symbols()
        .flat_map(|(symbol, _)| symbol.chars())
        .filter(|c| !c.is_ascii_alphabetic())
        .collect();
    format!("A-Za-z{}", others.into_iter().collect::<String>())
}
