//! Lines over all directions.

use super::{DEGREES, MIDDLE, RADIUS};
use std::fmt::Write as _;
use sumpwright_core::coverage::{CoverageCase, CoverageRay};

/// Where tilts stand on the paper.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lines {
    /// What lies on the outer ring, in degrees.
    pub(super) edge: f64,
}

/// The tilt to 10 mm, in the less favourable way to close the space above the rail.
pub(super) fn floor(ray: &CoverageRay) -> f64 {
    ray.to_floor.low
}

/// The tilt to a bare rim, likewise.
pub(super) fn dry(ray: &CoverageRay) -> f64 {
    ray.to_dry.low
}

impl Lines {
    /// How far from the middle a tilt in radians stands; what lies beyond the edge stands on it.
    pub(super) fn radius(self, tilt: f64) -> f64 {
        let share = tilt * DEGREES / self.edge;
        RADIUS * if share < 1.0 { share } else { 1.0 }
    }

    /// The place of a direction and a tilt, in radians: 0 to the right, turning against the clock.
    pub(super) fn place(self, azimuth: f64, tilt: f64) -> [f64; 2] {
        let radius = self.radius(tilt);
        [MIDDLE[0] + radius * libm::cos(azimuth), MIDDLE[1] - radius * libm::sin(azimuth)]
    }

    fn is_beyond(self, tilt: f64) -> bool {
        tilt * DEGREES > self.edge
    }

    /// All the way round, along the edge where it lies beyond.
    pub(super) fn closed(self, case: &CoverageCase, of: impl Fn(&CoverageRay) -> f64) -> String {
        let mut path = String::new();
        for (place, ray) in case.rays.iter().enumerate() {
            self.step(&mut path, if place == 0 { 'M' } else { 'L' }, ray, of(ray));
        }
        path.push('Z');
        path
    }

    /// All the way round, broken where two neighbours lie beyond the edge.
    pub(super) fn open(self, case: &CoverageCase, of: impl Fn(&CoverageRay) -> f64) -> String {
        let mut path = String::new();
        let mut before: Option<f64> = None;
        for ray in case.rays.iter().chain(case.rays.first()) {
            let tilt = of(ray);
            let broken = before.is_none_or(|before| self.is_beyond(before) && self.is_beyond(tilt));
            self.step(&mut path, if broken { 'M' } else { 'L' }, ray, tilt);
            before = Some(tilt);
        }
        path
    }

    fn step(self, path: &mut String, step: char, ray: &CoverageRay, tilt: f64) {
        let [x, y] = self.place(ray.azimuth, tilt);
        // Writing into a string does not fail.
        let _ = write!(path, "{step}{} {}", number(x), number(y));
    }
}

/// A coordinate to a hundredth.
pub(super) fn number(value: f64) -> String {
    format!("{value:.2}")
}
