//! Formulas at one set of inputs: objects, baselines, and what is not stated.

use super::world::World;
use super::*;
use crate::measure::Bounds;
use crate::rule::{Evaluated, evaluate};

fn at(text: &str, world: &World) -> Result<Evaluated, Unknown> {
    evaluate(&formula(text), world, None)
}

fn value(text: &str, world: &World) -> f64 {
    let found = at(text, world).unwrap_or_else(|unknown| panic!("{text}: {unknown:?}"));
    found.bounds.value().unwrap_or_else(|| panic!("{text}: {found:?}"))
}

/// Few roundings of values near 1: each is half of the last place.
fn assert_near(found: f64, expected: f64) {
    assert!((found - expected).abs() <= 8.0 * f64::EPSILON, "{found} for {expected}");
}

/// Three drains, the second of which holds least and the third of which is the widest.
fn drained() -> World {
    World::default()
        .has(ObjectKind::Drain, &["front", "middle", "rear"])
        .with("drain.rest", 0, Bounds::exactly(0.3))
        .with("drain.rest", 1, Bounds::exactly(0.1))
        .with("drain.rest", 2, Bounds::exactly(0.2))
        .with("drain.width", 0, Bounds::exactly(0.02))
        .with("drain.width", 1, Bounds::exactly(0.03))
        .with("drain.width", 2, Bounds::exactly(0.04))
        .reads("oil.litres", 2.0)
        .reads("pickup.gap", 0.01)
}

fn without(mut world: World, measure: &'static str, object: usize) -> World {
    world.readings.remove(&(measure, object));
    world
}

#[test]
fn formulas_of_the_pan_compute() {
    let world = World::default()
        .reads("pickup.gap", 0.5)
        .reads("wall.side", 2.0)
        .reads("inlet.area", 9.0)
        .reads("oil.warmth", 313.15)
        .reads("case.warmth", 300.0);
    for (text, expected) in [
        ("pickup.gap + wall.side * 3", 6.5),
        ("(pickup.gap + wall.side) * 3", 7.5),
        ("wall.side - pickup.gap - pickup.gap", 1.0),
        ("wall.side - (pickup.gap - pickup.gap)", 2.0),
        ("inlet.area / 2 / 3", 1.5),
        ("inlet.area / (2 / 3)", 13.5),
        ("-pickup.gap + wall.side", 1.5),
        ("min(pickup.gap, wall.side, 3 m)", 0.5),
        ("max(pickup.gap, wall.side, 1 m)", 2.0),
        ("abs(pickup.gap - wall.side)", 1.5),
        ("sqrt(inlet.area)", 3.0),
        ("5 % * wall.side", 0.1),
        ("oil.warmth - 40 degC", 0.0),
        ("oil.warmth - case.warmth", 13.15),
    ] {
        assert!((value(text, &world) - expected).abs() <= 1e-13 * 313.15, "{text}");
    }
}

#[test]
fn a_measure_of_a_kind_is_read_for_the_object_at_hand() {
    let (world, read) = (drained(), formula("drain.rest / oil.litres"));
    let at = |place| evaluate(&read, &world, Some((ObjectKind::Drain, place)));
    for (place, share) in [(0, 0.15), (1, 0.05), (2, 0.1)] {
        assert_near(at(place).unwrap().bounds.value().unwrap(), share);
    }
    assert!(at(3).is_err());
    let nobody = evaluate(&read, &world, None).unwrap_err();
    assert!(nobody.reason.contains("each of the drains"), "{}", nobody.reason);
    assert!(evaluate(&read, &world, Some((ObjectKind::FinSet, 0))).is_err());
}

#[test]
fn a_kind_is_brought_to_one_reading_that_keeps_which() {
    let world = drained();
    let drain = |place| Some((ObjectKind::Drain, place));
    for (text, expected, deciding) in [
        ("least(drain.rest)", 0.1, drain(1)),
        ("most(drain.rest)", 0.3, drain(0)),
        ("sum(drain.rest)", 0.6, None),
        ("least(drain.width)", 0.02, drain(0)),
        ("least(-drain.width)", -0.04, drain(2)),
        ("most(drain.rest) / oil.litres", 0.15, drain(0)),
        ("-least(drain.width - pickup.gap)", -0.01, drain(0)),
        ("least(drain.rest) - most(drain.rest)", -0.2, drain(1)),
    ] {
        assert_near(value(text, &world), expected);
        assert_eq!(at(text, &world).unwrap().deciding, deciding, "{text}");
        assert!(at(text, &world).unwrap().unread.is_empty());
    }
    // Of two that are equal the first decides, whatever the order of computing.
    let equal = world.with("drain.rest", 2, Bounds::exactly(0.1));
    assert_eq!(at("least(drain.rest)", &equal).unwrap().deciding, drain(1));
}

#[test]
fn bounds_of_objects_are_brought_together_end_by_end() {
    let world = World::default()
        .has(ObjectKind::Drain, &["a", "b"])
        .with("drain.width", 0, Bounds::between(1.0, 5.0))
        .with("drain.width", 1, Bounds::between(2.0, 3.0));
    let found = |text: &str| at(text, &world).unwrap().bounds;
    assert_eq!(found("least(drain.width)"), Bounds::between(1.0, 3.0));
    assert_eq!(found("most(drain.width)"), Bounds::between(2.0, 5.0));
    assert_eq!(found("sum(drain.width)"), Bounds::between(3.0, 8.0));
}

/// The missing one could lie anywhere: the least of all is then *at most* that of the rest, which can show a breach of
/// `at_least` and never that it is kept. A sum has no such side.
#[test]
fn an_object_that_cannot_be_read_opens_the_side_on_which_it_could_decide() {
    let world = without(drained(), "drain.rest", 0);
    let least = at("least(drain.rest)", &world).unwrap();
    assert_eq!(least.bounds, Bounds::at_most(0.1));
    assert_eq!(least.deciding, Some((ObjectKind::Drain, 1)));
    assert_eq!(least.unread.len(), 1);
    assert_eq!(least.unread[0].missing[0].path, "drain.rest 0");
    let most = at("most(drain.rest)", &world).unwrap();
    assert_eq!(most.bounds, Bounds::at_least(0.2));
    assert_eq!(most.unread.len(), 1);
    let sum = at("sum(drain.rest)", &world).unwrap_err();
    assert_eq!(sum.missing[0].path, "drain.rest 0");
    // Whatever the missing value is, the true least and most lie within what was said.
    for missing in [-1.0, 0.05, 0.1, 0.15, 0.25, 7.0] {
        let whole = world.clone().with("drain.rest", 0, Bounds::exactly(missing));
        assert!(value("least(drain.rest)", &whole) <= least.bounds.high);
        assert!(value("most(drain.rest)", &whole) >= most.bounds.low);
    }
}

#[test]
fn reasons_of_unread_objects_go_along_with_the_bounds() {
    let world = without(drained(), "drain.rest", 0);
    for text in [
        "-least(drain.rest)",
        "2 * least(drain.rest) - oil.litres",
        "min(oil.litres, least(drain.rest))",
        "abs(most(drain.rest))",
    ] {
        let found = at(text, &world).unwrap();
        assert_eq!(found.unread.len(), 1, "{text}");
        assert!(found.deciding.is_some(), "{text}");
    }
    assert_eq!(at("-least(drain.rest)", &world).unwrap().bounds, Bounds::at_least(-0.1));
}

#[test]
fn objects_of_which_none_can_be_read_are_unknown_with_all_that_is_missing() {
    let mut world = drained();
    for object in 0..3 {
        world = without(world, "drain.rest", object);
    }
    let unknown = at("least(drain.rest)", &world).unwrap_err();
    assert_eq!(unknown.missing.len(), 3);
    assert_eq!(at("least(drain.rest)", &World::default()).unwrap_err().missing[0].path, "drains");
}

#[test]
fn a_pan_without_objects_has_no_least_and_a_sum_of_nothing() {
    let world = World::default().has(ObjectKind::Drain, &[]);
    for text in ["least(drain.rest)", "most(drain.rest)"] {
        assert_eq!(at(text, &world).unwrap_err().reason, "the pan has no drains");
    }
    assert_eq!(at("sum(drain.rest)", &world).unwrap().bounds, Bounds::exactly(0.0));
}

#[test]
fn everything_that_a_formula_lacks_is_named_at_once() {
    let unknown = at("pickup.gap + wall.side - max(pickup.gap, 8 mm)", &World::default());
    let unknown = unknown.unwrap_err();
    let paths: Vec<&str> = unknown.missing.iter().map(|m| m.path.as_str()).collect();
    assert_eq!(paths, ["pickup.gap 0", "wall.side 0"]);
}

fn pans(gaps: &[f64]) -> Vec<World> {
    gaps.iter().map(|gap| World::default().reads("pickup.gap", *gap)).collect()
}

#[test]
fn a_baseline_is_the_mean_over_the_baseline_pans() {
    for (gaps, mean) in [(&[12.0][..], 12.0), (&[12.0, 10.0], 11.0), (&[12.0, 10.0, 53.0], 25.0)] {
        let world = World::default().reads("pickup.gap", 1.0).beside(&pans(gaps));
        assert_eq!(value("baseline(pickup.gap)", &world).to_bits(), f64::to_bits(mean));
        assert_near(value("pickup.gap - baseline(pickup.gap)", &world), 1.0 - mean);
    }
}

#[test]
fn a_spread_is_half_the_range_from_three_pans_on() {
    for (gaps, spread) in [
        (&[12.0][..], 0.0),
        (&[12.0, 52.0], 0.0),
        (&[12.0, 10.0, 52.0], 21.0),
        (&[7.0, 7.0, 7.0], 0.0),
        (&[4.0, 3.0, 2.0, 1.0], 1.5),
    ] {
        let world = World::default().beside(&pans(gaps));
        assert_eq!(value("spread(pickup.gap)", &world).to_bits(), f64::to_bits(spread), "{gaps:?}");
    }
}

#[test]
fn the_bounds_of_baseline_pans_make_those_of_mean_and_spread() {
    let pan = |a, b| World::default().with("pickup.gap", 0, Bounds::between(a, b));
    let world = World::default().beside(&[pan(1.0, 2.0), pan(3.0, 5.0), pan(2.0, 8.0)]);
    assert_eq!(at("baseline(pickup.gap)", &world).unwrap().bounds, Bounds::between(2.0, 5.0));
    // Largest in 3 to 8, least in 1 to 2.
    assert_eq!(at("spread(pickup.gap)", &world).unwrap().bounds, Bounds::between(0.5, 3.5));
}

#[test]
fn without_a_baseline_pan_nothing_is_known_of_it() {
    for text in ["baseline(pickup.gap)", "spread(pickup.gap)", "max(3 mm, spread(pickup.gap))"] {
        let unknown = at(text, &World::default().reads("pickup.gap", 1.0)).unwrap_err();
        assert_eq!(unknown.reason, "there is no baseline pan", "{text}");
    }
}

#[test]
fn a_baseline_pan_that_cannot_be_read_says_that_it_is_one() {
    let mut all = pans(&[1.0, 2.0]);
    all.push(World::default());
    let world = World::default().beside(&all);
    for text in ["baseline(pickup.gap)", "spread(pickup.gap)"] {
        let unknown = at(text, &world).unwrap_err();
        assert_eq!(unknown.reason, "in a baseline pan, pickup.gap 0 is not stated");
        assert_eq!(unknown.missing.len(), 1);
    }
}

/// Two fin sets in this pan; the baseline has them in the other order.
fn finned() -> World {
    let pan = |names: &[&str], a: f64, b: f64| {
        World::default()
            .has(ObjectKind::FinSet, names)
            .with("fin.root", 0, Bounds::exactly(a))
            .with("fin.root", 1, Bounds::exactly(b))
    };
    pan(&["keel", "side"], 6.0, 4.0).beside(&[pan(&["side", "keel"], 3.0, 5.0)])
}

#[test]
fn in_a_baseline_pan_the_object_of_the_same_name_is_read() {
    let (world, read) = (finned(), formula("fin.root - baseline(fin.root)"));
    let at = |place| evaluate(&read, &world, Some((ObjectKind::FinSet, place))).unwrap().bounds;
    assert_eq!(at(0), Bounds::exactly(1.0));
    assert_eq!(at(1), Bounds::exactly(1.0));
    assert_near(value("least(fin.root - baseline(fin.root))", &world), 1.0);
    assert_near(value("least(fin.root) - baseline(least(fin.root))", &world), 1.0);
}

#[test]
fn an_object_that_the_baseline_pan_does_not_have_is_named() {
    let mut world = finned();
    world.objects.insert(ObjectKind::FinSet, vec!["keel".to_owned(), "new".to_owned()]);
    let read = formula("fin.root - baseline(fin.root)");
    let unknown = evaluate(&read, &world, Some((ObjectKind::FinSet, 1))).unwrap_err();
    assert_eq!(unknown.reason, "a baseline pan has no `new` under its fins");
    let none = finned().beside(&[World::default()]);
    let unknown = evaluate(&read, &none, Some((ObjectKind::FinSet, 1))).unwrap_err();
    assert_eq!(unknown.reason, "in a baseline pan, fins is not stated");
}

#[test]
fn what_is_unread_in_a_baseline_pan_is_said_to_be_there() {
    let mut world = finned();
    world.baselines[0].readings.remove(&("fin.root", 1));
    let found = at("baseline(least(fin.root))", &world).unwrap();
    assert_eq!(found.bounds, Bounds::at_most(3.0));
    assert_eq!(found.deciding, None);
    assert_eq!(found.unread.len(), 1);
    assert!(found.unread[0].reason.starts_with("in a baseline pan, "));
}

#[test]
fn a_baselines_own_baseline_is_never_asked() {
    let mut pan = pans(&[12.0]).remove(0);
    pan.baselines = pans(&[99.0]);
    let world = World::default().beside(&[pan]);
    assert_near(value("baseline(pickup.gap)", &world), 12.0);
}

#[test]
fn a_reading_that_is_no_number_never_passes_for_one() {
    for (low, high) in
        [(f64::NAN, f64::NAN), (1.0, 0.0), (f64::INFINITY, f64::INFINITY), (0.0, f64::NAN)]
    {
        let world = World::default().with("pickup.gap", 0, Bounds { low, high });
        for text in ["pickup.gap", "min(pickup.gap, 8 mm)", "abs(pickup.gap)", "-pickup.gap"] {
            assert!(at(text, &world).is_err(), "{text} of {low} {high}");
        }
    }
}

#[test]
fn a_divisor_or_root_that_may_not_be_is_unknown_with_its_reason() {
    let world =
        World::default().reads("wall.side", 1.0).with("pickup.gap", 0, Bounds::between(-1.0, 1.0));
    let reason = |text: &str| at(text, &world).unwrap_err().reason;
    assert!(reason("wall.side / pickup.gap").contains("divisor"));
    assert!(reason("sqrt(pickup.gap * wall.side)").contains("negative"));
    assert!(reason("wall.side / 0").contains("divisor"));
}

/// The longest chain that the limit on length lets through makes the deepest tree.
#[test]
fn the_longest_sum_is_read_printed_and_computed_on_a_small_stack() {
    // Half of what a thread of the standard library gets.
    let stack = 1024 * 1024;
    let run = || {
        let text = format!("1{}", " + 1".repeat(1023));
        let read = formula(&text);
        let sum = evaluate(&read, &World::default(), None).unwrap().bounds;
        (read.to_string() == text, read.numbers().len(), sum)
    };
    let done = std::thread::Builder::new().stack_size(stack).spawn(run).unwrap().join().unwrap();
    assert_eq!(done, (true, 1024, Bounds::exactly(1024.0)));
}
