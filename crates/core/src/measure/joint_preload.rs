//! With how much force each bolt of the pan is drawn up.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Force;

pub(super) const SPEC: Spec = Spec {
    name: "joint.preload",
    kind: ObjectKind::Pan,
    dimension: Force::DIMENSION,
    over_duty: false,
    meaning: "Pull of one of the pan's bolts at the maker's torque",
    formula: "T/(K d), T torque, K torque factor, d thread diameter",
    source: "short-form torque equation (Shigley, chapter 8, from memory)",
    range: "A factor that fits surface and lubricant.",
    checked_against: "Shigley: 10.8 N m at K 0.20 make 9 kN",
    checked_by: "catalogue::the_joint_bears_what_the_standards_say",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (pull, span) = scene.bolt_preload()?;
    Ok(Sample::of(Bounds::exactly(pull.value), span))
}
