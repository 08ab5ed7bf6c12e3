//! The inlet's own area.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Area;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.inlet_area",
    kind: ObjectKind::Pan,
    dimension: Area::DIMENSION,
    over_duty: false,
    meaning: "Area of the inlet's bore at its mouth",
    formula: "A = pi D^2 / 4",
    source: "plain geometry",
    range: "Always.",
    checked_against: "plane and solid geometry, worked by hand",
    checked_by: "stated::the_inlet_s_room_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let diameter = need(&scene.inlet()?.diameter)?;
    let area = sumpwright_physics::opening::circle_area(diameter.value);
    Ok(Sample::of(Bounds::exactly(area.value), diameter.span))
}
