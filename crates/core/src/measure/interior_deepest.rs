//! The deepest point of the interior.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "interior.deepest",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Depth of the deepest point of the interior below the rail",
    formula: "largest depth of the terrain",
    source: "plain geometry",
    range: "Always.",
    checked_against: "plane and solid geometry, worked by hand",
    checked_by: "stated::the_inlet_s_room_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let interior = scene.interior()?;
    let depth = scene.with_terrain(|terrain| Ok(terrain.deepest()))?;
    Ok(Sample::of(Bounds::exactly(depth.value), interior.depth_span()))
}
