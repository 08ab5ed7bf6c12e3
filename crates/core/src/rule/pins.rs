//! The form of `pin`: how tightly the cases must hold each number of a rule.

use super::{Condition, Formula, Number};
use crate::document::rulebook::RuleDoc;
use crate::quantity::{Dimension, StatedUncertainty, parse_quantity};
use crate::source::{Code, Diagnostic, Node, Scalar, Span, Value, nearest};

/// Checks that a pin is a quantity of the limit's dimension, a share, or a mapping from each number as
/// written to one of these.
pub(super) fn check(
    doc: &RuleDoc,
    limits: &[&Formula],
    measure: Option<&Formula>,
    when: Option<&Condition>,
    problems: &mut Vec<Diagnostic>,
) {
    let Some(pin) = &doc.pin else { return };
    let mut numbers: Vec<(&Number, Span)> = limits.iter().flat_map(|f| f.numbers()).collect();
    numbers.extend(measure.into_iter().flat_map(Formula::numbers));
    numbers.extend(when.into_iter().flat_map(Condition::numbers));
    match &pin.value {
        Value::Scalar(scalar) => {
            let wanted = limits.first().map(|limit| limit.dimension);
            let nothing = numbers.iter().map(|(number, _)| *number).find(|n| is_nothing(n));
            one(scalar, wanted, nothing, problems);
        }
        Value::Mapping(entries) => {
            let before = problems.len();
            for entry in entries {
                named(&entry.key.text, entry.key.span, &entry.value, &numbers, problems);
            }
            let pinned = |number: &Number| {
                entries.iter().any(|entry| close(&entry.key.text) == close(&number.written))
            };
            let left_out = numbers.iter().find(|(number, _)| !pinned(number));
            // A key that names no number is the same slip seen from its other side.
            if let (Some((number, at)), true) = (left_out, problems.len() == before) {
                let message = format!("`pin` leaves out the number `{}`", number.written);
                problems.push(
                    Diagnostic::error(Code::BadRule, pin.span, message)
                        .also(*at, "this number")
                        .help("a mapping pins each number of the rule, as it is written"),
                );
            }
        }
        _ => problems.push(shape(pin)),
    }
}

fn named(
    key: &str,
    span: Span,
    value: &Node,
    numbers: &[(&Number, Span)],
    problems: &mut Vec<Diagnostic>,
) {
    // Where two numbers differ only in blanks, the letter decides.
    let exact = numbers.iter().find(|(number, _)| number.written == key);
    let found = exact.or_else(|| numbers.iter().find(|(n, _)| close(&n.written) == close(key)));
    let Some((number, _)) = found else {
        let problem = Diagnostic::error(
            Code::BadRule,
            span,
            format!("no number of this rule is written `{key}`"),
        );
        problems.push(match nearest(key, numbers.iter().map(|(n, _)| n.written.as_str())) {
            Some(meant) => problem.help(format!("did you mean `{meant}`?")),
            None => problem.help("a pin names each number as the rule writes it"),
        });
        return;
    };
    match value.scalar() {
        Some(scalar) => {
            let nothing = is_nothing(number).then_some(*number);
            one(scalar, Some(number.unit.dimension), nothing, problems);
        }
        None => problems.push(shape(value)),
    }
}

/// Without blanks: `8mm` and `8 mm` are one number.
fn close(text: &str) -> String {
    text.split_whitespace().collect()
}

fn is_nothing(number: &Number) -> bool {
    number.value.abs() <= 0.0
}

/// A share such as `1 %`, or a quantity of the dimension that is pinned; more than nothing. `nothing` is a
/// number among those pinned that is 0.
fn one(
    scalar: &Scalar,
    wanted: Option<Dimension>,
    nothing: Option<&Number>,
    problems: &mut Vec<Diagnostic>,
) {
    let quantity = match parse_quantity(scalar) {
        Ok(quantity) => quantity,
        Err(problem) => {
            problems.push(*problem);
            return;
        }
    };
    let refused = if quantity.value <= 0.0 {
        let help = "state how far the number may move before a case notices";
        Some(("a pin is more than 0".to_owned(), help.to_owned()))
    } else if quantity.uncertainty != StatedUncertainty::Nothing {
        let help = "write the quantity alone";
        Some(("a pin states no uncertainty".to_owned(), help.to_owned()))
    } else if let (Some(number), "%") = (nothing, quantity.unit.symbol.as_str()) {
        let message = format!("a share of `{}` is nothing, so it holds nothing", number.written);
        Some((message, "pin it by a quantity".to_owned()))
    } else {
        let share = quantity.unit.symbol == "%";
        wanted
            .map(Dimension::difference)
            .filter(|wanted| !share && *wanted != quantity.unit.dimension)
            .map(|wanted| {
                let message = format!(
                    "a pin of this number is {} or a share such as `1 %`, and this is {}",
                    wanted.name(),
                    quantity.unit.dimension.name()
                );
                let unit = wanted.usual_symbol();
                let as_in = if unit.is_empty() { "0.1".to_owned() } else { format!("0.1 {unit}") };
                (message, format!("write it as in `{as_in}`"))
            })
    };
    if let Some((message, help)) = refused {
        problems.push(Diagnostic::error(Code::BadRule, scalar.span, message).help(help));
    }
}

fn shape(node: &Node) -> Diagnostic {
    Diagnostic::error(Code::BadRule, node.span, format!("a pin is not {}", node.shape()))
        .help("write a quantity, a share such as `1 %`, or a mapping from each number to its pin")
}
