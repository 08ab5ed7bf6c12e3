//! How far a drain's boss stays below the rail.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need, placed_drain};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "drain.to_rail",
    kind: ObjectKind::Drain,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Depth of the highest point of the drain's boss below the gasket plane",
    formula: "sideways: depth - boss / 2; downward: depth",
    source: "plain geometry",
    range: "A boss as wide at the wall as outside.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "catalogue::distances_round_a_drain_are_those_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let drain = scene.drain(index)?;
    let placed = placed_drain(scene, drain)?;
    let half = need(&drain.value.boss)?.value.value / 2.0;
    // A boss that hangs has its highest point on the wall itself.
    let up = if placed.axis.z.abs() > 0.5 { 0.0 } else { half };
    let subject = need(&drain.value.at)?.z.span;
    Ok(Sample::of(Bounds::exactly(-placed.middle.z - up), subject))
}
