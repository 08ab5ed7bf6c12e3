//! How long the oil takes to run out.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Time;

pub(super) const SPEC: Spec = Spec {
    name: "drain.emptying_time",
    kind: ObjectKind::Drain,
    dimension: Time::DIMENSION,
    over_duty: false,
    meaning: "Time in which the hottest oil runs out of the drain at the parking attitude, from the level of the standing engine down to 1 mm over the opening's middle",
    formula: "between the integral of A(h) dh/(C_d a sqrt(2 g h)), C_d 0.61, and that with the friction of a laminar flow along the engaged length added, both down to 1 mm over the middle of the opening",
    source: "Torricelli with a discharge coefficient, Hagen-Poiseuille (White, Fluid Mechanics, from memory)",
    range: "Head over the middle of the opening; pools that stay behind count in the surface; what drips afterwards does not.",
    checked_against: "Torricelli with C_d 0.61 (White, ch. 3)",
    checked_by: "catalogue::a_straight_pan_empties_in_the_worked_time",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let subject = need(&scene.drain(index)?.value.at)?.span;
    Ok(Sample::of(scene.emptying(index)?, subject))
}
