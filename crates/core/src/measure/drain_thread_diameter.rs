//! How large a plug's thread is.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "drain.thread_diameter",
    kind: ObjectKind::Drain,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Nominal diameter of the drain plug's thread, by its designation",
    formula: "d of M d x P",
    source: "ISO 68-1 and ISO 261, from memory",
    range: "Metric threads; of a taper pipe thread the outer diameter of the pipe.",
    checked_against: "ASME B1.20.1",
    checked_by: "catalogue::a_taper_thread_has_no_preload",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let thread = need(&scene.drain(index)?.value.thread)?;
    Ok(Sample::of(Bounds::exactly(thread.diameter.value), thread.span))
}
