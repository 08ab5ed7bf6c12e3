//! How hot the oil gets.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::ThermodynamicTemperature;

pub(super) const SPEC: Spec = Spec {
    name: "duty.hottest_oil",
    kind: ObjectKind::Pan,
    dimension: ThermodynamicTemperature::DIMENSION,
    over_duty: false,
    meaning: "Hottest oil temperature of the duty, as stated",
    formula: "as stated",
    source: "read from the document",
    range: "Always.",
    checked_against: "what the description states",
    checked_by: "measured::levels_rise_by_volume_over_area",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let hottest = crate::model::need(&scene.duty()?.oil_temperature)?
        .iter()
        .reduce(|a, b| if b.value > a.value { b } else { a })
        .ok_or_else(|| Unknown::because("the duty holds no oil temperature"))?;
    Ok(Sample::of(Bounds::exactly(hottest.value.value), hottest.span))
}
