//! How high the first swing of a sudden manoeuvre throws the oil.

use super::{ObjectKind, Outcome, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "motion.first_peak",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: true,
    meaning: "Rise of the oil surface at the wall it runs to in the first swing after the acceleration of a state of the duty has come at once, most over the duty",
    formula: "static rise x (1 + exp(-pi z / sqrt(1 - z^2))), z the damping ratio",
    source: "step response of a damped oscillator (Den Hartog, Mechanical Vibrations); hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "Bounds: from the settled rise, for one that builds up slowly, to the first swing with the least damping; waves that break are lower.",
    checked_against: "Den Hartog, Mechanical Vibrations",
    checked_by: "worked::a_sudden_stop_overshoots_as_a_damped_oscillator",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    scene.most_rise(true)
}
