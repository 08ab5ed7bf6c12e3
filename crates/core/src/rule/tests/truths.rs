//! Three truths, exhaustively.

use super::world::World;
use super::*;
use crate::measure::Bounds;
use crate::rule::{Truth, judge_condition};

/// Kleene's truths in their order: false, unknown, true.
const TRUTHS: [u8; 3] = [0, 1, 2];

fn not(a: u8) -> u8 {
    2 - a
}

fn and(a: u8, b: u8) -> u8 {
    if a < b { a } else { b }
}

fn or(a: u8, b: u8) -> u8 {
    if a < b { b } else { a }
}

fn judged(text: &str, world: &World) -> Truth {
    judge_condition(&condition(text), world, None)
}

fn rank(truth: &Truth) -> u8 {
    match truth {
        Truth::False => 0,
        Truth::Unknown(_) => 1,
        Truth::True => 2,
    }
}

/// A world in which pickup, material and drains have these truths.
fn world(a: u8, b: u8, c: u8) -> World {
    let mut world = World::default();
    for (path, truth) in [("pickup", a), ("material", b), ("drains", c)] {
        if truth != 1 {
            world = world.states(path, truth == 2);
        }
    }
    world
}

/// The three combinations of S. C. Kleene's strong logic (Introduction to Metamathematics, 1952, §64; from
/// memory), written out so that the functions above are held to something too.
#[test]
fn the_tables_are_those_published() {
    const U: u8 = 1;
    assert_eq!(TRUTHS.map(not), [2, U, 0]);
    assert_eq!(TRUTHS.map(|a| TRUTHS.map(|b| and(a, b))), [[0, 0, 0], [0, U, U], [0, U, 2]]);
    assert_eq!(TRUTHS.map(|a| TRUTHS.map(|b| or(a, b))), [[0, U, 2], [U, U, 2], [2, 2, 2]]);
}

type Combined = fn(u8, u8, u8) -> u8;

#[test]
fn every_condition_of_three_tests_follows_the_tables() {
    const A: &str = "pickup is given";
    const B: &str = "material is given";
    const C: &str = "drains is given";
    let forms: [(String, Combined); 10] = [
        (A.to_owned(), |a, _, _| a),
        (format!("not {A}"), |a, _, _| not(a)),
        (format!("{A} and {B}"), |a, b, _| and(a, b)),
        (format!("{A} or {B}"), |a, b, _| or(a, b)),
        (format!("{A} and {B} or {C}"), |a, b, c| or(and(a, b), c)),
        (format!("{A} or {B} and {C}"), |a, b, c| or(a, and(b, c))),
        (format!("({A} or {B}) and {C}"), |a, b, c| and(or(a, b), c)),
        (format!("not ({A} and {B}) or {C}"), |a, b, c| or(not(and(a, b)), c)),
        (format!("not ({A} or not ({B} and {C}))"), |a, b, c| not(or(a, not(and(b, c))))),
        (format!("{A} and not {B} and {C}"), |a, b, c| and(and(a, not(b)), c)),
    ];
    for (text, expected) in &forms {
        for (a, b, c) in triples() {
            let found = judged(text, &world(a, b, c));
            assert_eq!(rank(&found), expected(a, b, c), "{text} at {a} {b} {c}");
        }
    }
}

fn triples() -> Vec<(u8, u8, u8)> {
    let pairs = TRUTHS.iter().flat_map(|a| TRUTHS.iter().map(move |b| (*a, *b)));
    pairs.flat_map(|(a, b)| TRUTHS.iter().map(move |c| (a, b, *c))).collect()
}

#[test]
fn what_is_unknown_names_everything_that_would_settle_it_once() {
    let text = "pickup is given and (material is given or pickup is given)";
    let Truth::Unknown(unknown) = judged(text, &World::default()) else { panic!("{text}") };
    let paths: Vec<&str> = unknown.missing.iter().map(|m| m.path.as_str()).collect();
    assert_eq!(paths, ["pickup", "material"]);
    assert_eq!(unknown.reason, "pickup is not stated, and material is not stated");
    // What is already settled asks for nothing.
    let known = World::default().states("pickup", true);
    assert_eq!(judged("pickup is given or material is given", &known), Truth::True);
}

#[test]
fn comparisons_of_bounds_are_true_only_when_they_must_be() {
    for (low, high, least, most) in [
        (8e-3, 8e-3, 2, 2),
        (8e-3, 9e-3, 2, 1),
        (7e-3, 8e-3, 1, 2),
        (7e-3, 9e-3, 1, 1),
        (9e-3, 10e-3, 2, 0),
        (6e-3, 7e-3, 0, 2),
        (f64::NEG_INFINITY, 7e-3, 0, 2),
        (f64::NEG_INFINITY, 9e-3, 1, 1),
        (9e-3, f64::INFINITY, 2, 0),
    ] {
        let world = World::default().with("pickup.gap", 0, Bounds { low, high });
        let found = |text: &str| rank(&judged(text, &world));
        assert_eq!(found("pickup.gap at least 8 mm"), least, "{low} {high}");
        assert_eq!(found("pickup.gap at most 8 mm"), most, "{low} {high}");
        assert_eq!(found("8 mm at most pickup.gap"), least, "{low} {high}");
        assert_eq!(found("not pickup.gap at least 8 mm"), not(least), "{low} {high}");
    }
}

#[test]
fn a_comparison_that_cannot_be_made_says_what_is_missing() {
    let Truth::Unknown(unknown) = judged("pickup.gap at least wall.side", &World::default()) else {
        panic!("nothing is known");
    };
    assert_eq!(unknown.missing.len(), 2);
    let wide = World::default().with("pickup.gap", 0, Bounds::between(0.0, 1.0));
    let Truth::Unknown(unknown) = judged("pickup.gap at least 8 mm", &wide) else {
        panic!("the bounds straddle the limit");
    };
    assert!(unknown.reason.contains("pickup.gap is at least 8 mm"), "{}", unknown.reason);
}

#[test]
fn a_word_is_compared_letter_by_letter() {
    let world = World::default().says("pickup.inlet.facing", "down");
    assert_eq!(judged("pickup.inlet.facing is down", &world), Truth::True);
    assert_eq!(judged("pickup.inlet.facing is up", &world), Truth::False);
    let none = World::default().states("material.process", false);
    assert_eq!(judged("material.process is sand casting", &none), Truth::False);
    assert_eq!(rank(&judged("material.process is sand casting", &world)), 1);
    let cast = World::default().says("material.process", "sand casting");
    assert_eq!(judged("material.process is sand casting", &cast), Truth::True);
    assert_eq!(judged("material.process is die casting", &cast), Truth::False);
}

#[test]
fn a_path_of_the_object_at_hand_is_that_objects() {
    let world = World::default()
        .has(ObjectKind::Drain, &["front", "rear"])
        .states("drains.front.boss", true)
        .states("drains.rear.boss", false);
    let read = condition("drain.boss is given");
    let at = |place| judge_condition(&read, &world, Some((ObjectKind::Drain, place)));
    assert_eq!(at(0), Truth::True);
    assert_eq!(at(1), Truth::False);
    assert_eq!(rank(&at(2)), 1);
    assert_eq!(rank(&judge_condition(&read, &world, None)), 1);
    assert_eq!(rank(&judge_condition(&read, &world, Some((ObjectKind::FinSet, 0)))), 1);
}
