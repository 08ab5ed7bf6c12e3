//! Three truths.

use super::condition;
use super::world::{World, unknown};
use crate::measure::ObjectKind;
use crate::rule::{Truth, judge_condition};
use proptest::prelude::*;

/// The atoms of the tests and the truths they take.
const PATHS: [&str; 3] = ["pickup", "drains", "wall"];

fn truth(value: u8, path: &str) -> Truth {
    match value {
        0 => Truth::False,
        1 => unknown(path),
        _ => Truth::True,
    }
}

/// 0 false, 1 unknown, 2 true.
fn value(truth: &Truth) -> u8 {
    match truth {
        Truth::False => 0,
        Truth::Unknown(_) => 1,
        Truth::True => 2,
    }
}

fn world(values: [u8; 3]) -> World {
    let atoms = PATHS.iter().zip(values);
    atoms.fold(World::default(), |world, (path, v)| world.given(path, truth(v, path)))
}

fn judged(text: &str, world: &World) -> Truth {
    judge_condition(&condition(text), world, None)
}

// Kleene's strong logic, here as smaller, larger and 2 − value (S. C. Kleene, Introduction to
// Metamathematics, 1952, § 64; from memory).
#[test]
fn and_or_not_follow_the_tables_of_three_truths() {
    for a in 0..3 {
        for b in 0..3 {
            let world = world([a, b, 0]);
            let both = judged("pickup is given and drains is given", &world);
            assert_eq!(value(&both), a.min(b), "{a} and {b}");
            let either = judged("pickup is given or drains is given", &world);
            assert_eq!(value(&either), a.max(b), "{a} or {b}");
            let neither = judged("not (pickup is given or drains is given)", &world);
            assert_eq!(value(&neither), 2 - a.max(b), "not ({a} or {b})");
        }
        let turned = judged("not pickup is given", &world([a, 0, 0]));
        assert_eq!(value(&turned), 2 - a, "not {a}");
    }
}

#[test]
fn and_binds_more_tightly_than_or_and_not_most_tightly() {
    for values in (0..27_u8).map(|n| [n % 3, n / 3 % 3, n / 9]) {
        let ([a, b, c], world) = (values, world(values));
        let mixed = judged("pickup is given or drains is given and wall is given", &world);
        assert_eq!(value(&mixed), a.max(b.min(c)), "{values:?}");
        let turned = judged("not pickup is given and drains is given", &world);
        assert_eq!(value(&turned), (2 - a).min(b), "{values:?}");
    }
}

#[test]
fn what_is_unknown_names_everything_that_would_settle_it_once() {
    let text = "pickup is given and drains is given and pickup is given or wall is given";
    let Truth::Unknown(reason) = judged(text, &world([1, 1, 1])) else { panic!("it is unknown") };
    let paths: Vec<&str> = reason.missing.iter().map(|m| m.path.as_str()).collect();
    assert_eq!(paths, ["pickup", "drains", "wall"]);
    assert_eq!(reason.reason.matches("pickup is not stated").count(), 1, "{}", reason.reason);
}

#[test]
fn a_comparison_is_unknown_only_where_the_bounds_straddle() {
    for (low, high, least, most) in [
        (0.008, 0.009, 2, 1),
        (0.007, 0.008, 1, 2),
        (0.006, 0.0079, 0, 2),
        (0.0081, 0.009, 2, 0),
        (0.007, 0.009, 1, 1),
        (f64::NEG_INFINITY, 0.007, 0, 2),
        (f64::NEG_INFINITY, f64::INFINITY, 1, 1),
    ] {
        let world = World::default().between("pickup.floor_gap", 0, low, high);
        let at_least = judged("pickup.floor_gap at least 8 mm", &world);
        assert_eq!(value(&at_least), least, "{low} to {high}");
        let at_most = judged("pickup.floor_gap at most 8 mm", &world);
        assert_eq!(value(&at_most), most, "{low} to {high}");
    }
    let open = World::default().between("pickup.floor_gap", 0, 0.007, 0.009);
    let Truth::Unknown(reason) = judged("pickup.floor_gap at least 8 mm", &open) else {
        panic!("it is unknown")
    };
    assert!(reason.reason.contains("pickup.floor_gap is at least 8 mm"), "{}", reason.reason);
}

#[test]
fn a_comparison_names_what_is_missing_on_both_sides() {
    let text = "pickup.floor_gap at least wall.floor_thickness";
    let Truth::Unknown(reason) = judged(text, &World::default()) else { panic!("it is unknown") };
    let paths: Vec<&str> = reason.missing.iter().map(|m| m.path.as_str()).collect();
    assert_eq!(paths, ["pickup.floor_gap.0", "wall.floor_thickness.0"]);
}

#[test]
fn a_path_into_the_object_reads_the_one_at_hand() {
    let world = World::default()
        .objects(ObjectKind::Drain, "drain.residual", &[("low", None), ("plug", None)])
        .given("drains.low.boss", Truth::False)
        .given("drains.plug.boss", Truth::True);
    let boss = condition("drain.boss is given");
    let at = |place| judge_condition(&boss, &world, Some((ObjectKind::Drain, place)));
    assert_eq!((at(0), at(1)), (Truth::False, Truth::True));
    assert_eq!(value(&judge_condition(&boss, &world, None)), 1);
}

#[test]
fn a_word_is_compared_letter_by_letter_and_may_be_left_out() {
    let world = World::default().word("baffles.front.sides", "sealed").word("pickup", "none");
    for (text, meant) in [
        ("baffles.front.sides is sealed", 2),
        ("baffles.front.sides is open", 0),
        ("not baffles.front.sides is open", 2),
        ("baffles.rear.sides is open", 1),
        ("baffles.rear.bottom is floor", 1),
    ] {
        assert_eq!(value(&judged(text, &world)), meant, "{text}");
    }
}

/// A condition and what it comes to, worked out beside the program.
fn worked(values: [u8; 3]) -> impl Strategy<Value = (String, u8)> {
    let atom = (0..3_usize, any::<bool>()).prop_map(move |(i, negated)| {
        let text = format!("{}{} is given", if negated { "not " } else { "" }, PATHS[i]);
        (text, if negated { 2 - values[i] } else { values[i] })
    });
    atom.prop_recursive(4, 24, 3, |inner| {
        (proptest::collection::vec(proptest::collection::vec(inner, 1..3), 1..3), any::<bool>())
            .prop_map(|(clauses, negated)| {
                let of = |clause: &Vec<(String, u8)>| clause.iter().map(|t| t.1).min().unwrap();
                let result = clauses.iter().map(of).max().unwrap();
                let clauses = clauses.iter().map(|clause| {
                    clause.iter().map(|t| t.0.clone()).collect::<Vec<_>>().join(" and ")
                });
                let text = clauses.collect::<Vec<_>>().join(" or ");
                let not = if negated { "not " } else { "" };
                (format!("{not}({text})"), if negated { 2 - result } else { result })
            })
    })
}

proptest! {
    #[test]
    fn any_condition_comes_to_what_the_tables_say(
        (values, (text, meant)) in [0..3_u8, 0..3_u8, 0..3_u8]
            .prop_flat_map(|values| (Just(values), worked(values))),
    ) {
        let found = judged(&text, &world(values));
        prop_assert_eq!(value(&found), meant, "{}", text);
        if let Truth::Unknown(reason) = found {
            prop_assert!(!reason.missing.is_empty());
            let open = |path: &str| PATHS.iter().zip(values).any(|(p, v)| *p == path && v == 1);
            prop_assert!(reason.missing.iter().all(|m| open(&m.path)));
        }
    }
}
