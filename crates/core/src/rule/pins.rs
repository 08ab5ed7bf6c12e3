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
            let first_nothing = numbers.iter().find(|(number, _)| is_nothing(number));
            one(scalar, wanted, first_nothing.map(|(number, _)| *number), problems);
        }
        Value::Mapping(entries) => {
            if let Some((number, at)) = numbers
                .iter()
                .find(|(number, _)| !entries.iter().any(|entry| entry.key.text == number.written))
            {
                let message = format!("`pin` leaves out the number `{}`", number.written);
                problems.push(
                    Diagnostic::error(Code::BadRule, pin.span, message)
                        .also(*at, "this number")
                        .help("a mapping pins every number of the rule, each as it is written"),
                );
            }
            for entry in entries {
                named(&entry.key.text, entry.key.span, &entry.value, &numbers, problems);
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
    let Some((number, _)) = numbers.iter().find(|(number, _)| number.written == key) else {
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

/// A share such as `1 %`, or a quantity of the dimension that is pinned; more than nothing.
/// `nothing` is a number among those pinned that is 0, of which no share can be taken.
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
        Some("a pin is more than 0".to_owned())
    } else if quantity.uncertainty != StatedUncertainty::Nothing {
        Some("a pin states no uncertainty".to_owned())
    } else {
        let share = quantity.unit.symbol == "%";
        let of_nothing = nothing.filter(|_| share).map(|number| {
            format!("a share of `{}` is nothing, so it pins nothing", number.written)
        });
        let of_another = wanted
            .map(Dimension::difference)
            .filter(|wanted| !share && *wanted != quantity.unit.dimension)
            .map(|wanted| {
                format!(
                    "a pin of this number is {} or a share such as `1 %`, and this is {}",
                    wanted.name(),
                    quantity.unit.dimension.name()
                )
            });
        of_nothing.or(of_another)
    };
    if let Some(message) = refused {
        problems.push(Diagnostic::error(Code::BadRule, scalar.span, message));
    }
}

fn is_nothing(number: &Number) -> bool {
    number.value.abs() <= 0.0
}

fn shape(node: &Node) -> Diagnostic {
    Diagnostic::error(Code::BadRule, node.span, format!("a pin is not {}", node.shape()))
        .help("write a quantity, a share such as `1 %`, or a mapping from each number to its pin")
}
