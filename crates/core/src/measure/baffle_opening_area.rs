//! How much oil a baffle lets through.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Area;

pub(super) const SPEC: Spec = Spec {
    name: "baffle.opening_area",
    kind: ObjectKind::Baffle,
    dimension: Area::DIMENSION,
    over_duty: false,
    meaning: "Sum of the openings of a baffle: its stated openings, and the gaps at its ends and foot where it is not sealed",
    formula: "circles pi d^2/4, slots (l - w) w + pi w^2/4, rectangles l w, gaps by the floor's profile along the baffle's line",
    source: "plain geometry",
    range: "Openings below the baffle's upper edge; oil over the top is not counted.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "stated::a_baffle_s_areas_are_those_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let (area, subject) = scene.baffle_opening(index)?;
    Ok(Sample::of(Bounds::exactly(area.value), subject))
}
