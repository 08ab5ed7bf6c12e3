//! How far apparent gravity leans in a state of the duty.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, StateValue, Unknown, Worst};
use crate::coverage::duty_marks;
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Angle;

pub(super) const SPEC: Spec = Spec {
    name: "duty.apparent_tilt",
    kind: ObjectKind::Pan,
    dimension: Angle::DIMENSION,
    over_duty: true,
    meaning: "Angle between the vehicle's up and apparent gravity, most over the duty: slopes and accelerations at once",
    formula: "tan(t) = |across| / along of up - a/g in the vehicle frame, a the acceleration; climb and side slope as an inclinometer shows them",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2)",
    range: "Always; how the pan stands in the vehicle is not counted.",
    checked_against: "hydrostatics in an accelerated frame: 41.862219 deg",
    checked_by: "worked::slopes_and_accelerations_lean_apparent_gravity_as_worked",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let oil_temperature = scene.hottest()?.value;
    let marks = duty_marks(scene)?;
    let states: Vec<StateValue> = marks
        .into_iter()
        .map(|mark| {
            let at = Worst { state: mark.state, point: None, span: mark.span, oil_temperature };
            StateValue { at, bounds: Ok(Bounds::exactly(mark.tilt)) }
        })
        .collect();
    let tilt = |state: &StateValue| state.bounds.as_ref().map_or(f64::NAN, |bounds| bounds.low);
    let worst = states
        .iter()
        .reduce(|a, b| if tilt(b) > tilt(a) { b } else { a })
        .ok_or_else(|| Unknown::because("the duty holds no state"))?;
    let mut sample = Sample::of(Bounds::exactly(tilt(worst)), need(&scene.duty()?.states)?.span);
    sample.worst = Some(worst.at.clone());
    sample.states = states;
    Ok(sample)
}
