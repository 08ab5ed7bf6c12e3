//! At which force a bolt tears out the case's thread.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use sumpwright_physics::joint::strip_force;
use uom::si::f64::Force;

pub(super) const SPEC: Spec = Spec {
    name: "joint.strip_force",
    kind: ObjectKind::Pan,
    dimension: Force::DIMENSION,
    over_duty: false,
    meaning: "Pull at which a thread of the pan's bolts strips in the case",
    formula: "(pi/P) d [P/2 + (d - D2)/sqrt 3] times the engaged length, times 0.6 of the tensile strength of the case",
    source: "FED-STD-H28/2B (1991), formula (2a), and ASME B1.1, from memory; the share of 0.6 is common practice, no source",
    range: "Basic sizes, which overstate by 5 to 10 %.",
    checked_against: "FED-STD-H28/2B",
    checked_by: "catalogue::the_joint_bears_what_the_standards_say",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let engaged = need(&scene.flange()?.bolts.engaged)?;
    let tensile = need(&need(&scene.vehicle()?.case)?.tensile)?.value;
    let force = strip_force(&scene.bolt()?, engaged.value, tensile);
    Ok(Sample::of(Bounds::exactly(force.value), engaged.span))
}
