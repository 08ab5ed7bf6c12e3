//! Whether the pump can fill itself with cold oil.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::{Draw, Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Pressure;

pub(super) const SPEC: Spec = Spec {
    name: "suction.cold_pressure",
    kind: ObjectKind::Pan,
    dimension: Pressure::DIMENSION,
    over_duty: false,
    meaning: "Absolute pressure at the pump's inlet at the duty's altitude and cold start, level ground",
    formula: "p = p_air(altitude) + d g' (h_oil - h_pump) - d V^2/2 (1 + K_entrance + sum K_bends + f L/D) - entrance at the mouth - filter drop Q v / (Q0 v0) - d L dV/dt, K = K1/Re + K_inf (1 + 1 in/D)",
    source: "Bernoulli with losses (White, Fluid Mechanics, ch. 3 and 6); Hooper's 2-K method (Chemical Engineering, August 1981), constants from memory; ISO 2533",
    range: "A smooth line; between Re 2300 and 4000 both kinds of flow are told, as bounds; a clean filter in laminar flow; the standard atmosphere. Unknown where the inlet stands out of the oil. Far below the coldest stated viscosity: at most this.",
    checked_against: "ISO 2533: 70.11 kPa at 3000 m. Hagen-Poiseuille and Hooper's entrance",
    checked_by: "measured::the_pressure_at_the_pump_is_bernoullis",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (oil, flow) = scene.cold_start()?;
    let up = scene.level_up()?;
    let bounds = scene.bounds_in_all_worlds(|world| {
        let volume = scene.volume_at(&scene.fill(world)?, oil.value)?;
        let (temperature, flow) = (oil.value, flow.value);
        scene.pressure_at_pump(&Draw { world, up, gravity_ratio: 1.0, volume, temperature, flow })
    })?;
    let mut sample = Sample::of(bounds, need(&scene.line()?.bore)?.span);
    sample.notes = scene.viscosity_at(oil.value)?.notes;
    Ok(sample)
}
