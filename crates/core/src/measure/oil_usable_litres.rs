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
    meaning: "Oil of the inlet's pool above the highest point of its rim, along the surface normal, least over the duty; negative is what is short",
    formula: "V_usable = V of the pool - V below the plane normal to up through the highest rim point in the body round the inlet - what falls behind lips on the way down",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "Oil at rest, turned slowly from level ground, what ridges and sealed baffles hold back held back; a state that lasts less than three first-mode periods is unknown. Arcs count as chords that lose at most 8 parts in a million of an outline's area; a note says how much of the volume.",
    checked_against: "volume over area and the definition of the coefficient of expansion",
    checked_by: "stated::levels_and_what_turns_above_them_are_volume_over_area",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let mouth = scene.mouth()?;
    scene.least_over_duty(scene.inlet_depth_span()?, |point| Ok(point.usable(&mouth)?.value))
}
