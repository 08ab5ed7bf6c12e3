//! Whether an inlet is covered, without ever solving for the level.
//!
//! Oil covers a rim to a depth when at least as much of it is there as lies below the plane that stands so far over
//! the rim's highest point: one evaluation instead of a search.

use super::{LevelError, Mouth, OilSpace};
use glam::DVec3;
use uom::si::acceleration::meter_per_second_squared;
use uom::si::angle::radian;
use uom::si::f64::{Acceleration, Angle, Length, Volume};
use uom::si::length::meter;

/// Standard gravity, ISO 80000-3.
const GRAVITY: f64 = 9.806_65;
/// How far apart attitudes along a ray are looked at, in radians: 2.5°. A dip of the margin that is narrower can be missed.
const STEP: f64 = 2.5 * core::f64::consts::PI / 180.0;
/// Into how many parts a step is cut in which the margin goes: the search stays near its zero, where bodies that differ
/// only far from it answer alike.
const FINER: u32 = 5;
/// The bracket is narrowed to this, in radians.
const SHARP: f64 = 1e-14;
/// False position with halved ends needs about 10 steps; more than this never happens.
const STEPS: u32 = 200;

/// Attitudes along one azimuth: the vector up against apparent gravity leans from `level` towards `toward`, so the
/// oil runs the other way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ray {
    /// The unit vector up where the vehicle stands level, in the pan's own frame.
    pub level: DVec3,
    /// The unit vector square to it in which up leans: that of an acceleration of the vehicle, and uphill.
    pub toward: DVec3,
}

impl Ray {
    /// Up against apparent gravity at a tilt: level·cos τ + toward·sin τ.
    pub fn at(&self, tilt: Angle) -> DVec3 {
        self.level * libm::cos(tilt.value) + self.toward * libm::sin(tilt.value)
    }
}

/// How far along a ray of attitudes a rim stays covered.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Reach {
    /// Not covered where the ray begins.
    NeverCovered,
    /// Covered up to here, and no farther.
    Until {
        /// The tilt at which the rim uncovers first.
        tilt: Angle,
        /// The horizontal acceleration that tilts apparent gravity so far: g·tan τ.
        acceleration: Acceleration,
    },
    /// Covered at every attitude looked at.
    Throughout {
        /// As far as was looked.
        tilt: Angle,
    },
}

impl OilSpace {
    /// The least oil that covers a mouth's rim to a depth at an attitude.
    ///
    /// # Formula
    /// V(d, max rim·d + need): what lies below the plane that stands `need` over the rim's highest point.
    ///
    /// # Valid for
    /// A unit vector `up`; one surface for all oil.
    ///
    /// # Source
    /// The volume grows with the height; tested against the level itself.
    pub fn least_volume(&self, mouth: &Mouth, need: Length, up: DVec3) -> Volume {
        self.below(up, mouth.highest(up) + need).volume
    }

    /// The first tilt along a ray at which a volume of oil no longer covers a rim to a depth, and the horizontal
    /// acceleration that does the same on level ground.
    ///
    /// # Formula
    /// The first zero of volume − least volume over the tilt: looked for every 2.5° from 0 to `up_to`, then by
    /// false position (Illinois) to 1e-14 rad. a = g·tan τ.
    ///
    /// # Valid for
    /// `up_to` from 0 to less than 90°; one surface for all oil. A dip of the margin within 2.5° is missed.
    ///
    /// # Errors
    /// A volume, direction or tilt that is none.
    ///
    /// # Source
    /// Apparent gravity = gravity − acceleration; tested against closed forms of a box and a half-ball.
    pub fn steepest(
        &self,
        mouth: &Mouth,
        need: Length,
        volume: Volume,
        ray: &Ray,
        up_to: Angle,
    ) -> Result<Reach, LevelError> {
        let least = |up: DVec3| self.least_volume(mouth, need, up);
        first_gone(least, volume, ray, up_to)
    }

    /// As [`OilSpace::steepest`], for the first tilt at which the highest of some points comes out of the oil.
    ///
    /// # Errors
    /// As for [`OilSpace::steepest`].
    pub fn bares(
        &self,
        points: &[DVec3],
        volume: Volume,
        ray: &Ray,
        up_to: Angle,
    ) -> Result<Reach, LevelError> {
        let highest = |up: DVec3| {
            let heights = points.iter().map(|point| up.dot(*point));
            heights.fold(f64::NEG_INFINITY, |a, b| if b > a { b } else { a })
        };
        let least = |up: DVec3| self.below(up, Length::new::<meter>(highest(up))).volume;
        first_gone(least, volume, ray, up_to)
    }
}

/// The first tilt along a ray at which a volume is less than the least that is needed there.
fn first_gone(
    least: impl Fn(DVec3) -> Volume,
    volume: Volume,
    ray: &Ray,
    up_to: Angle,
) -> Result<Reach, LevelError> {
    check_ray(volume, ray, up_to)?;
    let margin = |tilt: f64| (volume - least(ray.at(Angle::new::<radian>(tilt)))).value;
    let (mut low, mut low_margin) = (0.0, margin(0.0));
    // Written so that a margin that is no number does not count as covered.
    let is_covered = low_margin >= 0.0;
    if !is_covered {
        return Ok(Reach::NeverCovered);
    }
    let mut count = 0_u32;
    while low < up_to.value {
        count += 1;
        let next = STEP * f64::from(count);
        let high = if next < up_to.value { next } else { up_to.value };
        let high_margin = margin(high);
        let is_covered = high_margin >= 0.0;
        if !is_covered {
            let (ends, margins) = narrowed(&margin, [low, high], [low_margin, high_margin]);
            let tilt = first_zero(&margin, ends, margins);
            let acceleration =
                Acceleration::new::<meter_per_second_squared>(GRAVITY * libm::tan(tilt));
            return Ok(Reach::Until { tilt: Angle::new::<radian>(tilt), acceleration });
        }
        (low, low_margin) = (high, high_margin);
    }
    Ok(Reach::Throughout { tilt: up_to })
}

fn check_ray(volume: Volume, ray: &Ray, up_to: Angle) -> Result<(), LevelError> {
    if !(volume.value >= 0.0 && volume.value.is_finite()) {
        return Err(LevelError::NotAVolume(volume));
    }
    for direction in [ray.level, ray.toward] {
        let is_unit = (direction.length_squared() - 1.0).abs() <= 1e-9;
        if !is_unit {
            return Err(LevelError::NotADirection(direction));
        }
    }
    let is_square = ray.level.dot(ray.toward).abs() <= 1e-9;
    if !is_square {
        return Err(LevelError::NotADirection(ray.toward));
    }
    let is_tilt = (0.0..core::f64::consts::FRAC_PI_2).contains(&up_to.value);
    if is_tilt { Ok(()) } else { Err(LevelError::NotATilt(up_to)) }
}

/// The first of the finer steps between two ends at which the margin is gone.
fn narrowed(
    margin: &impl Fn(f64) -> f64,
    [from, to]: [f64; 2],
    [over, under]: [f64; 2],
) -> ([f64; 2], [f64; 2]) {
    let (mut low, mut low_margin) = (from, over);
    for step in 1..FINER {
        let at = from + (to - from) * f64::from(step) / f64::from(FINER);
        let value = margin(at);
        let is_covered = value >= 0.0;
        if !is_covered {
            return ([low, at], [low_margin, value]);
        }
        (low, low_margin) = (at, value);
    }
    ([low, to], [low_margin, under])
}

/// The zero between a tilt that is covered and one that is not: the covered end of the last bracket.
fn first_zero(margin: &impl Fn(f64) -> f64, ends: [f64; 2], margins: [f64; 2]) -> f64 {
    let ([mut low, mut high], [mut over, mut under]) = (ends, margins);
    // Which end was kept last: its margin is halved, or false position would creep up from one side.
    let mut kept = 0;
    for _ in 0..STEPS {
        if high - low <= SHARP {
            break;
        }
        let straight = low + (high - low) * (over / (over - under));
        let inside = low < straight && straight < high;
        let next = if inside { straight } else { low + (high - low) / 2.0 };
        let value = margin(next);
        if value >= 0.0 {
            (low, over) = (next, value);
            under = if kept == 1 { under / 2.0 } else { under };
            kept = 1;
        } else {
            (high, under) = (next, value);
            over = if kept == -1 { over / 2.0 } else { over };
            kept = -1;
        }
        // No margin at all, to the last digit: this is the zero.
        if value == 0.0 {
            break;
        }
    }
    low
}
