//! The space oil can fill, as weighted bodies, and the level a volume of oil takes in it.

use super::body::Body;
use super::plane::Plane;
use super::search::{Scratch, Search};
use super::sums::Held;
use super::tree::Trail;
use crate::mesh::{larger, smaller};
use glam::DVec3;
use std::sync::Arc;
use uom::si::area::square_meter;
use uom::si::f64::{Angle, Area, Length, Volume};
use uom::si::length::meter;
use uom::si::volume::cubic_meter;

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

/// How a search begins.
pub(super) enum Start<'a> {
    /// Empty or full: no search at all.
    AtOnce(f64),
    /// Somewhere between.
    Search(Search<'a>),
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
        let held = self.held(up, height.value, &mut Trail::default());
        Cut {
            volume: Volume::new::<cubic_meter>(held.volume),
            surface: Area::new::<square_meter>(held.surface),
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
        let guess = guess.map(|guess| guess.value).filter(|guess| guess.is_finite());
        match self.start(up, volume)? {
            Start::AtOnce(height) => Ok(height),
            Start::Search(search) => {
                search.level(guess.map(|height| search.near(height)), &mut Scratch::default())
            }
        }
        .map(Length::new::<meter>)
    }

    /// Checks what is asked for; empty and full are answered at once.
    pub(super) fn start(&self, up: DVec3, volume: Volume) -> Result<Start<'_>, LevelError> {
        let target = volume.value;
        if !(target >= 0.0 && target.is_finite()) {
            return Err(LevelError::NotAVolume(volume));
        }
        let is_unit = (up.length_squared() - 1.0).abs() <= 1e-9;
        if !is_unit {
            return Err(LevelError::NotADirection(up));
        }
        let capacity = self.capacity();
        let is_space = capacity.value > 0.0;
        if !is_space {
            return Err(LevelError::NothingThere);
        }
        if target > capacity.value * (1.0 + ROUNDING) {
            return Err(LevelError::TooMuch { capacity });
        }
        if 0.0 < target && target < capacity.value {
            return Ok(Start::Search(Search::new(self, up, target, capacity.value)));
        }
        let [low, high] = self.extent(up).ok_or(LevelError::NothingThere)?;
        Ok(Start::AtOnce(if target <= 0.0 { low } else { high }))
    }

    /// What lies below the plane up·x = height.
    pub(super) fn held(&self, up: DVec3, height: f64, trail: &mut Trail) -> Held {
        let plane = Plane::new(up, height, 0.0);
        let mut all = Held::default();
        for (weight, body) in &self.parts {
            let held = body.below(&plane, trail);
            all.volume += weight * held.volume;
            all.surface += weight * held.surface;
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
