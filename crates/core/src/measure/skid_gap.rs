//! What is left between pan and skid plate when the plate is loaded and the mounts have moved.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, Underside, lowest_below_rail, need};
use crate::quantity::{Kind, si};
use uom::si::f64::{Angle, Length};

pub(super) const SPEC: Spec = Spec {
    name: "skid.gap",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Distance from the pan's lowest point to the skid plate, with the plate under its load and the mounts moved down and rolled",
    formula: "top face - load / stiffness - moved down - largest of (depth cos r + |y| sin r) over the pan's underside, r roll",
    source: "statics and plain geometry",
    range: "A plate parallel to the rail that bends evenly; without a stated stiffness bounds between a stiff plate and a flat one; the rounding of outer corners, side walls, heat and dirt are not counted.",
    checked_against: "plane geometry",
    checked_by: "catalogue::a_plate_without_a_stated_stiffness_bounds_the_gap",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let skid = need(&scene.vehicle()?.skid)?;
    let mount = scene.mount()?;
    let roll: Angle = match &*mount.moves_roll {
        crate::quantity::Given::Absent(_) => si(0.0),
        given => need(given)?.value,
    };
    let down: Length = match &*mount.moves_down {
        crate::quantity::Given::Absent(_) => si(0.0),
        given => need(given)?.value,
    };
    let top = need(&skid.top_face)?;
    let (lowest, subject) = lowest_below_rail(scene, roll, Underside::Whole)?;
    let bends = scene.skid_deflection()?;
    let gap = |bends: f64| top.value.value - bends - down.value - lowest.value;
    Ok(Sample::of(Bounds::between(gap(bends.low), gap(bends.high)), subject))
}
