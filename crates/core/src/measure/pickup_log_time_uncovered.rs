//! For how long of a recorded drive the rim of the inlet is uncovered.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, Tally};
use crate::quantity::Kind;
use uom::si::f64::Time;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.log_time_uncovered",
    kind: ObjectKind::Pan,
    dimension: Time::DIMENSION,
    over_duty: false,
    meaning: "Time of the recorded drive in which the highest point of the inlet's rim stands out of the oil, the motion low-passed",
    formula: "sum of the time each sample stands for, half of the steps to its neighbours, where the depth of the rim is less than 0",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "As pickup.log_least_rim_depth. What is unknown counts as covered in the lower bound and as uncovered in the upper. Its uncertainty follows, to first order, how deep the rim lies at the ten moments nearest to uncovering.",
    checked_against: "half-angle identity",
    checked_by: "worked::along_a_drive_a_rim_is_bare_for_as_long_as_the_climbs_last",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let run = scene.drive()?;
    let bounds = scene.times_of_drive(&run, Tally::time_below)?;
    let mut sample = Sample::of(bounds, scene.inlet_depth_span()?);
    sample.notes = run.notes();
    Ok(sample)
}
