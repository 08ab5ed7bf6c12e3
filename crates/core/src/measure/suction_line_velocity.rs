//! How fast the oil goes through the line to the pump.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use sumpwright_physics::opening::{circle_area, mean_velocity};
use uom::si::f64::Velocity;

pub(super) const SPEC: Spec = Spec {
    name: "suction.line_velocity",
    kind: ObjectKind::Pan,
    dimension: Velocity::DIMENSION,
    over_duty: false,
    meaning: "Mean velocity of the oil in the line from mouth to pump at the largest stated flow of the pump",
    formula: "v = Q / A",
    source: "continuity",
    range: "Any flow; the mean over the bore.",
    checked_against: "continuity",
    checked_by: "measured::the_pressure_at_the_pump_is_bernoullis",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let bore = need(&scene.line()?.bore)?;
    let velocity = mean_velocity(scene.largest_flow()?.value, circle_area(bore.value));
    Ok(Sample::of(Bounds::exactly(velocity.value), bore.span))
}
