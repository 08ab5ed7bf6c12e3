//! The strength that the description states.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Pressure;

pub(super) const SPEC: Spec = Spec {
    name: "material.yield",
    kind: ObjectKind::Pan,
    dimension: Pressure::DIMENSION,
    over_duty: false,
    meaning: "Yield strength of the pan's material, as stated",
    formula: "as stated",
    source: "read from the document",
    range: "Always.",
    checked_against: "NIST SP 811, appendix B.8",
    checked_by: "stated::what_a_document_states_is_read_with_its_unit",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let stated = need(&need(&scene.pan.material)?.yield_strength)?;
    Ok(Sample::of(Bounds::exactly(stated.value.value), stated.span))
}
