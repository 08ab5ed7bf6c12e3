//! Whole formulas on bounds: what lies inside stays inside, and NaN never comes out.

use super::generate::lengths;
use super::world::World;
use super::*;
use crate::measure::Bounds;
use crate::rule::evaluate;
use proptest::prelude::*;

/// Every reading that a generated formula can ask for.
const READINGS: [(&str, usize); 9] = [
    ("pickup.gap", 0),
    ("wall.side", 0),
    ("inlet.area", 0),
    ("oil.share", 0),
    ("drain.width", 0),
    ("drain.width", 1),
    ("drain.width", 2),
    ("fin.root", 0),
    ("fin.root", 1),
];

fn pan(readings: impl IntoIterator<Item = Bounds>) -> World {
    let world = World::default()
        .has(ObjectKind::Drain, &["a", "b", "c"])
        .has(ObjectKind::FinSet, &["k", "l"]);
    READINGS
        .into_iter()
        .zip(readings)
        .fold(world, |world, ((measure, object), bounds)| world.with(measure, object, bounds))
}

/// A pan with three baseline pans, from readings of all four.
fn world(readings: &[Bounds]) -> World {
    let mut pans = readings.chunks(READINGS.len()).map(|chunk| pan(chunk.iter().copied()));
    let own = pans.next().unwrap();
    own.beside(&pans.collect::<Vec<_>>())
}

const ALL: usize = 4 * READINGS.len();

/// Bounds with a value inside; an end may be unknown.
fn within() -> impl Strategy<Value = (Bounds, f64)> {
    let width = prop_oneof![3 => Just(0.0), 3 => 0.0..0.5, 1 => Just(f64::INFINITY)];
    (0.01..5.0_f64, width.clone(), width).prop_map(|(value, below, above)| {
        (Bounds { low: value - below, high: value + above }, value)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1024, failure_persistence: None, ..Default::default() })]

    #[test]
    fn the_value_at_inputs_inside_their_bounds_lies_inside_the_result(
        text in lengths(),
        readings in prop::collection::vec(within(), ALL),
    ) {
        let Ok(read) = read_formula(&text) else { return Ok(()) };
        let object = Some((ObjectKind::Drain, 1));
        let bounds: Vec<Bounds> = readings.iter().map(|r| r.0).collect();
        let values: Vec<Bounds> = readings.iter().map(|r| Bounds::exactly(r.1)).collect();
        let wide = evaluate(&read, &world(&bounds), object);
        let exact = evaluate(&read, &world(&values), object);
        if let (Ok(wide), Ok(exact)) = (&wide, &exact) {
            let value = exact.bounds.value();
            prop_assert!(value.is_some(), "{} of exact readings is {:?}", text, exact.bounds);
            let value = value.unwrap_or_default();
            prop_assert!(
                wide.bounds.low <= value && value <= wide.bounds.high,
                "{}: {} outside {:?}", text, value, wide.bounds
            );
        }
        // Exact readings can fail only where bounds round them fail too.
        prop_assert!(exact.is_ok() || wide.is_err(), "{}: {:?} but {:?}", text, exact, wide);
    }

    #[test]
    fn whatever_is_read_no_nan_comes_out(
        text in lengths(),
        ends in prop::collection::vec((any::<f64>(), any::<f64>()), ALL),
    ) {
        let Ok(read) = read_formula(&text) else { return Ok(()) };
        let readings: Vec<Bounds> =
            ends.iter().map(|(low, high)| Bounds { low: *low, high: *high }).collect();
        if let Ok(found) = evaluate(&read, &world(&readings), Some((ObjectKind::Drain, 0))) {
            let Bounds { low, high } = found.bounds;
            prop_assert!(low <= high && low < f64::INFINITY && high > f64::NEG_INFINITY, "{}", text);
        }
    }
}
