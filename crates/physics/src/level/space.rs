//! The space oil can fill, as weighted bodies, and the level a volume of oil takes in it.

use super::body::{Body, Sums};
use crate::mesh::{larger, smaller};
use glam::DVec3;
use std::sync::Arc;
use uom::si::area::square_meter;
use uom::si::f64::{Angle, Area, Length, Volume};
use uom::si::length::meter;
use uom::si::volume::cubic_meter;

/// Newton needs 5 or 6 passes as a rule; a bracket of any size is bisected to nothing in fewer than this.
const PASSES: u32 = 200;
/// The volume is met within this share of itself where the height's last digit allows it.
const SETTLED: f64 = 1e-14;
/// A volume may exceed the capacity by this share and still count as full: the rounding of two sums.
const ROUNDING: f64 = 1e-12;

/// The space that oil can fill: bodies with weights, the interior 1, what is displaced −1, a case above the rail
/// its free share.
#[derive(Debug, Clone, Default)]
pub struct OilSpace {
    /// Weight and body of each part.
    pub parts: Vec<(f64, Arc<Body>)>,
}

/// What lies below a plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// The oil below it.
    pub volume: Volume,
    /// The free surface, which is how fast the volume grows with the height.
    pub surface: Area,
}

/// Why a volume has no level.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum LevelError {
    /// More oil than there is space.
    TooMuch {
        /// The whole space.
        capacity: Volume,
    },
    /// There is no space at all.
    NothingThere,
    /// The volume is negative or not a number.
    NotAVolume(Volume),
    /// The direction is not a unit vector.
    NotADirection(DVec3),
    /// The tilt is not from 0 to less than 90°.
    NotATilt(Angle),
    /// The search did not end: the space is not one in which more height holds more oil.
    DidNotSettle {
        /// How much the volume below the last height is off.
        residual: Volume,
        /// How many heights were tried.
        iterations: u32,
    },
}

impl OilSpace {
    /// The whole space.
    pub fn capacity(&self) -> Volume {
        self.parts.iter().map(|(weight, body)| *weight * body.volume()).sum()
    }

    /// The oil and the free surface when oil stands to the plane up·x = height.
    ///
    /// # Formula
    /// V = Σ s⟨z⟩, A = −Σ s·share, see the module.
    ///
    /// # Valid for
    /// A unit vector `up`; any height.
    ///
    /// # Source
    /// Divergence theorem; tested against closed forms of boxes, wedges, cylinders and caps.
    pub fn below(&self, up: DVec3, height: Length) -> Cut {
        let sums = self.sums(up, height.value);
        Cut {
            volume: Volume::new::<cubic_meter>(sums.volume),
            surface: Area::new::<square_meter>(sums.surface),
        }
    }

    /// The height along `up` of the lowest point of the space.
    pub fn lowest(&self, up: DVec3) -> Option<Length> {
        self.extent(up).map(|[low, _]| Length::new::<meter>(low))
    }

    /// The height along `up` of the highest point of the space.
    pub fn highest(&self, up: DVec3) -> Option<Length> {
        self.extent(up).map(|[_, high]| Length::new::<meter>(high))
    }

    /// The height at which the surface of a volume of oil stands: the plane up·x = height.
    ///
    /// Newton's method with the free surface as the derivative, kept within a bracket. `guess` is where to start
    /// looking; a wild one costs time, never exactness.
    ///
    /// # Valid for
    /// One surface for all oil: separate basins are not told apart. No oil gives the lowest point.
    ///
    /// # Errors
    /// No space, more oil than space, a volume or direction that is none, or a search that does not end.
    pub fn level(
        &self,
        up: DVec3,
        volume: Volume,
        guess: Option<Length>,
    ) -> Result<Length, LevelError> {
        let target = volume.value;
        if !(target >= 0.0 && target.is_finite()) {
            return Err(LevelError::NotAVolume(volume));
        }
        let is_unit = (up.length_squared() - 1.0).abs() <= 1e-9;
        if !is_unit {
            return Err(LevelError::NotADirection(up));
        }
        let capacity = self.capacity();
        let extent = self.extent(up).filter(|_| capacity.value > 0.0);
        let Some([low, high]) = extent else { return Err(LevelError::NothingThere) };
        if target > capacity.value * (1.0 + ROUNDING) {
            return Err(LevelError::TooMuch { capacity });
        }
        if target <= 0.0 || target >= capacity.value {
            return Ok(Length::new::<meter>(if target <= 0.0 { low } else { high }));
        }
        let start = guess.map(|guess| guess.value).filter(|guess| low < *guess && *guess < high);
        let start = start.unwrap_or(low + (high - low) * (target / capacity.value));
        self.search(up, target, [low, high], start)
    }

    fn search(
        &self,
        up: DVec3,
        target: f64,
        bracket: [f64; 2],
        start: f64,
    ) -> Result<Length, LevelError> {
        let [mut low, mut high] = bracket;
        // Two heights nearer than this are one, to the last digit of the larger of them.
        let digit = 2.0 * f64::EPSILON * larger(low.abs(), high.abs());
        let (mut height, mut residual, mut slow) = (start, f64::INFINITY, 0);
        for _ in 0..PASSES {
            let sums = self.sums(up, height);
            let miss = sums.volume - target;
            if miss > 0.0 {
                high = height;
            } else {
                low = height;
            }
            let step = -miss / sums.surface;
            if miss.abs() <= SETTLED * target || step.abs() <= digit || high - low <= digit {
                // The step is known, and taking it costs nothing; it is infinite without a surface.
                let next = height + step;
                let inside = step.abs() <= digit && low <= next && next <= high;
                return Ok(Length::new::<meter>(if inside { next } else { height }));
            }
            slow = if miss.abs() > 0.5 * residual { slow + 1 } else { 0 };
            residual = miss.abs();
            let next = height + step;
            // Without a free surface the step is infinite or none, and the comparison fails.
            height = if slow < 3 && low < next && next < high {
                next
            } else {
                slow = 0;
                low + (high - low) / 2.0
            };
        }
        let residual = Volume::new::<cubic_meter>(residual);
        Err(LevelError::DidNotSettle { residual, iterations: PASSES })
    }

    fn sums(&self, up: DVec3, height: f64) -> Sums {
        let mut all = Sums::default();
        for (weight, body) in &self.parts {
            let sums = body.below(up, height);
            all.volume += weight * sums.volume;
            all.surface += weight * sums.surface;
        }
        all
    }

    fn extent(&self, up: DVec3) -> Option<[f64; 2]> {
        let bodies = self.parts.iter().filter(|(weight, _)| *weight > 0.0);
        bodies
            .map(|(_, body)| body.extent(up))
            .reduce(|one, other| [smaller(one[0], other[0]), larger(one[1], other[1])])
    }
}
