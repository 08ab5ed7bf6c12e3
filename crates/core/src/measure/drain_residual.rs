//! What stays in the pan when a drain has run dry.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Volume;

pub(super) const SPEC: Spec = Spec {
    name: "drain.residual",
    kind: ObjectKind::Drain,
    dimension: Volume::DIMENSION,
    over_duty: false,
    meaning: "Oil that stays in the pan when the drain has run dry at the parking attitude: its own pool and those cut off from it",
    formula: "each pool: volume below the lowest height over which its oil can still reach the drain's lowest point",
    source: "minimax paths over the surface (priority flood, Barnes et al., Computers & Geosciences 62 (2014), from memory)",
    range: "Pools cut off by floors and walls; a baffle is not taken as a dam; what hangs in a pool is taken out, as bounds where two pools meet under it.",
    checked_against: "elementary: what lies below a side drain",
    checked_by: "published::a_side_drain_leaves_what_lies_below_its_bore",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let drained = scene.drained(index)?;
    let mut sample = Sample::of(drained.stays, drained.subject);
    sample.notes = drained.notes;
    Ok(sample)
}
