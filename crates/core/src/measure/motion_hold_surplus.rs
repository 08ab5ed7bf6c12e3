//! Whether a compartment outlasts the short manoeuvres.

use super::{Bounds, ObjectKind, Outcome, Spec};
use crate::model::{Scene, Which};
use crate::quantity::Kind;
use uom::si::f64::Time;

pub(super) const SPEC: Spec = Spec {
    name: "motion.hold_surplus",
    kind: ObjectKind::Pan,
    dimension: Time::DIMENSION,
    over_duty: true,
    meaning: "Time that the room round the inlet keeps the rim covered less how long the state lasts, least over the states that are too short for the oil to come to rest",
    formula: "t = integral of A dh / (sum of C a sqrt(2 g' (h - z)) + Q), C 0.61 or 0.8, from the brim or the oil held before to the highest rim point, less the stated duration",
    source: "Torricelli with a constant draw",
    range: "A bound: at least this, since thick oil leaves more slowly and the neighbour is taken as empty; baffles sealed to the walls and standing on the floor, others do not hold. Areas by columns, within a few per cent.",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let room = scene.compartment()?;
    scene.least_over(Which::Short, scene.inlet_depth_span()?, |point| {
        let lasts = point.state.lasts.map_or(f64::INFINITY, |time| time.value.value);
        Ok(Bounds::at_least(scene.holds(&room, point)? - lasts))
    })
}
