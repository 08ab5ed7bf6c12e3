//! How far a bolt may move in its hole.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "joint.hole_room",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Room round a bolt in its hole in the rail",
    formula: "(hole - thread) / 2",
    source: "plain geometry",
    range: "A bolt in the middle of its hole.",
    checked_against: "half of what a hole is wider than its bolt",
    checked_by: "catalogue::the_joint_bears_what_the_standards_say",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let hole = need(&scene.flange()?.bolts.hole)?;
    let room = (hole.value - scene.bolt()?.nominal) / 2.0;
    Ok(Sample::of(Bounds::exactly(room.value), hole.span))
}
