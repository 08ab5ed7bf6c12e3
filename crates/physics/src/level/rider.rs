//! Levels along a way of attitudes, each looked for where the last ones point to.

use super::{LevelError, OilSpace};
use glam::DVec3;
use rayon::prelude::*;
use uom::si::f64::{Length, Volume};

/// Attitudes in a piece of a way; each piece starts afresh, so that no answer depends on how many threads there are.
const PIECE: usize = 1024;

/// Rides along a way of attitudes with one volume of oil.
#[derive(Debug, Clone)]
pub struct Rider<'a> {
    space: &'a OilSpace,
    volume: Volume,
    last: Option<Length>,
}

impl<'a> Rider<'a> {
    /// A rider that has not set out.
    pub fn new(space: &'a OilSpace, volume: Volume) -> Self {
        Self { space, volume, last: None }
    }

    /// The height of the surface at the next attitude: the plane up·x = height.
    ///
    /// # Errors
    /// Those of [`OilSpace::level`]; the ride goes on after one.
    pub fn level(&mut self, up: DVec3) -> Result<Length, LevelError> {
        let height = self.space.level(up, self.volume, self.last)?;
        self.last = Some(height);
        Ok(height)
    }
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
