//! How much cold oil the way to the pump lets through.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Draw, Scene, need};
use crate::quantity::{Kind, si};
use uom::si::f64::VolumeRate;

pub(super) const SPEC: Spec = Spec {
    name: "suction.cold_flow",
    kind: ObjectKind::Pan,
    dimension: VolumeRate::DIMENSION,
    over_duty: false,
    meaning: "Largest flow at the duty's cold start that keeps the pump's stated suction limit, level ground",
    formula: "the root in Q of p = p_air(altitude) + d g' (h_oil - h_pump) - d V^2/2 (1 + K_entrance + sum K_bends + f L/D) - entrance at the mouth - filter drop Q v / (Q0 v0) - d L dV/dt, K = K1/Re + K_inf (1 + 1 in/D) = limit",
    source: "Bernoulli with losses (White, Fluid Mechanics, ch. 3 and 6); Hooper's 2-K method (Chemical Engineering, August 1981), constants from memory; ISO 2533",
    range: "A smooth line; between Re 2300 and 4000 both kinds of flow are told, as bounds; a clean filter in laminar flow; the standard atmosphere. Unknown where the inlet stands out of the oil. Far below the coldest stated viscosity: at most this.",
    checked_against: "ISO 2533: 70.11 kPa at 3000 m. Hagen-Poiseuille and Hooper's entrance",
    checked_by: "measured::the_pressure_at_the_pump_is_bernoullis",
    read,
};

/// Halvings of the bracket: its last step is below the last digit of a double.
const HALVINGS: u32 = 60;
/// Where the search ends, in times the flow at the start.
const FAR: f64 = 100.0;

fn read(scene: &Scene, _: usize) -> Outcome {
    let limit = need(&need(&scene.vehicle()?.pump)?.suction_limit)?.value.value;
    let (oil, start) = scene.cold_start()?;
    let up = scene.level_up()?;
    let bounds = scene.bounds_in_all_worlds(|world| {
        let volume = scene.volume_at(&scene.fill(world)?, oil.value)?;
        let (temperature, flow) = (oil.value, start.value);
        let draw = Draw { world, up, gravity_ratio: 1.0, volume, temperature, flow };
        let suction = scene.suction(&draw)?;
        let most = FAR * start.value.value;
        let low = largest(most, |flow| suction.least(si(flow)) >= limit);
        let high = largest(most, |flow| suction.most(si(flow)) >= limit);
        Ok(Bounds { low, high: if high >= most { f64::INFINITY } else { high } })
    })?;
    let mut sample = Sample::of(bounds, need(&scene.line()?.bore)?.span);
    sample.notes = scene.viscosity_at(oil.value)?.notes;
    Ok(sample)
}

/// The largest flow up to `most` that holds; every smaller one does.
fn largest(most: f64, holds: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (0.0, most);
    if holds(high) {
        return most;
    }
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}
