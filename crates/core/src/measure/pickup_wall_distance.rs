//! How much room the inlet has round its rim.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
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
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let mouth = scene.mouth()?;
    if mouth.normal.z.abs() < 0.5 {
        return Err(Unknown::because("the inlet faces sideways"));
    }
    let depth = crate::quantity::si(-mouth.centre.z);
    let room = scene.with_terrain(|terrain| Ok(terrain.room(mouth.centre.truncate(), depth)))?;
    let distance = room.value - mouth.diameter.value / 2.0;
    Ok(Sample::of(Bounds::exactly(distance), scene.inlet_depth_span()?))
}
