//! How strongly the flow into the inlet draws at the surface.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use sumpwright_physics::opening::{circle_area, mean_velocity};
use sumpwright_physics::vortex::froude;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.froude",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Froude number of the inlet at the largest flow of the pump, at standard gravity",
    formula: "Fr = V / sqrt(g D)",
    source: "definition (ANSI/HI 9.8)",
    range: "Always.",
    checked_against: "20 L/min through 30 mm have Fr = 0.86941152",
    checked_by: "measured::the_inlet_has_its_worked_figures",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let diameter = need(&scene.inlet()?.diameter)?;
    let velocity = mean_velocity(scene.largest_flow()?.value, circle_area(diameter.value));
    let number = froude(velocity, Scene::gravity(), diameter.value);
    Ok(Sample::of(Bounds::exactly(number.value), diameter.span))
}
