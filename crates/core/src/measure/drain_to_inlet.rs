//! How far a drain is from the inlet.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "drain.to_inlet",
    kind: ObjectKind::Drain,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Least distance from the rim of the drain's bore to that of the inlet",
    formula: "distance of two convex bodies",
    source: "Gilbert, Johnson and Keerthi, IEEE Journal of Robotics and Automation 4 (1988), from memory",
    range: "Round discs; walls and baffles between them are not counted.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "catalogue::distances_round_a_drain_are_those_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let subject = need(&scene.drain(index)?.value.at)?.span;
    Ok(Sample::of(Bounds::exactly(scene.drain_to_inlet(index)?.value), subject))
}
