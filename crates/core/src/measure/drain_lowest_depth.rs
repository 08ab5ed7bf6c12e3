//! How far a drain with its boss and plug hangs down.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, drain_lowest};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "drain.lowest_depth",
    kind: ObjectKind::Drain,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Depth below the rail of the lowest point of the drain's boss or plug",
    formula: "sideways: depth + boss / 2; downward: depth + engaged + head",
    source: "plain geometry",
    range: "The head of a plug that lies is taken to be no larger than its boss.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "stated::what_hangs_lowest_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let (depth, subject) = drain_lowest(scene, index)?;
    Ok(Sample::of(Bounds::exactly(depth.value), subject))
}
