//! How much oil may leave the pan before the inlet's rim begins to uncover, in the worst state of the duty.

use super::{ObjectKind, Outcome, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Volume;

pub(super) const SPEC: Spec = Spec {
    name: "oil.usable_litres",
    kind: ObjectKind::Pan,
    dimension: Volume::DIMENSION,
    over_duty: true,
    meaning: "Oil above the highest point of the inlet's rim, along the surface normal, least over the duty; negative is what is short",
    formula: "V_usable = V(T) - V below the plane normal to up through the highest rim point",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "Oil at rest; a state that lasts less than three first-mode periods is unknown. Arcs count as chords that lose at most 8 parts in a million of an outline's area.",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let mouth = scene.mouth()?;
    scene.least_over_duty(scene.inlet_depth_span()?, |point| {
        let up = point.attitude.up;
        Ok(point.volume.value - point.world.below(up, mouth.highest(up)).value)
    })
}
