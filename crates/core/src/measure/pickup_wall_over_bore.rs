//! How much room the inlet has round its rim, for its size.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.wall_over_bore",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Least distance in plan from the inlet's rim to a wall or floor that rises above the mouth's depth over the inlet's bore",
    formula: "distance / D",
    source: "plain geometry",
    range: "A mouth that faces down or up; unknown for others.",
    checked_against: "plane and solid geometry, worked by hand",
    checked_by: "stated::the_inlet_s_room_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let mouth = scene.mouth()?;
    Ok(Sample::of(
        Bounds::exactly((scene.wall_distance()? / mouth.diameter).value),
        scene.inlet_depth_span()?,
    ))
}
