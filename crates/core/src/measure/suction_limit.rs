//! What the pump needs.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Pressure;

pub(super) const SPEC: Spec = Spec {
    name: "suction.limit",
    kind: ObjectKind::Pan,
    dimension: Pressure::DIMENSION,
    over_duty: false,
    meaning: "Lowest absolute pressure that the pump's maker allows at its inlet, as stated",
    formula: "as stated",
    source: "read from the document",
    range: "Always.",
    checked_against: "NIST SP 811, appendix B.8",
    checked_by: "stated::what_a_document_states_is_read_with_its_unit",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let stated = need(&need(&scene.vehicle()?.pump)?.suction_limit)?;
    Ok(Sample::of(Bounds::exactly(stated.value.value), stated.span))
}
