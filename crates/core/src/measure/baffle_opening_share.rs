//! How much of a baffle is open.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "baffle.opening_share",
    kind: ObjectKind::Baffle,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Sum of a baffle's openings over its area",
    formula: "openings / area",
    source: "plain geometry",
    range: "Openings below the baffle's upper edge.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "stated::a_baffle_s_areas_are_those_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let (openings, subject) = scene.baffle_opening(index)?;
    let (area, _) = scene.baffle_area(index)?;
    Ok(Sample::of(Bounds::exactly((openings / area).value), subject))
}
