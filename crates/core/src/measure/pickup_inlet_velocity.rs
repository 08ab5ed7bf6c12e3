//! How fast the oil goes through the inlet.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use sumpwright_physics::opening::{circle_area, mean_velocity};
use uom::si::f64::Velocity;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.inlet_velocity",
    kind: ObjectKind::Pan,
    dimension: Velocity::DIMENSION,
    over_duty: false,
    meaning: "Mean velocity of the oil in the inlet's bore at the largest stated flow of the pump",
    formula: "v = Q / A",
    source: "continuity",
    range: "Any flow; the mean over the bore.",
    checked_against: "continuity: 20 L/min through a bore of 30 mm go at 0.4715702 m/s",
    checked_by: "stated::the_inlet_s_room_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let diameter = need(&scene.inlet()?.diameter)?;
    let velocity = mean_velocity(scene.largest_flow()?.value, circle_area(diameter.value));
    Ok(Sample::of(Bounds::exactly(velocity.value), diameter.span))
}
