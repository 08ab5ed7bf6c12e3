//! How slowly oil and pan change their temperature.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Outside, Scene, Stream, need};
use crate::quantity::{Kind, si};
use sumpwright_physics::heat::balance::time_constant;
use uom::si::f64::{Mass, TemperatureInterval, Time};

pub(super) const SPEC: Spec = Spec {
    name: "heat.time_constant",
    kind: ObjectKind::Pan,
    dimension: Time::DIMENSION,
    over_duty: false,
    meaning: "Time in which oil and pan come within 37 % of a new balance: between a stirred and a smooth stream",
    formula: "(m_oil c_oil + m_pan c_pan)(T_oil - T_air)/q",
    source: "lumped capacitance (Incropera, chapter 5, from memory)",
    range: "Oil and pan at one temperature; the oil in converter and cooler is not counted.",
    checked_against: "lumped capacitance (Incropera, ch. 5)",
    checked_by: "catalogue::drop_share_and_time_constant_follow_from_the_heat",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let oil = scene.oil()?;
    let density = scene.hot_density()?;
    let hottest = scene.hottest()?;
    let volume = scene.in_all_worlds(|world| {
        let fill = scene.fill(world)?;
        Ok(scene.volume_at(&fill, hottest)?.value)
    })?;
    let capacity = need(&oil.heat_capacity)?.value;
    let metal = need(&need(&scene.pan.material)?.heat_capacity)?.value;
    let mass = need(&scene.pan.mass)?.value;
    let sides = scene.heat_sides()?;
    let over: TemperatureInterval = si(sides.oil.value - sides.air.value);
    let time = |litres: f64, stream: Stream| {
        let oil_mass: Mass = si(density.value * litres);
        let heat = scene.shed(stream, Outside::Finned)?.heat;
        Ok(time_constant((oil_mass, capacity), (mass, metal), heat, over).value)
    };
    let low = time(volume.low, Stream::Turbulent)?;
    let high = time(volume.high, Stream::Laminar)?;
    Ok(Sample::of(Bounds::between(low, high), scene.heat_subject()?))
}
