//! How much farther than the duty asks the vehicle may lean before the inlet's cover is gone.

use super::{ObjectKind, Outcome, Spec};
use crate::coverage::margin_beyond;
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Angle;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.tilt_margin",
    kind: ObjectKind::Pan,
    dimension: Angle::DIMENSION,
    over_duty: true,
    meaning: "How much farther than in a state of the duty apparent gravity may lean, the same way, before the inlet's rim lies no deeper than 10 mm below the oil surface, least over the duty; negative is how much too far it leans already",
    formula: "first zero over the tilt of V(T) - V below the plane 10 mm over the highest rim point, less the tilt of the state",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem; 10 mm: common practice",
    range: "Oil at rest as one pool; looked at every 2.5 degrees beyond the state up to 15 deg, of a larger margin only that it is larger is told. A state that lasts less than three first-mode periods is unknown.",
    checked_against: "closed form of a box",
    checked_by: "coverage::under_the_middle_of_a_box_every_direction_uncovers_alike",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    scene.least_bounds_over_duty(scene.inlet_depth_span()?, |point| margin_beyond(scene, point))
}
