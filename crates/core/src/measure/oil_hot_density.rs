//! How heavy the hottest oil is.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::MassDensity;

pub(super) const SPEC: Spec = Spec {
    name: "oil.hot_density",
    kind: ObjectKind::Pan,
    dimension: MassDensity::DIMENSION,
    over_duty: false,
    meaning: "Density of the oil at the hottest oil temperature of the duty",
    formula: "d15 exp(-a dT (1 + 0.8 a dT)), a = 0.6278 / d15, dT from 15 °C; between two stated densities a straight line",
    source: "ASTM D1250 / API MPMS 11.1, table 54D; constants from memory",
    range: "800 to 1160 kg/m³ at 15 °C, -20 °C to 150 °C.",
    checked_against: "ASTM D1250 / API MPMS 11.1, table 54D",
    checked_by: "measured::density_expansion_and_heat_come_from_the_density",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let density = scene.density_at(scene.hottest()?)?;
    Ok(Sample::of(Bounds::exactly(density.value), scene.density_at_15()?.1))
}
