//! How much metal stands round a plug.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "drain.boss",
    kind: ObjectKind::Drain,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Outer diameter of the drain's boss, as stated",
    formula: "as stated",
    source: "read from the document",
    range: "Always.",
    checked_against: "NIST SP 811, appendix B.8",
    checked_by: "stated::what_a_document_states_is_read_with_its_unit",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let stated = need(&scene.drain(index)?.value.boss)?;
    Ok(Sample::of(Bounds::exactly(stated.value.value), stated.span))
}
