//! How far the inlet stands off the floor.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.floor_gap",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Least distance, along the pan's z, from the rim of the inlet to the floor or wall below it",
    formula: "least depth of the terrain under the mouth minus depth of the rim's lowest point",
    source: "plain geometry",
    range: "A mouth that faces down or up: under its whole disc. One that faces sideways: under its lowest point.",
    checked_against: "plane and solid geometry, worked by hand",
    checked_by: "stated::the_inlet_s_room_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let gap = scene.floor_gap()?;
    Ok(Sample::of(Bounds::exactly(gap.value), scene.inlet_depth_span()?))
}
