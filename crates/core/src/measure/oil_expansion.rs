//! How much the oil grows with heat, as the description states.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::TemperatureCoefficient;

pub(super) const SPEC: Spec = Spec {
    name: "oil.expansion",
    kind: ObjectKind::Pan,
    dimension: TemperatureCoefficient::DIMENSION,
    over_duty: false,
    meaning: "Coefficient of thermal expansion of the oil, as stated",
    formula: "as stated",
    source: "read from the document",
    range: "Always.",
    checked_against: "what the description states",
    checked_by: "measured::density_expansion_and_heat_come_from_the_density",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let stated = crate::model::need(&scene.oil()?.expansion)?;
    Ok(Sample::of(Bounds::exactly(stated.value.value), stated.span))
}
