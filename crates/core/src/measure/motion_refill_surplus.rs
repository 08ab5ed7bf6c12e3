//! Whether a compartment fills as fast as the pump empties it.

use super::{ObjectKind, Outcome, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::VolumeRate;

pub(super) const SPEC: Spec = Spec {
    name: "motion.refill_surplus",
    kind: ObjectKind::Pan,
    dimension: VolumeRate::DIMENSION,
    over_duty: true,
    meaning: "Flow into the room round the inlet through its baffles with its rim just covered, less what the pump draws, oil outside at rest, least over the duty",
    formula: "sum of a V - Q, V from H = V^2/2g (1/0.61^2 + 12 pi/Re) + 32 v l V/(g d^2) at least and sqrt(2 g H) at most, H from the surface outside to the rim or the opening",
    source: "orifice equation and Poiseuille (White, Fluid Mechanics); Sampson's creeping flow (Happel and Brenner, from memory)",
    range: "Bounds; more than this where oil runs over the baffles. A state that lasts less than three first-mode periods is unknown.",
    checked_against: "orifice equation (White, Fluid Mechanics; Idelchik sec. 4)",
    checked_by: "worked::a_bay_refills_by_the_orifice_equation",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let room = scene.compartment()?;
    scene.least_bounds_over_duty(scene.inlet_depth_span()?, |point| scene.refills(&room, point))
}
