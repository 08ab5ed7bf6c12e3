//! What one of the pan's bolts bears without growing longer.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need, proof_stress};
use crate::quantity::Kind;
use sumpwright_physics::joint::proof_force;
use uom::si::f64::Force;

pub(super) const SPEC: Spec = Spec {
    name: "joint.proof_force",
    kind: ObjectKind::Pan,
    dimension: Force::DIMENSION,
    over_duty: false,
    meaning: "Proof load of one of the pan's bolts by its property class",
    formula: "A_s S_p; S_p 310, 380, 580, 830, 970 MPa for 4.8, 5.8, 8.8, 10.9, 12.9",
    source: "ISO 898-1, from memory (8.8: table seen in public text)",
    range: "Steel bolts up to M16.",
    checked_against: "ISO 898-1",
    checked_by: "catalogue::the_joint_bears_what_the_standards_say",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let class = need(&scene.flange()?.bolts.class)?;
    let force = proof_force(&scene.bolt()?, proof_stress(class.value));
    Ok(Sample::of(Bounds::exactly(force.value), class.span))
}
