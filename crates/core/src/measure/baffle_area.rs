//! How large a baffle is.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Area;

pub(super) const SPEC: Spec = Spec {
    name: "baffle.area",
    kind: ObjectKind::Baffle,
    dimension: Area::DIMENSION,
    over_duty: false,
    meaning: "Area of the passage that a baffle stands across, from its upper edge to its foot",
    formula: "area between upper edge and floor or foot along the baffle's line, out to the walls where its sides are sealed",
    source: "plain geometry",
    range: "Openings are not taken off.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "stated::a_baffle_s_areas_are_those_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let (area, subject) = scene.baffle_area(index)?;
    Ok(Sample::of(Bounds::exactly(area.value), subject))
}
