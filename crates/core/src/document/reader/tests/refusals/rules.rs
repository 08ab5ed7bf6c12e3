//! Rules that are not formed as they should be.

use super::{check, refusals};
use crate::document::DocumentKind;
use crate::source::Code::{
    BadRule, Contradiction, MissingKey, NotAQuantity, OutOfRange, UnknownKey, UnknownWord,
    WrongDimension, WrongShape,
};

#[test]
fn a_rule_that_lacks_a_part_says_which() {
    let whole = "title: t, force: shall, measure: m, at_least: 8 mm, because: b, source: s";
    for part in ["title: t", "force: shall", "measure: m", "because: b", "source: s"] {
        let rest = whole.replace(part, "").replace(", ,", ",");
        let rest = rest.trim_matches([',', ' ']);
        let text = format!("rulebook: 1\nrules: {{ pickup.low: {{ {rest} }} }}\n");
        let found = refusals(DocumentKind::Rulebook, &text);
        let key = part.split(':').next().expect("a key");
        assert_eq!(found.len(), 1, "{part}: {found:#?}");
        assert_eq!((found[0].0, found[0].1.as_str()), (MissingKey, "pickup.low"));
        assert!(found[0].2.contains(&format!("`pickup.low` lacks `{key}`")), "{}", found[0].2);
    }
}

#[test]
fn a_rule_that_is_not_formed_as_it_should_be_is_refused() {
    check(
        DocumentKind::Rulebook,
        "rulebook: 1\nrules:\n  pickup.low:\n    title: t\n    force: shall\n    measure: m\n    because: b\n    source: s\n    ",
        &[
            ("pin: 1 %", &[(BadRule, "pickup.low", "no limit…`within`")]),
            (
                "within: [8 mm, 9 mm]\n    at_least: 8 mm",
                &[(Contradiction, "at_least", "exclude each other")],
            ),
            ("within: [8 mm]", &[(WrongShape, "[8 mm]", "two quantities")]),
            ("at_least:", &[(WrongShape, "at_least", "nothing stands")]),
            ("at_least: 8 mm\n    pins: 1 %", &[(UnknownKey, "pins", "did you mean `pin`?")]),
            ("at_least: 8 mm\n    pin: [1 %]", &[(WrongShape, "[1 %]", "a mapping from numbers")]),
            ("at_least: 8 mm\n    since: one", &[(NotAQuantity, "one", "whole number")]),
            (
                "at_least: 8 mm\n    decision: strict",
                &[(UnknownWord, "strict", "`guarded` or `simple`")],
            ),
            (
                "at_least: 8 mm\n    decision: { probability: 100 % }",
                &[(OutOfRange, "100 %", "below 100 %")],
            ),
            (
                "at_least: 8 mm\n    decision: { probability: 95 mm }",
                &[(WrongDimension, "mm", "a plain number")],
            ),
            (
                "at_least: 8 mm\n    cases: [{ fixture: f, expect: conform }]",
                &[(UnknownWord, "conform", "did you mean `conforms`?")],
            ),
            (
                "at_least: 8 mm\n    cases: [{ fixture: f }]",
                &[(MissingKey, "{ fixture: f }", "lacks `expect`")],
            ),
            (
                "at_least: 8 mm\n    cases: [{ fixture: f, exact: yes, expect: conforms }]",
                &[(UnknownWord, "yes", "`true` or `false`")],
            ),
            (
                "at_least: 8 mm\n    cases: [{ fixture: f, set: { wall.floor: }, expect: conforms }]",
                &[(WrongShape, "wall.floor", "nothing stands")],
            ),
        ],
    );
    check(
        DocumentKind::Rulebook,
        "rulebook: 1\n",
        &[
            ("decision: guarded", &[(MissingKey, "rulebook", "lacks `rules`")]),
            ("rules: { R001: { title: t } }", &[(BadRule, "R001", "cannot be the id of a rule")]),
            ("rules: { pickup.: { title: t } }", &[(BadRule, "pickup.", "cannot be the id")]),
            (
                "rules: { Pickup.Low: { title: t } }",
                &[(BadRule, "Pickup.Low", "small letters with hyphens")],
            ),
            ("rules: { pickup.low: none }", &[(WrongShape, "none", "a mapping")]),
        ],
    );
}
