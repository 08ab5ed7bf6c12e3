//! Whether a spanner gets at the plug.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "drain.spanner_room",
    kind: ObjectKind::Drain,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Room left round the socket on the drain's plug: in the skid plate's hole for one that points down, over the plate for one that points sideways",
    formula: "downward: hole / 2 - distance of the axes - socket / 2; sideways: plate's top face - depth - socket / 2",
    source: "plain geometry",
    range: "A plate at rest; the way of a ratchet's handle is not counted.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "catalogue::distances_round_a_drain_are_those_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let subject = need(&scene.drain(index)?.value.at)?.span;
    Ok(Sample::of(Bounds::exactly(scene.spanner_room(index)?.value), subject))
}
