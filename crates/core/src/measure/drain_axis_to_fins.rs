//! How far a plug's axis is from the fins.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "drain.axis_to_fins",
    kind: ObjectKind::Drain,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Least distance from the axis of the drain's boss and plug to a set of fins",
    formula: "distance of two convex bodies",
    source: "Gilbert, Johnson and Keerthi, IEEE Journal of Robotics and Automation 4 (1988), from memory",
    range: "A set of fins is taken as one block; unknown without fins.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "catalogue::distances_round_a_drain_are_those_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let subject = need(&scene.drain(index)?.value.at)?.span;
    Ok(Sample::of(Bounds::exactly(scene.plug_to_fins(index)?.value), subject))
}
