//! How much of a baffle is open, for the size of the inlet.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use sumpwright_physics::opening::circle_area;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "baffle.opening_over_inlet",
    kind: ObjectKind::Baffle,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Sum of a baffle's openings over the area of the inlet's bore",
    formula: "openings / (pi D^2 / 4)",
    source: "plain geometry",
    range: "Openings below the baffle's upper edge.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "stated::a_baffle_s_areas_are_those_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let (openings, subject) = scene.baffle_opening(index)?;
    let bore = circle_area(need(&scene.inlet()?.diameter)?.value);
    Ok(Sample::of(Bounds::exactly((openings / bore).value), subject))
}
