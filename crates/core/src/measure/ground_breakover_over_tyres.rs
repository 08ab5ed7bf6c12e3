//! The sharpest ridge the vehicle drives over, its tyres counted.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use sumpwright_physics::ramp::breakover_angle_over_tyres;
use uom::si::f64::Angle;

pub(super) const SPEC: Spec = Spec {
    name: "ground.breakover_over_tyres",
    kind: ObjectKind::Pan,
    dimension: Angle::DIMENSION,
    over_duty: false,
    meaning: "Ramp breakover angle over the lowest of pan and skid plate, taken at the pan's origin, with tyres",
    formula: "sum over both sides of the slope t of (R - h) cos t + a sin t = R, h clearance, a distance to the axle, R loaded radius",
    source: "wording of 49 CFR 523.2 and SAE J1100, from memory",
    range: "The pan's origin between the tyres; front and rear tyres alike. Other parts of the belly are not known here.",
    checked_against: "49 CFR 523.2 / SAE J1100",
    checked_by: "catalogue::tyres_add_to_the_breakover_angle",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let mount = scene.mount()?;
    let (depth, subject) = scene.belly_depth()?;
    let vehicle = scene.vehicle()?;
    let height = need(&mount.above_ground)?.value - depth;
    let behind = need(&mount.behind_front_axle)?.value;
    let (wheelbase, radius) = (need(&vehicle.wheelbase)?.value, need(&vehicle.tyre_radius)?.value);
    let angle = breakover_angle_over_tyres(height, behind, wheelbase, radius).ok_or_else(|| {
        Unknown::because("the pan does not hang between the tyres, over the ground")
    })?;
    Ok(Sample::of(Bounds::exactly(angle.value), subject))
}
