//! Which of two formulas is never the smaller, and which of two conditions is never the narrower.
//!
//! Two formulas of one form are compared leaf by leaf; a factor carries the order on only where its sign is known.

use super::{Condition, Formula, FormulaKind, Function, Operator, Test, TestKind};

/// A formula or condition beside another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Order {
    /// Always equal.
    Same,
    /// Never lower; for a condition, true wherever the other is.
    Higher,
    /// Never higher; for a condition, false wherever the other is.
    Lower,
    /// None of these, or it cannot be decided.
    Unclear,
}

impl Order {
    fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::Same, one) | (one, Self::Same) => one,
            (one, other) if one == other => one,
            _ => Self::Unclear,
        }
    }

    fn turned(self) -> Self {
        match self {
            Self::Higher => Self::Lower,
            Self::Lower => Self::Higher,
            other => other,
        }
    }
}

/// Measures that cannot be negative, since the reader of documents refuses what would make them so: sizes that
/// are stated as more than nothing, and areas of openings.
pub const NEVER_NEGATIVE: [&str; 15] = [
    "baffle.area",
    "baffle.opening_area",
    "drain.boss",
    "drain.thread_diameter",
    "duty.strike_force",
    "fin.height",
    "fin.process_minimum",
    "fin.root",
    "fin.tip",
    "material.yield",
    "pickup.inlet_area",
    "pickup.inlet_diameter",
    "wall.floor_thickness",
    "wall.process_minimum",
    "wall.side_thickness",
];

/// How a formula stands beside an old one.
pub(super) fn of_formulas(old: &Formula, new: &Formula) -> Order {
    if old.to_string() == new.to_string() {
        return Order::Same;
    }
    if let (Some(old), Some(new)) = (old.plain_value(), new.plain_value()) {
        return of_numbers(old, new);
    }
    match (&old.kind, &new.kind) {
        (FormulaKind::Number(old), FormulaKind::Number(new)) => of_numbers(old.value, new.value),
        (FormulaKind::Negative(old), FormulaKind::Negative(new)) => of_formulas(old, new).turned(),
        (FormulaKind::Binary(was, a, b), FormulaKind::Binary(is, c, d)) if was == is => {
            of_binary(*is, (a, b), (c, d))
        }
        (FormulaKind::Call(was, old), FormulaKind::Call(is, new))
            if was == is && old.len() == new.len() =>
        {
            let parts = old.iter().zip(new).map(|(old, new)| of_formulas(old, new));
            let together = parts.fold(Order::Same, Order::and);
            let grows = match is {
                Function::Abs => old.iter().chain(new).all(is_never_negative),
                Function::Spread => false,
                _ => true,
            };
            if grows || together == Order::Same { together } else { Order::Unclear }
        }
        _ => Order::Unclear,
    }
}

fn of_numbers(old: f64, new: f64) -> Order {
    if new > old {
        Order::Higher
    } else if new < old {
        Order::Lower
    } else {
        Order::Same
    }
}

fn of_binary(
    operator: Operator,
    (old_left, old_right): (&Formula, &Formula),
    (new_left, new_right): (&Formula, &Formula),
) -> Order {
    let left = of_formulas(old_left, new_left);
    let right = of_formulas(old_right, new_right);
    let none_negative =
        [old_left, old_right, new_left, new_right].into_iter().all(is_never_negative);
    match operator {
        Operator::Add => left.and(right),
        Operator::Subtract => left.and(right.turned()),
        // Where nothing is negative, a product grows as a sum does and a quotient as a difference.
        Operator::Multiply | Operator::Divide if none_negative => {
            left.and(if operator == Operator::Multiply { right } else { right.turned() })
        }
        // One side is the same number on both: its sign carries the order on or turns it.
        Operator::Multiply | Operator::Divide if right == Order::Same => signed(left, new_right),
        Operator::Multiply if left == Order::Same => signed(right, new_left),
        _ => Order::Unclear,
    }
}

fn signed(order: Order, factor: &Formula) -> Order {
    match factor.plain_value() {
        Some(value) if value < 0.0 => order.turned(),
        None if !is_never_negative(factor) && order != Order::Same => Order::Unclear,
        _ => order,
    }
}

/// Whether a formula is at least 0 for every pan.
fn is_never_negative(formula: &Formula) -> bool {
    if let Some(value) = formula.plain_value() {
        return value >= 0.0;
    }
    match &formula.kind {
        FormulaKind::Number(number) => number.value >= 0.0,
        FormulaKind::Measure(spec) => NEVER_NEGATIVE.contains(&spec.name),
        FormulaKind::Negative(_) | FormulaKind::Binary(Operator::Subtract, ..) => false,
        FormulaKind::Binary(_, left, right) => is_never_negative(left) && is_never_negative(right),
        FormulaKind::Call(function, arguments) => match function {
            Function::Abs | Function::Sqrt | Function::Spread => true,
            Function::Max => arguments.iter().any(is_never_negative),
            _ => arguments.iter().all(is_never_negative),
        },
    }
}

/// Conditions with more different tests than this are not compared.
const MOST_TESTS: usize = 12;

/// How a condition stands beside an old one; without one a rule always applies. Every test is taken as true or
/// false whatever the others are, so that only what follows from the form of the conditions is claimed.
pub(super) fn of_conditions(old: Option<&Condition>, new: Option<&Condition>) -> Order {
    let mut tests: Vec<String> = Vec::new();
    for condition in old.iter().chain(&new) {
        collect(condition, &mut tests);
    }
    if tests.len() > MOST_TESTS {
        let text = |condition: Option<&Condition>| condition.map(ToString::to_string);
        return if text(old) == text(new) { Order::Same } else { Order::Unclear };
    }
    let (mut widens, mut narrows) = (false, false);
    for world in 0..(1_u32 << tests.len()) {
        let holds = |condition: Option<&Condition>| {
            condition.is_none_or(|condition| is_true(condition, &tests, world))
        };
        match (holds(old), holds(new)) {
            (false, true) => widens = true,
            (true, false) => narrows = true,
            _ => {}
        }
    }
    match (widens, narrows) {
        (false, false) => Order::Same,
        (true, false) => Order::Higher,
        (false, true) => Order::Lower,
        (true, true) => Order::Unclear,
    }
}

fn collect(condition: &Condition, tests: &mut Vec<String>) {
    for test in condition.clauses.iter().flatten() {
        if let TestKind::Group(inner) = &test.kind {
            collect(inner, tests);
        } else {
            let text = bare(test);
            if !tests.contains(&text) {
                tests.push(text);
            }
        }
    }
}

/// A test without its `not`.
fn bare(test: &Test) -> String {
    Test { negated: false, ..test.clone() }.to_string()
}

fn is_true(condition: &Condition, tests: &[String], world: u32) -> bool {
    let holds = |test: &Test| {
        let plain = match &test.kind {
            TestKind::Group(inner) => is_true(inner, tests, world),
            _ => is_set(tests, &bare(test), world),
        };
        plain != test.negated
    };
    condition.clauses.iter().any(|clause| clause.iter().all(holds))
}

fn is_set(tests: &[String], text: &str, world: u32) -> bool {
    tests.iter().position(|known| known == text).is_some_and(|place| world & (1 << place) != 0)
}
