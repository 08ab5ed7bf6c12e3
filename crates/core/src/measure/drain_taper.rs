//! Whether a plug's thread is tapered.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use sumpwright_physics::pipe_thread::TAPER;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "drain.taper",
    kind: ObjectKind::Drain,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "By how much the drain's thread grows in diameter over its length: nothing for a metric thread",
    formula: "1/16 for a taper pipe thread, 0 for a metric one",
    source: "ASME B1.20.1 (seen in public text); ISO 68-1",
    range: "Metric threads, and NPT from 1/8 to 1/2.",
    checked_against: "ASME B1.20.1",
    checked_by: "catalogue::a_taper_thread_has_no_preload",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let thread = need(&scene.drain(index)?.value.thread)?;
    let taper = if thread.taper { TAPER } else { 0.0 };
    Ok(Sample::of(Bounds::exactly(taper), thread.span))
}
