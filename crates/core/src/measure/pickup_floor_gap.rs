//! How far the inlet stands off the floor.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, rim};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.floor_gap",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Least distance, along the pan's z, from the rim of the inlet to the floor or wall below it",
    formula: "least depth of the terrain under the mouth minus depth of the rim's lowest point",
    source: "plain geometry",
    range: "A mouth that faces down or up: under its whole disc. One that faces sideways: under its lowest point.",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let mouth = scene.mouth()?;
    let gap = scene.with_terrain(|terrain| {
        let rim = rim(&mouth, RIM_POINTS);
        if mouth.normal.z.abs() > 0.5 {
            let shadow: Vec<_> = rim.iter().map(|p| p.truncate()).collect();
            return Ok(terrain.under(&shadow).least_depth.value + mouth.centre.z);
        }
        let lowest = mouth.centre - glam::DVec3::Z * (mouth.diameter.value / 2.0);
        let floor = terrain
            .depth_at(lowest.truncate())
            .ok_or_else(|| super::Unknown::because("the inlet stands outside the rail"))?;
        Ok(floor.value + lowest.z)
    })?;
    Ok(Sample::of(super::Bounds::exactly(gap), scene.inlet_depth_span()?))
}

/// Corners of the polygon that stands for the mouth's disc; a floor that slopes by 45° under a mouth of
/// 32 mm is then read within 0.02 mm.
const RIM_POINTS: u32 = 64;
