//! The search for the height below which a volume of oil lies.
//!
//! From nothing: Newton's method on a body that gets finer from step to step, the small boxes that the plane cuts
//! taken as a whole, until the height is known to less than the smallest of them. Then, and at once where a forecast
//! is at hand, one walk of the tree turns all but a few faces into a cubic in a thin slab round that height, and
//! Newton's method goes on in there to the last digit. What this cannot settle a bracketed search over the whole body
//! does.

use super::plane::Plane;
use super::slab::Slab;
use super::sums::Held;
use super::tree::Trail;
use super::{LevelError, OilSpace};
use crate::mesh::{larger, smaller};
use glam::DVec3;
use uom::si::f64::Volume;
use uom::si::volume::cubic_meter;

/// Newton needs 5 or 6 passes as a rule; a bracket of any size is bisected to nothing in fewer than this.
const PASSES: u32 = 200;
/// The volume is met within this share of itself where the height's last digit allows it.
const SETTLED: f64 = 1e-14;
/// Slabs tried before the bracketed search takes over.
const SLABS: u32 = 12;
/// Below this share of the space the sums of the whole body would leave too few digits of a film of oil.
const FILM: f64 = 1e-6;

/// Newton's steps within a slab: 3 or 4 as a rule.
const SLAB_STEPS: u32 = 60;
/// Half the slab round a guess, as a share of the body's extent.
const GUESSED: f64 = 1e-3;
/// The first coarse body spreads boxes that reach farther than this part of the extent; found by trial, as what
/// follows.
const COARSE: f64 = 4.0;
/// How much finer each is than the one before.
const FINER: f64 = 5.0;
/// The finest spreads boxes of so many times the size of a leaf.
const LEAVES: f64 = 5.0;
/// A coarse body is done with when a step is this share of its boxes, or after so many steps.
const NEAR: f64 = 0.5;
const STEPS: u32 = 6;
/// Half the slab round what the finest of them says, as a share of its boxes.
const WIDTH: f64 = 0.006;

/// What walks need and leave behind, kept from one to the next.
#[derive(Debug, Clone, Default)]
pub(super) struct Scratch {
    trail: Trail,
    slab: Slab,
}

/// A height to look near, and how far from it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Forecast {
    pub(super) height: f64,
    pub(super) width: f64,
}

/// One level to be found.
#[derive(Debug)]
pub(super) struct Search<'a> {
    space: &'a OilSpace,
    up: DVec3,
    target: f64,
    capacity: f64,
    /// Bounds on the level.
    low: f64,
    high: f64,
    /// Two heights nearer than this are one, to the last digit of the larger of them.
    digit: f64,
}

impl<'a> Search<'a> {
    /// For a volume between nothing and the whole, along a unit vector.
    pub(super) fn new(space: &'a OilSpace, up: DVec3, target: f64, capacity: f64) -> Self {
        let plane = Plane::new(up, 0.0, 0.0);
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for (_, body) in space.parts.iter().filter(|(weight, _)| *weight > 0.0) {
            let [from, to] = body.reach(&plane);
            low = smaller(from, low);
            high = larger(to, high);
        }
        let digit = 2.0 * f64::EPSILON * larger(low.abs(), high.abs());
        Self { space, up, target, capacity, low, high, digit }
    }

    /// A forecast of which nothing is known but the height.
    pub(super) fn near(&self, height: f64) -> Forecast {
        let width = (self.high - self.low) * GUESSED;
        Forecast { height: height.clamp(self.low, self.high), width }
    }

    /// Two heights nearer than this are one.
    pub(super) fn digit(&self) -> f64 {
        self.digit
    }

    /// From the lowest to the highest point, about.
    pub(super) fn extent(&self) -> f64 {
        self.high - self.low
    }

    /// The height, from a forecast or from nothing.
    pub(super) fn level(
        &self,
        forecast: Option<Forecast>,
        scratch: &mut Scratch,
    ) -> Result<f64, LevelError> {
        if self.target > FILM * self.capacity {
            let mut forecast = forecast.unwrap_or_else(|| self.approach(scratch));
            for _ in 0..SLABS {
                match self.within(forecast, scratch) {
                    Within::Found(height) => return Ok(height),
                    Within::Outside(next) => forecast = next,
                    Within::Lost => break,
                }
            }
        }
        self.bracketed(scratch)
    }

    /// The height on ever finer bodies.
    fn approach(&self, scratch: &mut Scratch) -> Forecast {
        let extent = self.extent();
        let leaf = self.space.parts.iter().map(|(_, body)| body.leaf()).fold(0.0, larger);
        let finest = LEAVES * leaf;
        let mut height = self.low + extent * (self.target / self.capacity);
        let mut limit = extent / COARSE;
        loop {
            // What a coarse body says is no bound on the level: each begins with the whole.
            let (mut low, mut high) = (self.low, self.high);
            for _ in 0..STEPS {
                let held = self.about(height, limit, scratch);
                let miss = held.volume - self.target;
                if miss > 0.0 {
                    high = height;
                } else {
                    low = height;
                }
                let next = height - miss / held.surface;
                // Without a free surface the step is infinite or none, and the comparison fails.
                let next = if low < next && next < high { next } else { low + (high - low) / 2.0 };
                let step = (next - height).abs();
                height = next;
                if step < NEAR * limit {
                    break;
                }
            }
            if limit <= finest {
                break;
            }
            limit = larger(limit / FINER, finest);
        }
        Forecast { height, width: WIDTH * limit }
    }

    /// Looks for the height within a slab.
    fn within(&self, forecast: Forecast, scratch: &mut Scratch) -> Within {
        let Forecast { height: middle, width } = forecast;
        let slab = &mut scratch.slab;
        let plane = Plane::new(self.up, middle, width);
        slab.clear(&plane);
        for (weight, body) in &self.space.parts {
            body.add_slab(&plane, *weight, &mut scratch.trail, slab);
        }
        let (mut low, mut high) = (-width, width);
        let (mut low_known, mut high_known) = (false, false);
        let mut height = 0.0;
        for _ in 0..SLAB_STEPS {
            let held = slab.held(height);
            let miss = held.volume - self.target;
            let step = -miss / held.surface;
            let is_there = held.surface > 0.0;
            if !is_there {
                return Within::Lost;
            }
            let next = height + step;
            if miss.abs() <= SETTLED * self.target || step.abs() <= self.digit {
                return Within::Found(
                    middle + if step.abs() <= self.digit { next } else { height },
                );
            }
            if miss > 0.0 {
                (high, high_known) = (height, true);
            } else {
                (low, low_known) = (height, true);
            }
            if (height <= -width && miss > 0.0) || (height >= width && miss < 0.0) {
                return Within::Outside(Forecast {
                    height: middle + next,
                    width: smaller(larger(width, step.abs() * 0.1), (self.high - self.low) / 4.0),
                });
            }
            if high - low <= self.digit {
                return Within::Found(middle + height);
            }
            height = if next <= low {
                if low_known { low + (high - low) / 2.0 } else { low }
            } else if next >= high {
                if high_known { low + (high - low) / 2.0 } else { high }
            } else {
                next
            };
        }
        Within::Lost
    }

    /// Newton's method over the whole body, kept within a bracket that is halved where it does not help.
    fn bracketed(&self, scratch: &mut Scratch) -> Result<f64, LevelError> {
        let (mut low, mut high) = (self.low, self.high);
        let mut height = low + (high - low) * (self.target / self.capacity);
        let (mut residual, mut slow) = (f64::INFINITY, 0);
        for _ in 0..PASSES {
            let held = self.space.held(self.up, height, &mut scratch.trail);
            let miss = held.volume - self.target;
            if miss > 0.0 {
                high = height;
            } else {
                low = height;
            }
            let step = -miss / held.surface;
            if miss.abs() <= SETTLED * self.target
                || step.abs() <= self.digit
                || high - low <= self.digit
            {
                // The step is known, and taking it costs nothing; it is infinite without a surface.
                let next = height + step;
                let inside = step.abs() <= self.digit && low <= next && next <= high;
                return Ok(if inside { next } else { height });
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

    fn about(&self, height: f64, limit: f64, scratch: &mut Scratch) -> Held {
        let plane = Plane::new(self.up, height, 0.0);
        let mut all = Held::default();
        for (weight, body) in &self.space.parts {
            let held = body.about(&plane, limit, &mut scratch.trail);
            all.volume += weight * held.volume;
            all.surface += weight * held.surface;
        }
        all
    }
}

/// What a slab says of the level.
enum Within {
    Found(f64),
    /// Not in it, but near here.
    Outside(Forecast),
    /// There is no free surface to go by.
    Lost,
}
