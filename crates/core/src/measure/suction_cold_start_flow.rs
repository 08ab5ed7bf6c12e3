//! What the pump draws at the coldest start.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::VolumeRate;

pub(super) const SPEC: Spec = Spec {
    name: "suction.cold_start_flow",
    kind: ObjectKind::Pan,
    dimension: VolumeRate::DIMENSION,
    over_duty: false,
    meaning: "Flow of the pump at the duty's cold start, as stated",
    formula: "as stated",
    source: "read from the document",
    range: "Always.",
    checked_against: "NIST SP 811, appendix B.8",
    checked_by: "stated::what_a_document_states_is_read_with_its_unit",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (_, flow) = scene.cold_start()?;
    Ok(Sample::of(Bounds::exactly(flow.value.value), flow.span))
}
