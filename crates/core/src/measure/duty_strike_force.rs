//! How hard the duty says the pan is struck.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Force;

pub(super) const SPEC: Spec = Spec {
    name: "duty.strike_force",
    kind: ObjectKind::Pan,
    dimension: Force::DIMENSION,
    over_duty: false,
    meaning: "Force of the strike that the duty states",
    formula: "as stated",
    source: "read from the document",
    range: "Always.",
    checked_against: "NIST SP 811, appendix B.8",
    checked_by: "stated::what_a_document_states_is_read_with_its_unit",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let stated = need(&scene.duty()?.strike_force)?;
    Ok(Sample::of(Bounds::exactly(stated.value.value), stated.span))
}
