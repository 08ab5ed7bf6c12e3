//! How thick the oil is at the coldest start.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::DiffusionCoefficient;

pub(super) const SPEC: Spec = Spec {
    name: "oil.cold_viscosity",
    kind: ObjectKind::Pan,
    dimension: DiffusionCoefficient::DIMENSION,
    over_duty: false,
    meaning: "Kinematic viscosity of the oil at the temperature of the duty's cold start",
    formula: "log10 log10(v + 0.7) = A - B log10 T, v in mm²/s, T in kelvin, through the two stated viscosities round the temperature",
    source: "ASTM D341 (Walther), from memory",
    range: "From 2 mm²/s up; at most 20 K beyond the stated viscosities: farther below, at least this; farther above, unknown.",
    checked_against: "ASTM D341 (Walther)",
    checked_by: "measured::viscosities_are_those_of_d341_and_bounds_far_outside",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let thickness = scene.viscosity_at(scene.cold_start()?.0.value)?;
    let mut sample = Sample::of(thickness.bounds, thickness.subject);
    sample.notes = thickness.notes;
    Ok(sample)
}
