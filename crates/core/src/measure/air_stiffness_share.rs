//! How much of the oil's stiffness its air leaves.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::{Kind, si};
use sumpwright_physics::aeration::stiffness_with_air;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "air.stiffness_share",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Bulk modulus of the oil with its free air over that without, at the pump's working pressure",
    formula: "1 / (1 - s + s p0 K / p^2), s share of air by volume at p0 = 100 kPa, K bulk modulus of the oil, p working pressure",
    source: "compressibilities of two parts added, Boyle's law for the air (fluid power texts)",
    range: "Air that stays free and is squeezed slowly: quick pressing and air that dissolves leave the oil stiffer.",
    checked_against: "two compressibilities added, Boyle's law",
    checked_by: "measured::air_softens_the_oil",
    read,
};

/// The pressure at which the share of air is stated, in pascals.
const SURROUNDINGS: f64 = 1e5;

fn read(scene: &Scene, _: usize) -> Outcome {
    let oil = scene.oil()?;
    let (air, modulus) = (need(&oil.air_share)?, need(&oil.bulk_modulus)?.value);
    let pressure = need(&need(&scene.vehicle()?.pump)?.pressure)?.value;
    let stiff = stiffness_with_air(modulus, air.value, si(SURROUNDINGS), pressure);
    Ok(Sample::of(Bounds::exactly((stiff / modulus).value), air.span))
}
