//! How far the pan hangs down, its drains not counted.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, Underside, lowest_below_rail};
use crate::quantity::{Kind, si};
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "pan.lowest_depth",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Depth below the rail of the lowest point of the pan's floor and fins, drains not counted",
    formula: "largest of depth + floor thickness, + fin height",
    source: "plain geometry",
    range: "The rounding of outer corners is not counted.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "stated::what_hangs_lowest_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (depth, subject) = lowest_below_rail(scene, si(0.0), Underside::WithoutDrains)?;
    Ok(Sample::of(Bounds::exactly(depth.value), subject))
}
