//! How far a drain is from the magnet.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "drain.to_magnet",
    kind: ObjectKind::Drain,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Least distance from the drain's bore to the magnet",
    formula: "distance of two convex bodies",
    source: "Gilbert, Johnson and Keerthi, IEEE Journal of Robotics and Automation 4 (1988), from memory",
    range: "A magnet of the stated form; unknown without one.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "catalogue::distances_round_a_drain_are_those_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let subject = need(&scene.drain(index)?.value.at)?.span;
    Ok(Sample::of(Bounds::exactly(scene.drain_to_magnet(index)?.value), subject))
}
