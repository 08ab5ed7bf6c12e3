//! Oil that ridges, lips and baffles keep apart: which pool the inlet stands in, and what it cannot reach.
//!
//! As a rule all oil is one body, and one comparison shows it: a level above every lip is the right one, however the
//! oil came there. Only where it is not is the way from level ground to the state's attitude gone through.

use super::dams::dams;
use super::oil_space::World;
use super::scene::Scene;
use super::states::DutyPoint;
use super::words::basin_words;
use crate::quantity::si;
use crate::reading::{Bounds, Sample, Unknown};
use crate::source::Span;
use glam::{DVec2, DVec3};
use std::sync::Arc;
use sumpwright_physics::basins::{self, Chamber, Over, Passage, Pool, Settled, Vessel};
use sumpwright_physics::level::Mouth;
use sumpwright_physics::mesh::{Halves, Mesh, prism};
use uom::si::f64::{Length, Volume};

/// The oil round the inlet at one point of the duty.
#[derive(Debug, Clone)]
pub struct AtInlet {
    /// The height of the surface of its pool along up; the lowest point of its basin where that is dry.
    pub level: Length,
    /// All oil that is not in its pool.
    pub stranded: Volume,
    /// Where there is more than one pool: all of them, and the inlet's.
    pools: Option<(Arc<Settled>, Over)>,
    /// All oil.
    volume: Volume,
}

/// A body of oil at rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PoolAtRest {
    /// The height of its surface along up.
    pub level: Length,
    /// How much it holds.
    pub volume: Volume,
    /// Whether the inlet stands in it.
    pub at_inlet: bool,
}

impl AtInlet {
    /// All oil as one body, whatever may keep it apart.
    pub fn one_level(level: Length, volume: Volume) -> Self {
        Self { level, stranded: si(0.0), pools: None, volume }
    }

    /// Every pool.
    pub fn pools(&self) -> Vec<PoolAtRest> {
        let Some((settled, over)) = &self.pools else {
            return vec![PoolAtRest { level: self.level, volume: self.volume, at_inlet: true }];
        };
        let pool = |(number, pool): (usize, &Pool)| PoolAtRest {
            level: pool.level,
            volume: pool.volume,
            at_inlet: over.pool == Some(number),
        };
        settled.pools().iter().enumerate().map(pool).collect()
    }

    /// The pool, by its number, to which oil at a place belongs; none where the basin there is dry.
    pub fn pool_at(&self, place: DVec3) -> Option<usize> {
        self.pools.as_ref().map_or(Some(0), |(settled, _)| settled.over(place).pool)
    }
}

impl DutyPoint<'_> {
    /// The oil round the inlet.
    ///
    /// The vessel stood on level ground with its oil at one level, and was turned slowly to the state's apparent
    /// gravity about one axis: what a ridge held back on the way is held back.
    ///
    /// # Errors
    /// Says why there is no level, or why basins cannot be told.
    pub fn at_inlet(&self, mouth: &Mouth) -> Result<AtInlet, Unknown> {
        self.scene.oil_at_rest(self.world, mouth, self.attitude.up, self.volume)
    }

    /// The oil that can leave the inlet's pool before its rim begins to uncover; what falls behind a lip on the way
    /// stays. Negative: what is short.
    ///
    /// # Errors
    /// As [`Self::at_inlet`].
    pub fn usable(&self, mouth: &Mouth) -> Result<Volume, Unknown> {
        let up = self.attitude.up;
        let rim = mouth.highest(up);
        let at_inlet = self.at_inlet(mouth)?;
        if let Some((settled, over)) = at_inlet.pools {
            return Ok(settled.drawn_to(&over, rim));
        }
        if rim >= self.scene.joined_above(self.world, up)? {
            return Ok(self.volume - self.world.below(self.scene, up, rim));
        }
        let settled = self.scene.pools(self.world, [up, up], self.volume)?;
        Ok(settled.drawn_to(&settled.over(mouth.centre), rim))
    }
}

impl Scene {
    /// The oil round the inlet in one world, turned slowly from level ground to a direction.
    ///
    /// # Errors
    /// As [`DutyPoint::at_inlet`].
    pub fn oil_at_rest(
        &self,
        world: &World,
        mouth: &Mouth,
        up: DVec3,
        volume: Volume,
    ) -> Result<AtInlet, Unknown> {
        let level = world.level(self, up, volume)?;
        if level >= self.joined_above(world, up)? {
            return Ok(AtInlet::one_level(level, volume));
        }
        let settled = self.pools(world, [self.level_up()?, up], volume)?;
        let over = settled.over(mouth.centre);
        let stranded = volume - over.volume;
        Ok(AtInlet { level: over.level, stranded, pools: Some((settled, over)), volume })
    }

    /// The lines, seen from above, of the baffles that hold oil back: a place and a direction each.
    pub fn dam_lines(&self) -> Vec<[DVec2; 2]> {
        let line = |dam: basins::Dam| [dam.from, dam.to - dam.from];
        dams(self).unwrap_or_default().into_iter().map(line).collect()
    }

    /// What the body of oil round the inlet holds up to its rim on level ground.
    ///
    /// # Errors
    /// Says what is not stated, or why basins cannot be told.
    pub fn below_inlet(&self, world: &World, mouth: &Mouth) -> Result<Volume, Unknown> {
        let up = self.level_up()?;
        let rim = mouth.highest(up);
        if rim >= self.joined_above(world, up)? {
            return Ok(world.below(self, up, rim));
        }
        let empty = self.pools(world, [up, up], si(0.0))?;
        Ok(empty.body_below(&empty.over(mouth.centre), rim))
    }

    /// A measure that is the most of a value over the duty, as [`Self::least_over_duty`] is the least.
    ///
    /// # Errors
    /// Says what is not stated, or why no state can be read.
    pub fn most_over_duty(
        &self,
        subject: Span,
        read: impl Fn(&DutyPoint<'_>) -> Result<f64, Unknown>,
    ) -> Result<Sample, Unknown> {
        // 0 − x and not −x, so that none is 0 and not −0.
        let turned = |bounds: Bounds| Bounds { low: 0.0 - bounds.high, high: 0.0 - bounds.low };
        let mut sample = self.least_over_duty(subject, |point| Ok(0.0 - read(point)?))?;
        sample.bounds = turned(sample.bounds);
        for state in &mut sample.states {
            state.bounds = state.bounds.clone().map(turned);
        }
        Ok(sample)
    }

    /// The height along up above which all oil is one body.
    fn joined_above(&self, world: &World, up: DVec3) -> Result<Length, Unknown> {
        let [x, y, z] = up.to_array().map(f64::to_bits);
        self.memo.joined(&[self.vessel_number(world)?, x, y, z], || {
            let vessel = self.vessel(world)?;
            vessel.joined_above(up).map_err(|error| Unknown::because(basin_words(&error)))
        })
    }

    /// The pools after the vessel was turned from one direction to another.
    fn pools(
        &self,
        world: &World,
        [from, to]: [DVec3; 2],
        volume: Volume,
    ) -> Result<Arc<Settled>, Unknown> {
        let mut key = vec![self.vessel_number(world)?];
        key.extend([from, to].iter().flat_map(DVec3::to_array).map(f64::to_bits));
        key.push(volume.value.to_bits());
        self.memo.pools(&key, || {
            let vessel = self.vessel(world)?;
            let settled = vessel.turned_with(from, to, volume);
            settled.map(Arc::new).map_err(|error| Unknown::because(basin_words(&error)))
        })
    }

    /// A number that tells the vessel of a world from all others.
    fn vessel_number(&self, world: &World) -> Result<u64, Unknown> {
        world.vessel.get(self, || self.make_vessel_number(world)).clone()
    }

    fn make_vessel_number(&self, world: &World) -> Result<u64, Unknown> {
        let mut key = vec![self.interior_number()?];
        for dam in dams(self)? {
            let (from, to) = (dam.from, dam.to);
            key.extend([from.x, from.y, to.x, to.y, dam.top.value].map(f64::to_bits));
            for opening in &dam.openings {
                key.push(opening.radius.value.to_bits());
                let corners = opening.corners.iter().flat_map(DVec3::to_array);
                key.extend(corners.map(f64::to_bits));
            }
        }
        if let Some(top) = world.top() {
            key.extend([top.share, top.height].map(f64::to_bits));
            key.extend(top.outline.points().iter().flat_map(|p| [p.x.to_bits(), p.y.to_bits()]));
        }
        Ok(self.memo.number_of(&key))
    }

    fn vessel(&self, world: &World) -> Result<Arc<Vessel>, Unknown> {
        self.memo.vessel(&[self.vessel_number(world)?], || {
            let displaced = || self.interior().into_iter().flat_map(|all| &all.displaced);
            let half = |of: fn(Halves) -> Option<Mesh>| {
                let halves = displaced().map(|item| self.displaced_halves(&item.value).map(of));
                halves.filter_map(Result::transpose).collect::<Result<Vec<Mesh>, Unknown>>()
            };
            let space = self.with_terrain(|terrain| Ok(terrain.mesh().clone()))?;
            let mut chambers = vec![Chamber {
                space,
                displaced: half(|halves| halves.below)?,
                dams: dams(self)?,
                free_share: si(1.0),
            }];
            let mut passages = Vec::new();
            if let Some(top) = world.top() {
                let space = prism(&top.outline, si(0.0), si(top.height))
                    .map_err(|_| Unknown::because("the case above the rail has no height"))?;
                let (displaced, dams) = (half(|halves| halves.above)?, Vec::new());
                chambers.push(Chamber { space, displaced, dams, free_share: si(top.share) });
                passages = Passage::between([0, 1], self.rail()?, &top.outline, si(0.0));
            }
            let vessel = Vessel::new(&chambers, &passages);
            vessel.map(Arc::new).map_err(|error| Unknown::because(basin_words(&error)))
        })
    }
}
