//! How fast the oil goes through a baffle.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::Scene;
use crate::quantity::Kind;
use sumpwright_physics::opening::mean_velocity;
use uom::si::f64::Velocity;

pub(super) const SPEC: Spec = Spec {
    name: "baffle.opening_velocity",
    kind: ObjectKind::Baffle,
    dimension: Velocity::DIMENSION,
    over_duty: false,
    meaning: "Mean velocity of the oil through a baffle's openings when all that the pump draws at its largest flow comes through them",
    formula: "v = Q / A",
    source: "continuity",
    range: "Openings below the baffle's upper edge; oil over the top makes it less.",
    checked_against: "orifice equation: 20 L/min through 20 mm take 154.2579 mm at 1.061033 m/s",
    checked_by: "measured::a_compartment_holds_and_a_hole_takes_its_head",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let (openings, subject) = scene.baffle_opening(index)?;
    if openings.value <= 0.0 {
        return Err(Unknown::because("the baffle has no opening"));
    }
    let velocity = mean_velocity(scene.largest_flow()?.value, openings);
    Ok(Sample::of(Bounds::exactly(velocity.value), subject))
}
