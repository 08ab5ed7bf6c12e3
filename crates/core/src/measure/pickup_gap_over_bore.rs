//! How high the inlet hangs over the floor, for its size.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.gap_over_bore",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Least gap between the inlet's rim and the floor below it over the inlet's bore",
    formula: "h / D",
    source: "plain geometry",
    range: "Any mouth; as for the gap itself.",
    checked_against: "plane and solid geometry, worked by hand",
    checked_by: "stated::the_inlet_s_room_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let diameter = need(&scene.inlet()?.diameter)?.value;
    Ok(Sample::of(
        Bounds::exactly((scene.floor_gap()? / diameter).value),
        scene.inlet_depth_span()?,
    ))
}
