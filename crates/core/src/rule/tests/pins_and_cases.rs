//! The form of pins and cases.

use super::resolving::one;

fn pinned(rule: &str, pin: &str) -> String {
    format!("{rule}\npin: {pin}")
}

const GAP: &str = "measure: pickup.gap\nat_least: 8 mm";
const NONE: &str = "measure: pickup.gap\nat_least: 0 mm";
const SHARE: &str = "measure: drain.rest / oil.litres\nat_most: 5 %\nwhen: pickup.gap at least 3mm";
const WARM: &str = "measure: oil.warmth\nat_most: 120 degC";
const BAND: &str = "measure: 2 * pickup.gap\nat_least: -max(3 mm, wall.side)\nat_most: 1 1/2 in";

#[test]
fn a_pin_is_a_quantity_a_share_or_one_of_these_for_each_number() {
    for (rule, pin) in [
        (GAP, "0.1 mm"),
        (GAP, "0.1mm"),
        (GAP, "1/64 in"),
        (GAP, "1 %"),
        (GAP, "{ 8 mm: 0.1 mm }"),
        (GAP, "{ 8mm: 1 % }"),
        (SHARE, "0.01"),
        (SHARE, "1 %"),
        (SHARE, "{ 5 %: 0.5 %, 3 mm: 0.2 mm }"),
        (SHARE, "{ 5%: 0.005, 3mm: 2 % }"),
        (NONE, "0.1 mm"),
        (WARM, "2 K"),
        (WARM, "{ 120 degC: 2 K }"),
        (BAND, "{ 3 mm: 0.1 mm, 1 1/2 in: 1/64 in, 2: 0.1 }"),
    ] {
        one(&pinned(rule, pin)).good();
    }
}

#[test]
fn a_pin_that_does_not_fit_is_told_at_its_place() {
    for (rule, pin, code, at, said) in [
        (GAP, "0.1 deg", "bad-rule", "0.1 deg", "a length or a share"),
        (GAP, "0.1", "bad-rule", "0.1", "`0.1 mm`"),
        (GAP, "0 mm", "bad-rule", "0 mm", "more than 0"),
        (GAP, "0 %", "bad-rule", "0 %", "more than 0"),
        (GAP, "-0.1 mm", "bad-rule", "-0.1 mm", "more than 0"),
        (GAP, "0.1 ± 0.05 mm", "bad-rule", "0.1 ± 0.05 mm", "no uncertainty"),
        (GAP, "0.1 mm assumed", "bad-rule", "0.1 mm assumed", "no uncertainty"),
        (GAP, "tight", "not-a-quantity", "tight", ""),
        (GAP, "{ 8 mm: 0.1 L }", "bad-rule", "0.1 L", "a volume"),
        (GAP, "{ 8 cm: 0.1 mm }", "bad-rule", "8 cm", "did you mean `8 mm`"),
        (GAP, "{ at_least: 0.1 mm }", "bad-rule", "at_least", "as the rule writes it"),
        (GAP, "{ 8 mm: [0.1 mm] }", "bad-rule", "[0.1 mm]", "not a list"),
        (SHARE, "0.1 L", "bad-rule", "0.1 L", "a plain number or a share"),
        (SHARE, "{ 3 mm: 0.01 }", "bad-rule", "0.01", "a length"),
        (SHARE, "{ 5%: 1 % }", "bad-rule", "{ 5%: 1 % }", "leaves out the number `3 mm`"),
        (NONE, "1 %", "bad-rule", "1 %", "a share of `0 mm` is nothing"),
        (NONE, "{ 0 mm: 1 % }", "bad-rule", "1 %", "a share of `0 mm` is nothing"),
        (WARM, "2 degC", "bad-rule", "2 degC", "a temperature difference"),
        (BAND, "{ -3 mm: 0.1 mm }", "bad-rule", "-3 mm", "did you mean `3 mm`"),
    ] {
        let found = one(&pinned(rule, pin));
        let (found_code, place, words) = found.only();
        assert_eq!((found_code, place), (code, at), "{pin}: {words}");
        assert!(words.contains(said), "{pin}: {words}");
    }
}

fn with_case(force: &str, case: &str) -> String {
    format!("force: {force}\n{GAP}\ncases:\n  - {case}")
}

#[test]
fn good_cases_are_kept() {
    for (force, case) in [
        ("shall", "{ fixture: f, set: { pickup.inlet.at.depth: 66 mm }, expect: conforms }"),
        ("shall", "{ fixture: f, set: { a.b: 1 mm }, drop: c, expect: does not conform }"),
        ("shall", "{ fixture: f, drop: [a, b.c], expect: inconclusive }"),
        ("shall", "{ fixture: f, set: { oil.viscosity.40 degC: 30 mm^2/s }, expect: conforms }"),
        ("shall", "{ fixture: f, set: { drains.größe-2.boss: 26 mm }, expect: conforms }"),
        ("should", "{ fixture: f, expect: advisory }"),
        ("should", "{ fixture: f, expect: not applicable }"),
    ] {
        let book = one(&with_case(force, case)).good();
        assert_eq!(book.rules[0].doc.cases.len(), 1, "{case}");
    }
}

#[test]
fn a_case_that_is_not_formed_is_told_at_its_place() {
    for (force, case, at, said) in [
        (
            "shall",
            "{ fixture: f, set: { a..b: 1 mm }, expect: conforms }",
            "a..b",
            "no dotted path",
        ),
        ("shall", "{ fixture: f, set: { .a: 1 mm }, expect: conforms }", ".a", "no dotted path"),
        ("shall", "{ fixture: f, set: { a/b: 1 mm }, expect: conforms }", "a/b", "no dotted path"),
        ("shall", "{ fixture: f, drop: pickup inlet, expect: conforms }", "pickup inlet", "keys"),
        ("shall", "{ fixture: f, set: { a.b: 1 mm }, drop: a.b, expect: conforms }", "a.b", "both"),
        ("shall", "{ fixture: f, expect: advisory }", "advisory", "expect `does not conform`"),
        (
            "should",
            "{ fixture: f, expect: does not conform }",
            "does not conform",
            "expect `advisory`",
        ),
    ] {
        let found = one(&with_case(force, case));
        let (code, place, words) = found.only();
        assert_eq!((code, place), ("bad-case", at), "{case}: {words}");
        assert!(words.contains(said), "{case}: {words}");
    }
}

#[test]
fn a_verdict_that_the_force_cannot_give_is_shown_with_the_force() {
    let found = one(&with_case("should", "{ fixture: f, expect: does not conform }"));
    assert_eq!(found.also(), "should");
}
