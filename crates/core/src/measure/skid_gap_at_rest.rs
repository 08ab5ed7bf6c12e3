//! What is left between pan and skid plate when nothing moves.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, Underside, lowest_below_rail, need};
use crate::quantity::{Kind, si};
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "skid.gap_at_rest",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Distance from the pan's lowest point to the skid plate at rest",
    formula: "top face - lowest depth of floor, fins and drains",
    source: "plain geometry",
    range: "A plate parallel to the rail; the rounding of outer corners is not counted.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "stated::what_hangs_lowest_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let skid = need(&scene.vehicle()?.skid)?;
    let (lowest, subject) = lowest_below_rail(scene, si(0.0), Underside::Whole)?;
    let gap = need(&skid.top_face)?.value.value - lowest.value;
    Ok(Sample::of(Bounds::exactly(gap), subject))
}
