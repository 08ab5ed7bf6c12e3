//! With how much force a plug is drawn up.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, metric, need};
use crate::quantity::Kind;
use sumpwright_physics::joint::preload;
use uom::si::f64::Force;

pub(super) const SPEC: Spec = Spec {
    name: "drain.preload",
    kind: ObjectKind::Drain,
    dimension: Force::DIMENSION,
    over_duty: false,
    meaning: "Pull of the drain plug at the maker's torque",
    formula: "T/(K d), T torque, K torque factor, d thread diameter",
    source: "short-form torque equation (Shigley, chapter 8, from memory)",
    range: "Metric threads; a factor that fits surface and lubricant. A taper thread wedges: unknown.",
    checked_against: "Shigley, ch. 8: 25 N m at K 0.20 make 8.9285714 kN",
    checked_by: "catalogue::a_plug_s_thread_and_seat_bear_the_worked_forces",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let drain = &scene.drain(index)?.value;
    let thread = metric(need(&drain.thread)?)?;
    let torque = need(&drain.torque)?;
    let pull = preload(torque.value, need(&drain.torque_factor)?.value, thread.nominal);
    Ok(Sample::of(Bounds::exactly(pull.value), torque.span))
}
