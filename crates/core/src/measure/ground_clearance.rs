//! What is left between the ground and the lowest of pan and skid plate.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "ground.clearance",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Height over level ground of the lowest of the pan and the skid plate's upper face, vehicle standing laden",
    formula: "height of the rail's middle - the larger of the pan's lowest depth and the plate's top face",
    source: "plain geometry",
    range: "At the rail's middle: the lean of the rail is not counted, nor the thickness of the plate.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "stated::what_hangs_lowest_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let rail = need(&scene.mount()?.above_ground)?;
    let (depth, subject) = scene.belly_depth()?;
    Ok(Sample::of(Bounds::exactly(rail.value.value - depth.value), subject))
}
