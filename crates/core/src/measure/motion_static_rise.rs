//! How high a manoeuvre piles the oil up at a wall.

use super::{ObjectKind, Outcome, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "motion.static_rise",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: true,
    meaning: "Rise of the oil surface at the wall it runs to, over level ground, when it has come to rest under the acceleration alone of a state of the duty, most over the duty",
    formula: "z(far corner of the rail, tilted) - z(same, level); (L/2)(a/g) in a box with its floor covered",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "Oil at rest, at its hottest; read at the rail's outline, so that walls that lean inward make it a little less.",
    checked_against: "White, Fluid Mechanics, ch. 2",
    checked_by: "worked::a_sudden_stop_overshoots_as_a_damped_oscillator",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    scene.most_rise(false)
}
