//! What a plug presses its ring with.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::{Scene, metric, need};
use crate::quantity::Kind;
use sumpwright_physics::joint::{preload, ring_stress};
use uom::si::f64::Pressure;

pub(super) const SPEC: Spec = Spec {
    name: "drain.seat_stress",
    kind: ObjectKind::Drain,
    dimension: Pressure::DIMENSION,
    over_duty: false,
    meaning: "Mean stress under the drain's sealing ring at the maker's torque",
    formula: "F/(pi/4 (D^2 - d^2)), F preload, D and d outer and inner diameter of the ring",
    source: "force over area",
    range: "A flat ring that lies on all of its face; metric threads.",
    checked_against: "14.2 by 18 mm (DIN 7603, from memory) 92.907897 MPa",
    checked_by: "catalogue::a_plug_s_thread_and_seat_bear_the_worked_forces",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let drain = &scene.drain(index)?.value;
    let thread = metric(need(&drain.thread)?)?;
    let pull =
        preload(need(&drain.torque)?.value, need(&drain.torque_factor)?.value, thread.nominal);
    let [inner, outer] = *need(&drain.ring)?;
    let stress = ring_stress(pull, inner.value, outer.value)
        .ok_or_else(|| Unknown::because("the ring is no wider outside than inside"))?;
    Ok(Sample::of(Bounds::exactly(stress.value), outer.span))
}
