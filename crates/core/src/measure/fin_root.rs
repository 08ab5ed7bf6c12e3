//! How thick a fin is where it meets the floor.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "fin.root",
    kind: ObjectKind::FinSet,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Thickness of a fin at its root, as stated",
    formula: "as stated",
    source: "read from the document",
    range: "Always.",
    checked_against: "NIST SP 811, appendix B.8",
    checked_by: "stated::what_a_document_states_is_read_with_its_unit",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let stated = need(&scene.fin_set(index)?.root)?;
    Ok(Sample::of(Bounds::exactly(stated.value.value), stated.span))
}
