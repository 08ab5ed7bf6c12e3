//! Tilts along rays of attitudes from level ground.

use crate::model::{DutyPoint, Scene, World, level_ground, to_pan};
use crate::quantity::si;
use crate::reading::{Bounds, Unknown};
use core::f64::consts::{FRAC_PI_2, PI};
use glam::DVec3;
use sumpwright_physics::level::{Mouth, Ray, Reach};
use uom::si::f64::{Length, ThermodynamicTemperature, Volume};

/// The depth of oil over the rim below which the inlet counts as uncovered, in metres: common practice, and what the
/// rule of coverage asks.
pub const COVERED: f64 = 0.010;
/// So far attitudes are looked at: no vehicle stands steeper, and the acceleration would be 5.7 gn.
pub const LOOKED_TO: f64 = 80.0 * PI / 180.0;
/// Between two directions of the map.
pub const STEP: f64 = 10.0 * PI / 180.0;

/// Directions that are tried for the least tilt before the best is refined.
const TRIED: u32 = 24;
/// Halvings (golden sections) of the stretch round the best one: its width then is 0.005°, and the tilt, which is
/// flat or bent there, is off by less than its uncertainty by far.
const SECTIONS: u32 = 18;
/// Beyond a state of the duty so far is looked: a margin of more needs no number.
const MARGIN_TO: f64 = 15.0 * PI / 180.0;
/// A tilt of less has no direction.
pub(super) const LEVEL: f64 = 1e-9;

/// A rim in one world with its oil.
pub(super) struct Rim<'a> {
    pub(super) world: &'a World,
    pub(super) mouth: Mouth,
    pub(super) volume: Volume,
    /// Up in the pan on level ground.
    pub(super) level: DVec3,
    pub(super) nose_up: uom::si::f64::Angle,
}

impl<'a> Rim<'a> {
    pub(super) fn at(
        scene: &Scene,
        world: &'a World,
        temperature: ThermodynamicTemperature,
    ) -> Result<Self, Unknown> {
        let nose_up = scene.nose_up()?;
        let volume = scene.volume_at(&scene.fill(world)?, temperature)?;
        Ok(Self { world, mouth: scene.mouth()?, volume, level: level_ground(nose_up), nose_up })
    }

    /// The tilt at which the rim, on the way from level ground with the oil running to an azimuth, lies no deeper than
    /// `need`; 0 where it does so on level ground, infinite where it never does as far as is looked.
    pub(super) fn tilt(&self, azimuth: f64, need: f64, up_to: f64) -> Result<f64, Unknown> {
        let away = DVec3::new(-libm::cos(azimuth), -libm::sin(azimuth), 0.0);
        let ray = Ray { level: self.level, toward: to_pan(away, self.nose_up) };
        self.along(&ray, need, up_to)
    }

    fn along(&self, ray: &Ray, need: f64, up_to: f64) -> Result<f64, Unknown> {
        let need: Length = si(need);
        let reach = self.world.space().steepest(&self.mouth, need, self.volume, ray, si(up_to));
        match reach {
            Ok(Reach::NeverCovered) => Ok(0.0),
            Ok(Reach::Until { tilt, .. }) => Ok(tilt.value),
            Ok(_) => Ok(f64::INFINITY),
            Err(error) => {
                Err(Unknown::because(format!("the attitudes cannot be looked at: {error:?}")))
            }
        }
    }

    /// The least tilt over all directions, and its azimuth: tried in equal steps, each no farther than the best so far,
    /// then refined by golden sections.
    pub(super) fn least(&self, need: f64) -> Result<(f64, f64), Unknown> {
        let step = 2.0 * PI / f64::from(TRIED);
        let (mut best, mut at) = (f64::INFINITY, 0.0);
        for i in 0..TRIED {
            let azimuth = step * f64::from(i);
            let up_to = if best < LOOKED_TO { best } else { LOOKED_TO };
            let tilt = self.tilt(azimuth, need, up_to)?;
            if tilt < best {
                (best, at) = (tilt, azimuth);
            }
        }
        if best <= 0.0 || best.is_infinite() {
            return Ok((best, at));
        }
        let share = (5.0_f64.sqrt() - 1.0) / 2.0;
        let (mut low, mut high) = (at - step, at + step);
        // A direction in which it is more is told as no less than the best by a degree or more.
        let look = best + PI / 36.0;
        let look = if look < LOOKED_TO { look } else { LOOKED_TO };
        let of = |azimuth: f64| self.tilt(azimuth, need, look);
        let (mut left, mut right) = (high - share * (high - low), low + share * (high - low));
        let (mut at_left, mut at_right) = (of(left)?, of(right)?);
        for _ in 0..SECTIONS {
            for (tilt, azimuth) in [(at_left, left), (at_right, right)] {
                if tilt < best {
                    (best, at) = (tilt, azimuth);
                }
            }
            let keep_left = at_left < at_right
                || (at_left >= at_right
                    && at_left.is_infinite()
                    && (left - at).abs() < (right - at).abs());
            if keep_left {
                (high, right, at_right) = (right, left, at_left);
                left = high - share * (high - low);
                at_left = of(left)?;
            } else {
                (low, left, at_left) = (left, right, at_right);
                right = low + share * (high - low);
                at_right = of(right)?;
            }
        }
        Ok((best, libm::fmod(at + 2.0 * PI, 2.0 * PI)))
    }
}

/// The least tilt from level ground, over all directions, at which the rim lies no deeper than [`COVERED`], at the
/// coldest oil of the duty: the least oil there is. The tilt in radians in all worlds, and the azimuth in the worst.
///
/// # Errors
/// Says what is not stated.
pub fn least_tilt(scene: &Scene) -> Result<(Bounds, f64), Unknown> {
    let coldest = scene.coldest()?;
    let mut all: Option<(Bounds, f64)> = None;
    for world in scene.worlds()? {
        let (tilt, azimuth) = Rim::at(scene, world, coldest)?.least(COVERED)?;
        // Beyond what is looked at nothing is known but that it is beyond.
        let (low, high) = if tilt.is_infinite() { (LOOKED_TO, tilt) } else { (tilt, tilt) };
        all = Some(match all {
            None => (Bounds { low, high }, azimuth),
            Some((known, at)) => {
                let at = if low < known.low { azimuth } else { at };
                let low = if low < known.low { low } else { known.low };
                let high = if high > known.high { high } else { known.high };
                (Bounds { low, high }, at)
            }
        });
    }
    all.ok_or_else(|| Unknown::because("there is no oil space"))
}

/// How much farther than in a state of the duty the vehicle may lean, the same way, before the rim lies no deeper than
/// [`COVERED`], in radians; negative where it does so already. A state that leans nowhere may lean any way. What is more
/// than 15° is not looked for.
///
/// # Errors
/// Says what is not stated.
pub fn margin_beyond(scene: &Scene, point: &DutyPoint<'_>) -> Result<Bounds, Unknown> {
    let nose_up = scene.nose_up()?;
    let level = level_ground(nose_up);
    let rim =
        Rim { world: point.world, mouth: scene.mouth()?, volume: point.volume, level, nose_up };
    let lean = point.attitude.in_vehicle;
    let across = DVec3::new(lean.x, lean.y, 0.0);
    let tilt = libm::atan2(across.length(), lean.z);
    if tilt < LEVEL {
        let (least, _) = rim.least(COVERED)?;
        return Ok(at_least(least, MARGIN_TO));
    }
    let toward = to_pan(across, nose_up);
    // From the state on: what lies between level ground and it is a matter of the states themselves.
    let up = level * libm::cos(tilt) + toward * libm::sin(tilt);
    let steeper = toward * libm::cos(tilt) - level * libm::sin(tilt);
    let farther = FRAC_PI_2 - tilt - 1e-6;
    let up_to = if farther < MARGIN_TO { farther } else { MARGIN_TO };
    if rim.volume >= rim.world.space().least_volume(&rim.mouth, si(COVERED), up) {
        let more = rim.along(&Ray { level: up, toward: steeper }, COVERED, up_to)?;
        return Ok(at_least(more, up_to));
    }
    let back = rim.along(&Ray { level, toward }, COVERED, tilt)?;
    Ok(Bounds::exactly(if back < tilt { back - tilt } else { 0.0 }))
}

/// What was found, or no less than what was looked at.
fn at_least(found: f64, looked: f64) -> Bounds {
    if found < looked { Bounds::exactly(found) } else { Bounds::at_least(looked) }
}
