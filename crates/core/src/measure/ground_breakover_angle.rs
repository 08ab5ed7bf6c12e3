//! The sharpest ridge the vehicle drives over without touching it with its belly.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use sumpwright_physics::ramp::breakover_angle;
use uom::si::f64::Angle;

pub(super) const SPEC: Spec = Spec {
    name: "ground.breakover_angle",
    kind: ObjectKind::Pan,
    dimension: Angle::DIMENSION,
    over_duty: false,
    meaning: "Ramp breakover angle over the lowest of pan and skid plate, taken at the pan's origin, with wheels as points",
    formula: "atan(h/a) + atan(h/(L - a)), h clearance, a distance behind the front axle, L wheelbase",
    source: "ISO 612 / SAE J689 geometry, from memory",
    range: "The pan's origin between the axles; tyres give a little more. Other parts of the belly are not known here.",
    checked_against: "ISO 612 / SAE J689",
    checked_by: "stated::what_hangs_lowest_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let mount = scene.mount()?;
    let (depth, subject) = scene.belly_depth()?;
    let height = need(&mount.above_ground)?.value - depth;
    let behind = need(&mount.behind_front_axle)?.value;
    let wheelbase = need(&scene.vehicle()?.wheelbase)?.value;
    let angle = breakover_angle(height, behind, wheelbase).ok_or_else(|| {
        super::Unknown::because("the pan does not hang between the axles, over the ground")
    })?;
    Ok(Sample::of(Bounds::exactly(angle.value), subject))
}
