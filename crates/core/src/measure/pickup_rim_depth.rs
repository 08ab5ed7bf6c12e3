//! How deep the rim of the inlet lies below the oil surface: whether the pump draws oil or air.

use super::{ObjectKind, Outcome, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.rim_depth",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: true,
    meaning: "Depth of the highest point of the inlet's rim below the surface of its pool, along the surface normal, least over the duty; negative is uncovered",
    formula: "h - up . c - r sqrt((up . e1)^2 + (up . e2)^2), with c the middle of the mouth, r its radius, e1 and e2 its plane",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "Oil at rest, turned slowly from level ground, what ridges and sealed baffles hold back held back; what the pump draws comes back; a state that lasts less than three first-mode periods is unknown. Arcs count as chords that lose at most 8 parts in a million of an outline's area; a note says how much of the volume.",
    checked_against: "volume over area and the definition of the coefficient of expansion",
    checked_by: "stated::levels_and_what_turns_above_them_are_volume_over_area",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let mouth = scene.mouth()?;
    scene.least_over_duty(scene.inlet_depth_span()?, |point| {
        let level = point.at_inlet(&mouth)?.level;
        Ok(mouth.least_depth(point.attitude.up, level).value)
    })
}
