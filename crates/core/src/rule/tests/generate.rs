//! Formulas and conditions of the grammar, as text with more brackets than they need.

use super::*;
use crate::rule::{FormulaKind, Test, TestKind};
use proptest::prelude::*;

/// A formula for a length, read for the pan or for each drain.
pub(super) fn lengths() -> impl Strategy<Value = String> {
    let leaf = prop::sample::select(vec![
        "8 mm",
        "1/2in",
        "-3 mm",
        "+0.5 cm",
        "0 m",
        "pickup.gap",
        "wall.side",
        "drain.width",
        "-pickup.gap",
        "least(drain.width)",
        "most(drain.width - wall.side)",
        "sum(drain.width)",
        "baseline(pickup.gap)",
        "spread(pickup.gap)",
        "baseline(drain.width)",
        "sqrt(inlet.area)",
        "least(fin.root)",
    ]);
    leaf.prop_map(str::to_owned).prop_recursive(5, 24, 3, |inner| {
        let one = inner.clone();
        let two = (inner.clone(), inner.clone());
        let three = (inner.clone(), inner.clone(), inner);
        prop_oneof![
            one.clone().prop_map(|a| format!("-({a})")),
            one.clone().prop_map(|a| format!("({a})")),
            one.clone().prop_map(|a| format!("abs({a})")),
            one.clone().prop_map(|a| format!("2.5 * ({a})")),
            one.clone().prop_map(|a| format!("({a}) / 3")),
            one.prop_map(|a| format!("oil.share * ({a}) - {a}")),
            two.clone().prop_map(|(a, b)| format!("{a} + {b}")),
            two.clone().prop_map(|(a, b)| format!("{a} - ({b})")),
            two.clone().prop_map(|(a, b)| format!("min({a}, {b})")),
            two.prop_map(|(a, b)| format!("sqrt(({a}) * ({b}))")),
            three.clone().prop_map(|(a, b, c)| format!("max({a}, {b}, {c})")),
            three.prop_map(|(a, b, c)| format!("({a}) / (({b}) / ({c}))")),
        ]
    })
}

/// A condition, read for the pan or for each drain.
pub(super) fn conditions() -> impl Strategy<Value = String> {
    let path = prop::sample::select(vec![
        "pickup is given",
        "drain.boss is given",
        "drain.axis is rear",
        "material.process is sand casting",
        "vehicle.skid is given",
        "oil.share at least 5 %",
        "oil.warmth at most 40 degC",
    ]);
    let comparison = (lengths(), lengths(), prop::sample::select(vec!["least", "most"]))
        .prop_map(|(a, b, end)| format!("{a} at {end} {b}"));
    let leaf = prop_oneof![path.prop_map(str::to_owned), comparison];
    leaf.prop_recursive(4, 12, 3, |inner| {
        let two = (inner.clone(), inner.clone());
        prop_oneof![
            inner.prop_map(|a| format!("not ({a})")),
            two.clone().prop_map(|(a, b)| format!("{a} and {b}")),
            two.clone().prop_map(|(a, b)| format!("{a} or {b}")),
            two.prop_map(|(a, b)| format!("({a}) and ({b})")),
        ]
    })
}

/// The tree of a formula, every bracket written.
pub(super) fn tree(formula: &Formula) -> String {
    match &formula.kind {
        FormulaKind::Number(number) => format!("[{} {:e}]", number.written, number.value),
        FormulaKind::Measure(spec) => spec.name.to_owned(),
        FormulaKind::Negative(inner) => format!("(- {})", tree(inner)),
        FormulaKind::Binary(operator, left, right) => {
            format!("({} {} {})", operator.sign(), tree(left), tree(right))
        }
        FormulaKind::Call(function, arguments) => {
            let arguments: Vec<String> = arguments.iter().map(tree).collect();
            format!("({} {})", function.word(), arguments.join(" "))
        }
    }
}

/// The tree of a condition.
pub(super) fn condition_tree(condition: &Condition) -> String {
    let clause = |tests: &Vec<Test>| {
        let tests: Vec<String> = tests.iter().map(test_tree).collect();
        format!("(and {})", tests.join(" "))
    };
    let clauses: Vec<String> = condition.clauses.iter().map(clause).collect();
    format!("(or {})", clauses.join(" "))
}

fn test_tree(test: &Test) -> String {
    let inner = match &test.kind {
        TestKind::Given(path) => format!("given {}", path.written),
        TestKind::Is(path, word) => format!("{} is {word}", path.written),
        TestKind::AtLeast(a, b) => format!("{} >= {}", tree(a), tree(b)),
        TestKind::AtMost(a, b) => format!("{} <= {}", tree(a), tree(b)),
        TestKind::Group(inner) => condition_tree(inner),
    };
    if test.negated { format!("(not {inner})") } else { inner }
}
