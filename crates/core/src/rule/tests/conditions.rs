//! Good conditions: canonical text, paths, kinds and numbers.

use super::*;
use crate::document::field::FIELDS as ALL_FIELDS;
use crate::measure::MEASURES;

const GOOD: &[(&str, &str)] = &[
    ("pickup is given", "pickup is given"),
    ("  not   pickup   is   given ", "not pickup is given"),
    ("pickup.inlet.at.depth is given", "pickup.inlet.at.depth is given"),
    ("pickup.inlet.at is given", "pickup.inlet.at is given"),
    ("baseline is given", "baseline is given"),
    ("baseline.pickup is given", "baseline.pickup is given"),
    ("vehicle.skid is given", "vehicle.skid is given"),
    ("duty.strike is given", "duty.strike is given"),
    ("drains is given", "drains is given"),
    ("drains.plug is given", "drains.plug is given"),
    ("drain.boss is given", "drain.boss is given"),
    ("drain.axis is rear", "drain.axis is rear"),
    ("pickup.inlet.facing is down", "pickup.inlet.facing is down"),
    ("material.process is stamping", "material.process is stamping"),
    ("not material.process is stamping twice", "not material.process is stamping twice"),
    ("material.process is die  casting", "material.process is die casting"),
    ("material.alloy is A356-T6", "material.alloy is A356-T6"),
    ("pickup.gap at least 8mm", "pickup.gap at least 8 mm"),
    ("pickup.gap at most -3 mm", "pickup.gap at most -3 mm"),
    ("not -3 mm at most pickup.gap", "not -3 mm at most pickup.gap"),
    ("not pickup.gap at least 8 mm", "not pickup.gap at least 8 mm"),
    ("(pickup.gap) at least (8 mm)", "pickup.gap at least 8 mm"),
    ("2 * (pickup.gap + 1 mm) at least 8 mm", "2 * (pickup.gap + 1 mm) at least 8 mm"),
    ("(pickup is given)", "(pickup is given)"),
    ("not (pickup is given)", "not (pickup is given)"),
    ("not(pickup is given)", "not (pickup is given)"),
    ("not (not pickup is given)", "not (not pickup is given)"),
    ("((pickup is given))", "((pickup is given))"),
    (
        "pickup is given and drains is given or oil is given",
        "pickup is given and drains is given or oil is given",
    ),
    (
        "pickup is given and (drains is given or oil.share at least 5 %)",
        "pickup is given and (drains is given or oil.share at least 5 %)",
    ),
    (
        "material.process is sand casting and oil is given",
        "material.process is sand casting and oil is given",
    ),
];

#[test]
fn good_conditions_are_read() {
    for (text, canonical) in GOOD {
        let condition = condition(text);
        assert_eq!(condition.to_string(), *canonical, "{text}");
        assert_eq!(slice(text, condition.span), Some(text.trim()), "{text}");
    }
}

#[test]
fn and_binds_more_tightly_than_or() {
    let read = condition("pickup is given or drains is given and oil is given");
    let counts: Vec<usize> = read.clauses.iter().map(Vec::len).collect();
    assert_eq!(counts, [1, 2]);
}

#[test]
fn not_takes_one_test() {
    let read = condition("not pickup is given and drains is given");
    let negated: Vec<bool> = read.clauses[0].iter().map(|test| test.negated).collect();
    assert_eq!(negated, [true, false]);
}

#[test]
fn every_test_knows_where_it_stands() {
    let text = "not pickup is given and (pickup.gap at least 8 mm or oil is given)";
    let read = condition(text);
    let places: Vec<_> = read.clauses[0].iter().map(|test| slice(text, test.span)).collect();
    assert_eq!(
        places,
        [Some("not pickup is given"), Some("(pickup.gap at least 8 mm or oil is given)")]
    );
    let numbers: Vec<_> = read.numbers().iter().map(|(_, span)| slice(text, *span)).collect();
    assert_eq!(numbers, [Some("8 mm")]);
    let paths: Vec<_> = read.paths().iter().map(|path| slice(text, path.span)).collect();
    assert_eq!(paths, [Some("pickup"), Some("oil")]);
}

#[test]
fn a_path_into_the_object_at_hand_takes_its_name() {
    let read = condition("drain.boss is given and drains.plug.boss is given");
    let paths: Vec<String> = read.paths().iter().map(|path| path.for_object("rear")).collect();
    assert_eq!(paths, ["drains.rear.boss", "drains.plug.boss"]);
    let kinds: Vec<_> = read.paths().iter().map(|path| path.each.map(|e| e.kind)).collect();
    assert_eq!(kinds, [Some(ObjectKind::Drain), None]);
}

#[test]
fn the_word_floor_can_stand_where_else_a_baffle_states_a_depth() {
    let names = Names { measures: MEASURES, fields: ALL_FIELDS };
    let read = |text| parse_condition(&scalar(text), &names).map(|read| read.to_string());
    for text in ["baffle.bottom is floor", "not baffles.front.bottom is floor"] {
        assert_eq!(read(text).expect(text), text);
    }
    assert!(read("baffle.bottom is deep").is_err());
    assert!(read("baffle.top is floor").is_err());
}
