//! Levels along a way of attitudes, each looked for where the last ones point to.

use super::search::{Forecast, Scratch, Search};
use super::space::Start;
use super::{LevelError, OilSpace};
use crate::mesh::larger;
use glam::DVec3;
use rayon::prelude::*;
use uom::si::f64::{Length, Volume};
use uom::si::length::meter;

/// Attitudes in a piece of a way; each piece starts afresh, so that no answer depends on how many threads there are.
const PIECE: usize = 1024;
/// A forecast is trusted to so many times its last misses.
const TRUST: f64 = 2.0;
/// What an earlier miss still counts at each later step.
const MEMORY: f64 = 0.7;
/// A forecast that may be off by more than this share of the body is none.
const VAGUE: f64 = 0.03;

/// Rides along a way of attitudes with one volume of oil.
///
/// Two forecasts are kept, and the one that missed by less of late is used: the heights carried on by a parabola, and
/// the plane turned about a pivot. At constant volume a surface turns, to first order, about its own centroid, so a
/// height is the product of up with that pivot, which is corrected after each attitude so that the last change of
/// height comes out right.
#[derive(Debug, Clone)]
pub struct Rider<'a> {
    space: &'a OilSpace,
    volume: Volume,
    scratch: Scratch,
    /// The last heights, the newest first.
    heights: [f64; 3],
    /// How many of them there are.
    known: usize,
    up: DVec3,
    pivot: DVec3,
    /// What the parabola and the pivot missed by, of late.
    misses: [f64; 2],
}

impl<'a> Rider<'a> {
    /// A rider that has not set out.
    pub fn new(space: &'a OilSpace, volume: Volume) -> Self {
        Self {
            space,
            volume,
            scratch: Scratch::default(),
            heights: [0.0; 3],
            known: 0,
            up: DVec3::ZERO,
            pivot: DVec3::ZERO,
            misses: [f64::INFINITY; 2],
        }
    }

    /// The height of the surface at the next attitude: the plane up·x = height.
    ///
    /// # Errors
    /// Those of [`OilSpace::level`]; the ride goes on after one.
    pub fn level(&mut self, up: DVec3) -> Result<Length, LevelError> {
        let height = match self.space.start(up, self.volume)? {
            Start::AtOnce(height) => height,
            Start::Search(search) => self.ride(up, &search)?,
        };
        Ok(Length::new::<meter>(height))
    }

    fn ride(&mut self, up: DVec3, search: &Search<'_>) -> Result<f64, LevelError> {
        let [last, before, first] = self.heights;
        let parabola = 3.0 * (last - before) + first;
        let turned = last + self.pivot.dot(up - self.up);
        let forecast = self.forecast([parabola, turned], search);
        let height = search.level(forecast, &mut self.scratch)?;
        if self.known > 0 {
            let missed = (height - turned).abs();
            self.misses[1] = of_late(missed, self.misses[1]);
            let way = up - self.up;
            let length = way.length_squared();
            if length > 1e-24 {
                self.pivot += way * ((height - turned) / length);
            }
        } else {
            self.pivot = up * height;
        }
        if self.known > 2 {
            let missed = (height - parabola).abs();
            self.misses[0] = of_late(missed, self.misses[0]);
        }
        self.heights = [height, last, before];
        self.known += usize::from(self.known < 3);
        self.up = up;
        Ok(height)
    }

    /// The better forecast, if it is any good.
    fn forecast(&self, heights: [f64; 2], search: &Search<'_>) -> Option<Forecast> {
        let [parabola, turned] = self.misses;
        let (height, missed) =
            if parabola < turned { (heights[0], parabola) } else { (heights[1], turned) };
        let width = larger(TRUST * missed, 16.0 * search.digit());
        (width < VAGUE * search.extent()).then_some(Forecast { height, width })
    }
}

/// The last miss, or what is left of those before it.
fn of_late(missed: f64, before: f64) -> f64 {
    if before.is_finite() { larger(missed, MEMORY * before) } else { missed }
}

impl OilSpace {
    /// The heights of the surface along a way of attitudes, on all threads there are: for a drive log, a swept
    /// range, a map walked ray by ray.
    ///
    /// Pieces of 1024 attitudes from the first on are ridden one by one, so the answers are the same to the last bit
    /// whatever the number of threads.
    pub fn levels(&self, ups: &[DVec3], volume: Volume) -> Vec<Result<Length, LevelError>> {
        ups.par_chunks(PIECE)
            .flat_map_iter(|piece| {
                let mut rider = Rider::new(self, volume);
                piece.iter().map(move |&up| rider.level(up))
            })
            .collect()
    }
}
