//! How hard the vehicle may be driven on level ground before the deepest floor is bared.

use super::LOOKED_TO;
use crate::model::{Scene, World, level_ground, to_pan};
use crate::quantity::si;
use crate::reading::{Bounds, Unknown};
use core::f64::consts::FRAC_PI_2;
use glam::DVec3;
use sumpwright_physics::level::{Ray, Reach};

/// The floor within so much of the deepest point counts as the deepest, in metres.
const DEEPEST: f64 = 0.001;

/// The least tilt of apparent gravity, with the oil running forward, rearward or to a side, at which a place of the deepest
/// floor comes out of the coldest oil of the duty: in radians in all worlds, and the azimuth in the worst.
///
/// # Errors
/// Says what is not stated.
pub fn floor_bares(scene: &Scene) -> Result<(Bounds, f64), Unknown> {
    let coldest = scene.coldest()?;
    let floor = scene.with_terrain(|terrain| Ok(terrain.lowest_floor(si(DEEPEST))))?;
    if floor.is_empty() {
        return Err(Unknown::because("the deepest place of the pan is no floor"));
    }
    let mut all: Option<(Bounds, f64)> = None;
    for world in scene.worlds()? {
        let volume = scene.volume_at(&scene.fill(world)?, coldest)?;
        let mut least = (f64::INFINITY, 0.0);
        for quarter in 0..4_u32 {
            let azimuth = FRAC_PI_2 * f64::from(quarter);
            let tilt = along(scene, world, &floor, volume, azimuth)?;
            if tilt < least.0 {
                least = (tilt, azimuth);
            }
        }
        let (low, high) = (if least.0 < LOOKED_TO { least.0 } else { LOOKED_TO }, least.0);
        all = Some(match all {
            None => (Bounds { low, high }, least.1),
            Some((known, at)) => {
                let at = if low < known.low { least.1 } else { at };
                let low = if low < known.low { low } else { known.low };
                let high = if high > known.high { high } else { known.high };
                (Bounds { low, high }, at)
            }
        });
    }
    all.ok_or_else(|| Unknown::because("there is no oil space"))
}

/// As far as is looked; infinite where the floor stays covered.
fn along(
    scene: &Scene,
    world: &World,
    floor: &[DVec3],
    volume: uom::si::f64::Volume,
    azimuth: f64,
) -> Result<f64, Unknown> {
    let nose_up = scene.nose_up()?;
    let away = DVec3::new(-libm::cos(azimuth), -libm::sin(azimuth), 0.0);
    let ray = Ray { level: level_ground(nose_up), toward: to_pan(away, nose_up) };
    match world.space().bares(floor, volume, &ray, si(LOOKED_TO)) {
        Ok(Reach::NeverCovered) => Ok(0.0),
        Ok(Reach::Until { tilt, .. }) => Ok(tilt.value),
        Ok(_) => Ok(f64::INFINITY),
        Err(error) => {
            Err(Unknown::because(format!("the attitudes cannot be looked at: {error:?}")))
        }
    }
}
