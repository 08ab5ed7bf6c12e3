//! At which force a plug tears out its thread.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, metric, need};
use crate::quantity::Kind;
use sumpwright_physics::joint::strip_force;
use uom::si::f64::Force;

pub(super) const SPEC: Spec = Spec {
    name: "drain.strip_force",
    kind: ObjectKind::Drain,
    dimension: Force::DIMENSION,
    over_duty: false,
    meaning: "Pull at which the thread in the drain's boss strips",
    formula: "(pi/P) d [P/2 + (d - D2)/sqrt 3] times the engaged length, times 0.6 of the tensile strength of the pan's metal",
    source: "FED-STD-H28/2B (1991), formula (2a), and ASME B1.1, from memory; the share of 0.6 is common practice, no source",
    range: "Basic sizes, which overstate by 5 to 10 %; a boss of the pan's metal that does not open. A taper thread: unknown.",
    checked_against: "FED-STD-H28/2B (1991)",
    checked_by: "catalogue::a_plug_s_thread_and_seat_bear_the_worked_forces",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let drain = &scene.drain(index)?.value;
    let thread = metric(need(&drain.thread)?)?;
    let engaged = need(&drain.engaged)?;
    let tensile = need(&need(&scene.pan.material)?.tensile)?.value;
    let force = strip_force(&thread, engaged.value, tensile);
    Ok(Sample::of(Bounds::exactly(force.value), engaged.span))
}
