//! Whether the bolts eat the pan.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, anodic_index, need};
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "joint.galvanic_step",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "By how many volts of the anodic index the pan is less noble than its bolts; negative where the bolts are eaten instead",
    formula: "index of the pan's metal - index of the bolts': stainless steel 0.50, steel 0.85, aluminium 0.90, zinc on steel 1.25, magnesium 1.75",
    source: "anodic index as printed in public tables after MIL-STD-889, values from memory",
    range: "Bare metal in salt water; a coat or a washer that isolates is not counted.",
    checked_against: "anodic index",
    checked_by: "catalogue::the_joint_bears_what_the_standards_say",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let metal = need(&scene.flange()?.bolts.metal)?;
    let pan = need(&need(&scene.pan.material)?.metal)?;
    let step = anodic_index(pan.value) - anodic_index(metal.value);
    Ok(Sample::of(Bounds::exactly(step), metal.span))
}
