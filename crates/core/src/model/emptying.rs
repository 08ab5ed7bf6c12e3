//! How long the oil takes to run out of a drain.

use super::attitude::attitude;
use super::drains::placed_drain;
use super::oil_space::World;
use super::scene::{Scene, need};
use crate::quantity::{Given, si};
use crate::reading::{Bounds, Unknown};
use sumpwright_physics::emptying::{Hole, longest, shortest};
use uom::si::f64::{Area, DiffusionCoefficient, Length, Volume};

/// What the keys of remembered emptying times begin with.
const EMPTYING: u64 = 101;
/// The head over the middle of the opening at which the pan counts as empty, in metres: what runs after it drips.
const LAST: f64 = 1e-3;

impl Scene {
    /// Shortest and longest time in which the hottest oil runs out of a drain at the parking attitude, in seconds.
    ///
    /// # Errors
    /// Says what is not stated, or that no oil stands over the drain.
    pub fn emptying(&self, index: usize) -> Result<Bounds, Unknown> {
        let drain = self.drain(index)?;
        let parked = need(&self.duty()?.parked_to_drain)?;
        let up = attitude(parked, self.nose_up()?).up;
        let placed = placed_drain(self, drain)?;
        let outlet = up.dot(placed.middle);
        let hole = Hole { bore: placed.bore, length: need(&drain.value.engaged)?.value };
        let viscosity = self.hot_viscosity()?;
        let time = |world: &World, slow: bool| {
            let level = world.level(self, up, self.standing_volume(world)?)?.value;
            if level <= outlet + LAST {
                return Err(Unknown::because("no oil stands over the drain when it is opened"));
            }
            let surface =
                |head: Length| -> Area { world.space().below(up, si(outlet + head.value)).surface };
            let heads = [si(level - outlet), si(LAST)];
            let (run, nu) = if slow { (hole.length.value, viscosity.value) } else { (0.0, 0.0) };
            let numbers = [up.x, up.y, up.z, outlet, level, hole.bore.value, run, nu];
            let mut key = vec![EMPTYING, u64::from(slow), world.number()];
            key.extend(numbers.map(f64::to_bits));
            self.memo.number(&key, || {
                Ok(if slow {
                    longest(&hole, heads, viscosity, surface).value
                } else {
                    shortest(&hole, heads, surface).value
                })
            })
        };
        let low = self.in_all_worlds(|world| time(world, false))?;
        let high = self.in_all_worlds(|world| time(world, true))?;
        Ok(Bounds { low: low.low, high: high.high })
    }

    /// Oil in pan and case at the duty's hottest with the engine standing.
    fn standing_volume(&self, world: &World) -> Result<Volume, Unknown> {
        let fill = self.fill(world)?;
        let held: Volume = match &*self.vehicle()?.held_up {
            Given::Absent(_) => si(0.0),
            given => need(given)?.value,
        };
        let grown = self.volume_at(&fill, self.hottest()?)?.value / fill.running.value;
        Ok((fill.running + held) * grown)
    }

    /// Kinematic viscosity of the oil at the duty's hottest.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn hot_viscosity(&self) -> Result<DiffusionCoefficient, Unknown> {
        // The thicker bound: it runs out no sooner than that.
        Ok(si(self.viscosity_at(self.hottest()?)?.bounds.high))
    }
}
