//! Whether something stronger is hit before a drain.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Angle;

pub(super) const SPEC: Spec = Spec {
    name: "drain.shadow_angle",
    kind: ObjectKind::Drain,
    dimension: Angle::DIMENSION,
    over_duty: false,
    meaning: "Steepest flat slope, rising forward or rearward, that touches floor or fins before the drain's boss or plug",
    formula: "least, over the ends of boss and plug and both ways, of the largest atan(higher by / behind by) over the corners of floor and fins",
    source: "plain geometry",
    range: "Side view; the skid plate and what stands beside the drain are not counted; 90 deg where it cannot be touched first.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "catalogue::distances_round_a_drain_are_those_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let (angle, subject) = scene.shadow_angle(index)?;
    Ok(Sample::of(Bounds::exactly(angle.value), subject))
}
