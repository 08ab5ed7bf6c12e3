//! How much an oil of this density grows with heat.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::TemperatureCoefficient;

pub(super) const SPEC: Spec = Spec {
    name: "oil.expansion_by_density",
    kind: ObjectKind::Pan,
    dimension: TemperatureCoefficient::DIMENSION,
    over_duty: false,
    meaning: "Coefficient of thermal expansion at 15 °C that belongs to the oil's stated density",
    formula: "a = 0.6278 / d15, d15 in kg/m³",
    source: "ASTM D1250 / API MPMS 11.1, table 54D; constants from memory",
    range: "Lubricating oils of 800 to 1160 kg/m³ at 15 °C; unknown outside.",
    checked_against: "ASTM D1250 / API MPMS 11.1, table 54D",
    checked_by: "measured::density_expansion_and_heat_come_from_the_density",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (density, subject) = scene.density_at_15()?;
    let coefficient = sumpwright_physics::petroleum::expansion_at_15(density);
    Ok(Sample::of(Bounds::exactly(coefficient.value), subject))
}
