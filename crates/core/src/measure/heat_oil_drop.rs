//! By how much the pan cools the oil on its way.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::{Outside, Scene, Stream, need};
use crate::quantity::Kind;
use sumpwright_physics::heat::balance::drop_of;
use uom::si::f64::TemperatureInterval;

pub(super) const SPEC: Spec = Spec {
    name: "heat.oil_drop",
    kind: ObjectKind::Pan,
    dimension: TemperatureInterval::DIMENSION,
    over_duty: false,
    meaning: "By how much the oil cools in the pan at the pump's largest flow: between a smooth and a stirred stream",
    formula: "q/(rho Q c)",
    source: "energy balance",
    range: "Oil at the duty's hottest; all of the flow passes the pan. An estimate: a gauge in the oil decides.",
    checked_against: "energy balance",
    checked_by: "catalogue::drop_share_and_time_constant_follow_from_the_heat",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let capacity = need(&scene.oil()?.heat_capacity)?.value;
    let density = scene.hot_density()?;
    let flow = need(&need(&scene.vehicle()?.pump)?.flow)?
        .entries
        .iter()
        .map(|flow| flow.value.value)
        .reduce(|a, b| if b > a { b } else { a })
        .ok_or_else(|| Unknown::because("the pump has no flow"))?;
    let drop = |stream: Stream| {
        let heat = scene.shed(stream, Outside::Finned)?.heat;
        Ok(drop_of(heat, flow, density, capacity).value)
    };
    let (smooth, stirred) = (drop(Stream::Laminar)?, drop(Stream::Turbulent)?);
    Ok(Sample::of(Bounds::between(smooth, stirred), scene.heat_subject()?))
}
