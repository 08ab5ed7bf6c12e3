//! How fast the oil goes through the gap under the inlet.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use sumpwright_physics::opening::{curtain_area, mean_velocity};
use uom::si::f64::Velocity;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.curtain_velocity",
    kind: ObjectKind::Pan,
    dimension: Velocity::DIMENSION,
    over_duty: false,
    meaning: "Mean velocity of the oil through the cylinder between the inlet's rim and the floor at the largest stated flow of the pump",
    formula: "v = Q / (pi D h)",
    source: "continuity",
    range: "A mouth that faces down; unknown for others.",
    checked_against: "continuity",
    checked_by: "measured::the_inlet_has_its_worked_figures",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let diameter = need(&scene.inlet()?.diameter)?.value;
    let curtain = curtain_area(diameter, scene.curtain_gap()?);
    let velocity = mean_velocity(scene.largest_flow()?.value, curtain);
    Ok(Sample::of(Bounds::exactly(velocity.value), scene.inlet_depth_span()?))
}
