//! How much thread a plug needs to break before it strips.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, metric, need};
use crate::quantity::Kind;
use sumpwright_physics::joint::engagement_for_full_strength;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "drain.full_engagement",
    kind: ObjectKind::Drain,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Engaged length from which the plug breaks before its own thread strips, were the boss as strong",
    formula: "2 A_s over the shear area of the outer thread for each unit of length",
    source: "FED-STD-H28/2B, length of engagement, and ASME B1.1, from memory",
    range: "Metric threads, basic sizes; a boss that is weaker than the plug needs more.",
    checked_against: "the engagement by the same standard's rule",
    checked_by: "catalogue::a_plug_s_thread_and_seat_bear_the_worked_forces",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let stated = need(&scene.drain(index)?.value.thread)?;
    let length = engagement_for_full_strength(&metric(stated)?);
    Ok(Sample::of(Bounds::exactly(length.value), stated.span))
}
