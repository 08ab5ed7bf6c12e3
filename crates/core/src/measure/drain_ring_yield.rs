//! At which stress a drain's sealing ring gives.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Pressure;

pub(super) const SPEC: Spec = Spec {
    name: "drain.ring_yield",
    kind: ObjectKind::Drain,
    dimension: Pressure::DIMENSION,
    over_duty: false,
    meaning: "Stress at which the drain's sealing ring gives and seals, as stated",
    formula: "as stated",
    source: "read from the document",
    range: "Always.",
    checked_against: "what the description states",
    checked_by: "catalogue::a_plug_s_thread_and_seat_bear_the_worked_forces",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let stated = need(&scene.drain(index)?.value.ring_yields_at)?;
    Ok(Sample::of(Bounds::exactly(stated.value.value), stated.span))
}
