//! How long a compartment keeps the inlet covered when the oil round it has run away.

use super::{Bounds, ObjectKind, Outcome, Spec};
use crate::model::{Scene, Which};
use crate::quantity::Kind;
use uom::si::f64::Time;

pub(super) const SPEC: Spec = Spec {
    name: "motion.hold_time",
    kind: ObjectKind::Pan,
    dimension: Time::DIMENSION,
    over_duty: true,
    meaning: "Time that the room round the inlet, enclosed by baffles, keeps the rim covered while the pump draws and its neighbours are empty, least over the duty",
    formula: "t = integral of A dh / (sum of C a sqrt(2 g' (h - z)) + Q), C 0.61 or 0.8, from the brim or the oil held before to the highest rim point",
    source: "Torricelli with a constant draw",
    range: "A bound: at least this, since thick oil leaves more slowly and the neighbour is taken as empty; baffles sealed to the walls and standing on the floor, others do not hold. Upright walls exactly, others by columns, within a few per cent.",
    checked_against: "Torricelli, closed form",
    checked_by: "measured::a_compartment_holds_and_a_hole_takes_its_head",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let room = scene.compartment()?;
    scene.least_over(Which::All, scene.inlet_depth_span()?, |point| {
        Ok(Bounds::at_least(scene.holds(&room, point)?))
    })
}
