//! How much of the oil is there to be drawn, litre for litre.

use super::{ObjectKind, Outcome, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "oil.usable_share",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: true,
    meaning: "Oil above the highest point of the inlet's rim over all oil in pan and case, least over the duty",
    formula: "(V(T) - V below the plane normal to up through the highest rim point) / V(T)",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "Oil at rest; a state that lasts less than three first-mode periods is unknown.",
    checked_against: "4.652 L of 5.3 L stand over 6 mm of a box",
    checked_by: "measured::the_inlet_has_its_worked_figures",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let mouth = scene.mouth()?;
    scene.least_over_duty(scene.inlet_depth_span()?, |point| {
        let up = point.attitude.up;
        Ok(1.0 - (point.world.below(scene, up, mouth.highest(up)) / point.volume).value)
    })
}
