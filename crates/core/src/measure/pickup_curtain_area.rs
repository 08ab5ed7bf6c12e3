//! The cylinder between the inlet's rim and the floor that all oil must pass.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Area;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.curtain_area",
    kind: ObjectKind::Pan,
    dimension: Area::DIMENSION,
    over_duty: false,
    meaning: "Area of the cylinder between the inlet's rim and the floor, through which all oil enters",
    formula: "A = pi D h, h the least gap to the floor; it equals the inlet's area at h = D/4",
    source: "plain geometry",
    range: "A mouth that faces down; unknown for others.",
    checked_against: "plane and solid geometry, worked by hand",
    checked_by: "stated::the_inlet_s_room_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let diameter = need(&scene.inlet()?.diameter)?.value;
    let gap = scene.curtain_gap()?;
    let area = sumpwright_physics::opening::curtain_area(diameter, gap);
    Ok(Sample::of(Bounds::exactly(area.value), scene.inlet_depth_span()?))
}
