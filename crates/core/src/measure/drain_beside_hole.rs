//! How far a drain misses the hole in the skid plate.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "drain.beside_hole",
    kind: ObjectKind::Drain,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Distance in plan from the drain's mouth to the edge of the nearest hole of the skid plate; negative over the hole",
    formula: "distance of the middles - hole / 2",
    source: "plain geometry",
    range: "Oil that falls straight; a side drain throws it farther at first. Unknown for a plate without holes.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "catalogue::distances_round_a_drain_are_those_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let subject = need(&scene.drain(index)?.value.at)?.span;
    Ok(Sample::of(Bounds::exactly(scene.beside_hole(index)?.value), subject))
}
