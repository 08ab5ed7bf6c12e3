//! Which share of the oil stays in the pan when a drain has run dry.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "drain.residual_share",
    kind: ObjectKind::Drain,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "What stays in the pan when the drain has run dry, over the oil in pan and case at the check",
    formula: "residual / litres at the check",
    source: "minimax paths over the surface (priority flood, Barnes et al., Computers & Geosciences 62 (2014), from memory)",
    range: "As for what stays; bounds where the fill is known only within bounds.",
    checked_against: "elementary: what lies below a side drain",
    checked_by: "published::a_side_drain_leaves_what_lies_below_its_bore",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let drained = scene.drained(index)?;
    let fill = scene.in_all_worlds(|world| Ok(scene.volume_at_check(world)?.value))?;
    if fill.low <= 0.0 {
        return Err(super::Unknown::because("the check leaves no oil in the pan"));
    }
    let bounds = Bounds::between(drained.stays.low / fill.high, drained.stays.high / fill.low);
    let mut sample = Sample::of(bounds, drained.subject);
    sample.notes = drained.notes;
    Ok(sample)
}
