//! What the rulebooks of the fixtures say.

use super::*;
use crate::document::rulebook::{Decision, Expected, Force};

#[test]
fn a_rulebook_keeps_its_formulas_as_text_with_a_place() {
    let reading = rulebook_of(valid("rulebook", "three-rules"));
    let book = reading.good();
    assert_eq!(book.decision.map(|w| w.value), Some(Decision::Guarded));
    assert_eq!(book.rules.len(), 3);
    let rule = &book.rules[0];
    assert_eq!(rule.id.text, "pickup.too-close-to-floor");
    assert_eq!(reading.sources.slice(rule.id.span), "pickup.too-close-to-floor");
    assert_eq!(rule.force.value, Force::Shall);
    assert_eq!(rule.at_least.as_ref().map(|s| s.text.as_str()), Some("8 mm"));
    assert!(rule.at_most.is_none());
    assert_eq!(rule.since.map(|w| w.value), Some(1));
    assert!(reading.findings.inputs.is_empty(), "a rulebook states no inputs");
    let limit = book.rules[1].at_least.as_ref().expect("stated");
    assert_eq!(limit.text, "-max(3 mm, spread(pickup.floor_gap))");
    assert_eq!(book.rules[2].decision.map(|w| w.value), Some(Decision::Probability(0.95)));
}

#[test]
fn cases_say_what_they_change_and_what_must_come_out() {
    let reading = rulebook_of(valid("rulebook", "three-rules"));
    let cases = &reading.good().rules[0].cases;
    assert_eq!(cases.len(), 5);
    assert!(cases[0].exact);
    assert_eq!(cases[0].set[0].0.text, "pickup.inlet.at.depth");
    assert_eq!(cases[0].set[0].1.scalar().map(|s| s.text.as_str()), Some("69.95 mm"));
    assert_eq!(cases[1].expect.value, Expected::DoesNotConform);
    assert!(!cases[3].exact);
    assert_eq!(cases[3].dropped[0].text, "pickup");
    assert!(cases[4].set[0].1.is_none_word());
    assert_eq!(cases[4].expect.value, Expected::NotApplicable);
}

#[test]
fn within_is_both_limits() {
    let reading = rulebook_of(valid("rulebook", "band"));
    let rule = &reading.good().rules[0];
    assert_eq!(rule.at_least.as_ref().map(|s| s.text.as_str()), Some("8 mm"));
    assert_eq!(rule.at_most.as_ref().map(|s| s.text.as_str()), Some("20 mm"));
    assert_eq!(rule.cases[0].dropped.len(), 2);
    assert!(rule.caution.is_some());
}
