//! What formulas come to.

use super::formula;
use super::world::World;
use crate::measure::{Bounds, ObjectKind, Unknown};
use crate::quantity::{Dimension, Kind};
use crate::rule::{Evaluated, evaluate};
use uom::si::f64::{Length, TemperatureInterval, ThermodynamicTemperature};

fn reading(text: &str, world: &World) -> Result<Evaluated, Unknown> {
    evaluate(&formula(text), world, None)
}

fn value(text: &str, world: &World) -> f64 {
    let found = reading(text, world).unwrap_or_else(|reason| panic!("{text}: {reason:?}"));
    found.bounds.value().unwrap_or_else(|| panic!("{text}: {:?}", found.bounds))
}

/// Within a few units of the last place of a 64-bit number.
fn close(found: f64, meant: f64) -> bool {
    (found - meant).abs() <= 4.0 * f64::EPSILON * meant.abs()
}

#[test]
fn a_formula_is_ordinary_arithmetic_from_left_to_right() {
    let world = World::default().with("pickup.floor_gap", 0.012).with("pickup.inlet_area", 8e-4);
    for (text, meant) in [
        ("7 - 4 - 2", 1.0),
        ("12 / 3 / 2", 2.0),
        ("2 + 3 * 4", 14.0),
        ("(2 + 3) * 4", 20.0),
        ("7 - (4 - 2)", 5.0),
        ("12 / (3 * 2)", 2.0),
        ("-(2 + 3) * -2", 10.0),
        ("2 - -3", 5.0),
        ("1 1/2 + 1/2", 2.0),
        ("max(1, 5, 3) - min(4, 2)", 3.0),
        ("abs(-2) + abs(3)", 5.0),
        ("sqrt(16)", 4.0),
        ("1 in", 0.0254),
        ("12 L / 4 min", 0.003 / 60.0),
        ("pickup.floor_gap - 2 mm", 0.010),
        ("pickup.inlet_area / pickup.floor_gap", 8e-4 / 0.012),
    ] {
        assert!(close(value(text, &world), meant), "{text}: {}", value(text, &world));
    }
}

#[test]
fn temperatures_subtract_to_a_difference_and_take_one() {
    let world = World::default();
    for (text, meant, dimension) in [
        ("100 degC - 40 degC", 60.0, TemperatureInterval::DIMENSION),
        ("40 degC + 60 K", 373.15, ThermodynamicTemperature::DIMENSION),
        ("100 degC - 60 K", 313.15, ThermodynamicTemperature::DIMENSION),
        ("-10 degC", 263.15, ThermodynamicTemperature::DIMENSION),
        ("max(40 degC, 100 degC)", 373.15, ThermodynamicTemperature::DIMENSION),
        ("abs(40 degC - 100 degC)", 60.0, TemperatureInterval::DIMENSION),
    ] {
        assert!((value(text, &world) - meant).abs() < 1e-10, "{text}");
        assert_eq!(formula(text).dimension, dimension, "{text}");
    }
}

#[test]
fn functions_keep_and_operators_combine_dimensions() {
    let length = Length::DIMENSION;
    for (text, dimension) in [
        ("sqrt(pickup.inlet_area)", Some(length)),
        ("pickup.inlet_area / 2 mm", Some(length)),
        ("2 mm * 3 mm", length.power(2)),
        ("least(fin.root)", Some(length)),
        ("sum(fin.root) - spread(pickup.floor_gap)", Some(length)),
        ("most(fin.root) / baseline(pickup.floor_gap)", Some(Dimension::NUMBER)),
    ] {
        assert_eq!(Some(formula(text).dimension), dimension, "{text}");
    }
}

// Worked examples of interval arithmetic: R. E. Moore, R. B. Kearfott, M. J. Cloud, Introduction to
// Interval Analysis, 2009, chapter 2 (from memory): with X = [-1, 0] and Y = [1, 2].
#[test]
fn bounds_combine_as_intervals_do() {
    let world = World::default().between("pickup.floor_gap", 0, -1.0, 0.0).between(
        "wall.floor_thickness",
        0,
        1.0,
        2.0,
    );
    for (text, low, high) in [
        ("pickup.floor_gap + wall.floor_thickness", 0.0, 2.0),
        ("pickup.floor_gap - wall.floor_thickness", -3.0, -1.0),
        ("pickup.floor_gap * wall.floor_thickness", -2.0, 0.0),
        ("pickup.floor_gap / wall.floor_thickness", -1.0, 0.0),
        ("abs(pickup.floor_gap)", 0.0, 1.0),
        ("-wall.floor_thickness", -2.0, -1.0),
    ] {
        let found = reading(text, &world).unwrap().bounds;
        assert_eq!(found, Bounds { low, high }, "{text}");
    }
    let reason = reading("wall.floor_thickness / pickup.floor_gap", &world).unwrap_err();
    assert_eq!(reason.reason, "the divisor is, or may be, 0");
}

fn fins(each: &[(&str, Option<f64>)]) -> World {
    World::default().objects(ObjectKind::FinSet, "fin.root", each)
}

#[test]
fn least_most_and_sum_bring_a_kind_to_one_reading_and_say_which_decided() {
    let world = fins(&[("a", Some(3.0)), ("b", Some(1.0)), ("c", Some(4.0)), ("d", Some(1.0))]);
    for (text, meant, which) in [
        ("least(fin.root)", 1.0, Some(1)),
        ("most(fin.root)", 4.0, Some(2)),
        ("sum(fin.root)", 9.0, None),
        ("2 * least(fin.root)", 2.0, Some(1)),
        ("most(2 m - fin.root)", 1.0, Some(1)),
        ("sum(fin.root - least(fin.root))", 5.0, None),
    ] {
        let found = reading(text, &world).unwrap();
        assert_eq!(found.bounds, Bounds::exactly(meant), "{text}");
        assert_eq!(found.deciding, which.map(|place| (ObjectKind::FinSet, place)), "{text}");
    }
}

#[test]
fn an_object_that_cannot_be_read_leaves_least_and_most_open_on_one_side() {
    let world = fins(&[("a", Some(3.0)), ("b", None)]);
    let least = reading("least(fin.root)", &world).unwrap();
    assert_eq!(least.bounds, Bounds::at_most(3.0));
    assert_eq!(least.unread[0].missing[0].path, "fin.root.1");
    assert_eq!(reading("most(fin.root)", &world).unwrap().bounds, Bounds::at_least(3.0));
    assert!(reading("sum(fin.root)", &world).is_err());
    assert!(reading("least(fin.root)", &fins(&[("a", None)])).is_err());
}

#[test]
fn no_objects_sum_to_nothing_and_have_no_least() {
    assert_eq!(value("sum(fin.root)", &fins(&[])).to_bits(), 0.0_f64.to_bits());
    let reason = reading("least(fin.root)", &fins(&[])).unwrap_err();
    assert_eq!(reason.reason, "the pan has no fins");
    let left_out = reading("least(fin.root)", &World::default()).unwrap_err();
    assert_eq!(left_out.missing[0].path, "fins");
}

fn gap(value: f64) -> World {
    World::default().with("pickup.floor_gap", value)
}

#[test]
fn a_baseline_is_the_mean_and_a_spread_half_the_range_from_three_pans_on() {
    let of = |values: &[f64]| values.iter().fold(gap(9.0), |world, v| world.baseline(gap(*v)));
    for (values, mean, spread) in [
        (&[12.0][..], 12.0, 0.0),
        (&[12.0, 52.0], 32.0, 0.0),
        (&[12.0, 10.0, 53.0], 25.0, 21.5),
        (&[4.0, 4.0, 4.0], 4.0, 0.0),
    ] {
        let world = of(values);
        assert!(close(value("baseline(pickup.floor_gap)", &world), mean), "{values:?}");
        assert!((value("spread(pickup.floor_gap)", &world) - spread).abs() < 1e-12, "{values:?}");
        let against = value("pickup.floor_gap - baseline(pickup.floor_gap)", &world);
        assert!((against - (9.0 - mean)).abs() < 1e-12, "{values:?}");
    }
    for text in ["baseline(pickup.floor_gap)", "spread(pickup.floor_gap)"] {
        assert_eq!(reading(text, &gap(9.0)).unwrap_err().reason, "there is no baseline pan");
    }
}

#[test]
fn what_a_baseline_does_not_state_leaves_it_unknown() {
    let world = gap(9.0).baseline(gap(12.0)).baseline(World::default());
    let reason = reading("baseline(pickup.floor_gap)", &world).unwrap_err();
    assert_eq!(reason.reason, "in a baseline pan, pickup.floor_gap.0 is not stated");
    assert_eq!(reason.missing.len(), 1);
}

#[test]
fn a_baseline_is_asked_for_the_object_of_the_same_name() {
    let world = fins(&[("a", Some(3.0)), ("b", Some(1.0))])
        .baseline(fins(&[("b", Some(7.0)), ("a", Some(5.0))]));
    let over = formula("fin.root - baseline(fin.root)");
    let at = |world: &World, place| evaluate(&over, world, Some((ObjectKind::FinSet, place)));
    assert_eq!(at(&world, 0).unwrap().bounds, Bounds::exactly(-2.0));
    assert_eq!(at(&world, 1).unwrap().bounds, Bounds::exactly(-6.0));
    let found = reading("most(fin.root - baseline(fin.root))", &world).unwrap();
    assert_eq!(found.bounds, Bounds::exactly(-2.0));
    assert_eq!(value("baseline(sum(fin.root))", &world).to_bits(), 12.0_f64.to_bits());
    let another = fins(&[("c", Some(3.0))]).baseline(fins(&[("a", Some(5.0))]));
    let reason = at(&another, 0).unwrap_err();
    assert_eq!(reason.reason, "a baseline pan has no `c` under its fins");
}

#[test]
fn a_measure_of_each_object_has_no_value_for_the_pan() {
    assert!(reading("fin.root", &fins(&[("a", Some(3.0))])).is_err());
}

#[test]
fn both_sides_say_what_they_miss_and_nothing_that_is_no_number_gets_through() {
    let reason = reading("pickup.floor_gap + wall.floor_thickness", &World::default()).unwrap_err();
    assert_eq!(reason.missing.len(), 2);
    for (low, high) in [(f64::NAN, 1.0), (2.0, 1.0), (f64::INFINITY, f64::INFINITY)] {
        let world = World::default().between("pickup.floor_gap", 0, low, high);
        assert!(reading("pickup.floor_gap", &world).is_err(), "{low} {high}");
    }
}
