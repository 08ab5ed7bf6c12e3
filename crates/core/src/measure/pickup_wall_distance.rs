//! How much room the inlet has round its rim.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.wall_distance",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Least distance in plan from the inlet's rim to a wall or floor that rises above the mouth's depth",
    formula: "distance from the middle of the mouth to the nearest such place - D / 2",
    source: "plain geometry",
    range: "A mouth that faces down or up; unknown for others.",
    checked_against: "plane and solid geometry, worked by hand",
    checked_by: "stated::the_inlet_s_room_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    Ok(Sample::of(Bounds::exactly(scene.wall_distance()?.value), scene.inlet_depth_span()?))
}
