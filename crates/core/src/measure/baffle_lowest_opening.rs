//! How high over the floor a baffle's lowest opening begins: what a bay keeps when it is drained.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "baffle.lowest_opening",
    kind: ObjectKind::Baffle,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Height over the deepest floor along the baffle of the lowest point of its openings; 0 where its foot is open",
    formula: "deepest floor along the baffle - (depth + height / 2) of the lowest opening",
    source: "plain geometry",
    range: "The floor along the baffle's line; a floor that is deeper beside it keeps oil that this does not count.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "stated::a_baffle_s_areas_are_those_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let (height, subject) = scene.baffle_lowest_opening(index)?;
    Ok(Sample::of(Bounds::exactly(height.value), subject))
}
