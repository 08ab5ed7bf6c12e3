//! How far a baffle stands out of the oil.

use super::{ObjectKind, Outcome, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "baffle.freeboard",
    kind: ObjectKind::Baffle,
    dimension: Length::DIMENSION,
    over_duty: true,
    meaning: "Height of the lower end of a baffle's upper edge over the oil surface, along its normal, least over the duty; negative is below the oil",
    formula: "up . end - h, the lower of both ends",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "Oil at rest; a state that lasts less than three first-mode periods is unknown.",
    checked_against: "elementary: a level over an edge",
    checked_by: "measured::a_compartment_holds_and_a_hole_takes_its_head",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let (ends, subject) = scene.baffle_edge(index)?;
    scene.least_over_duty(subject, |point| {
        let [one, other] = ends.map(|end| point.attitude.up.dot(end));
        Ok(if other < one { other } else { one } - point.level()?.value)
    })
}
