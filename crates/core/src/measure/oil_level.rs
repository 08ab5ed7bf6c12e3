//! Where the oil stands, in words a dipstick would understand.

use super::{ObjectKind, Outcome, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "oil.level_above_rail",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: true,
    meaning: "Height of the oil surface above the rail (negative: below) on the pan's own z axis, least over the duty",
    formula: "z = h / (up . z), h the height of the surface along up",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "Oil at rest, all of it taken as one body; a state that lasts less than three first-mode periods is unknown. Arcs count as chords that lose at most 8 parts in a million of an outline's area; a note says how much of the volume.",
    checked_against: "volume over area and the definition of the coefficient of expansion",
    checked_by: "stated::levels_and_what_turns_above_them_are_volume_over_area",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    scene
        .least_over_duty(scene.fill_span()?, |point| Ok(point.level()?.value / point.attitude.up.z))
}
