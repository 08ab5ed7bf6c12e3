//! How far the inlet is from what the formulas for whirls were made for.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use sumpwright_physics::opening::{circle_area, mean_velocity};
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.reynolds",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Reynolds number in the inlet's bore at the largest flow of the pump and the hottest oil of the duty",
    formula: "Re = V D / v",
    source: "definition",
    range: "Always. Scale effects on whirls end at about 30 000 (Daggett and Keulegan 1974, from memory).",
    checked_against: "continuity",
    checked_by: "measured::the_inlet_has_its_worked_figures",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let diameter = need(&scene.inlet()?.diameter)?;
    let velocity = mean_velocity(scene.largest_flow()?.value, circle_area(diameter.value));
    let thickness = scene.viscosity_at(scene.hottest()?)?;
    let reynolds = |viscosity: f64| velocity.value * diameter.value.value / viscosity;
    let (low, high) = (reynolds(thickness.bounds.high), reynolds(thickness.bounds.low));
    Ok(Sample::of(Bounds { low, high }, diameter.span))
}
