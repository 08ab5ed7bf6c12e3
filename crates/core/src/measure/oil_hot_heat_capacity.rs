//! How much heat the hottest oil takes up.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::SpecificHeatCapacity;

pub(super) const SPEC: Spec = Spec {
    name: "oil.hot_heat_capacity",
    kind: ObjectKind::Pan,
    dimension: SpecificHeatCapacity::DIMENSION,
    over_duty: false,
    meaning: "Specific heat capacity of a petroleum oil of this density at the hottest oil temperature of the duty",
    formula: "(1.685 + 0.0034 t) / sqrt(d) kJ/(kg K), t in °C, d the density at 15 °C over that of water, plus and minus 5 %",
    source: "Cragoe, NBS Miscellaneous Publication 97 (1929), from memory",
    range: "Petroleum oils; bounds 5 % to each side, as the source gives its scatter.",
    checked_against: "Cragoe at d = 0.85",
    checked_by: "measured::density_expansion_and_heat_come_from_the_density",
    read,
};

/// What the source says of its scatter.
const SCATTER: f64 = 0.05;

fn read(scene: &Scene, _: usize) -> Outcome {
    let (density, subject) = scene.density_at_15()?;
    let value = sumpwright_physics::petroleum::heat_capacity(density, scene.hottest()?).value;
    Ok(Sample::of(Bounds::between(value * (1.0 - SCATTER), value * (1.0 + SCATTER)), subject))
}
