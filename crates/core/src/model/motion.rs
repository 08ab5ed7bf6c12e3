//! Oil that swings: how fast, and how far up a wall a sudden manoeuvre throws it.

use super::attitude::{STANDARD_GRAVITY, attitude};
use super::interior::extent;
use super::scene::{Scene, need};
use crate::document::Item;
use crate::document::duty::State;
use crate::document::pan::Displaced;
use crate::quantity::si;
use crate::reading::{Bounds, Sample, StateValue, Unknown, Worst};
use glam::{DVec2, DVec3};
use std::sync::Arc;
use sumpwright_physics::columns::{Block, Columns, Divide};
use sumpwright_physics::seiche::{Seiche, seiche};
use sumpwright_physics::slosh::{overshoot, smooth_wall_damping};
use uom::si::f64::{Length, Ratio};

/// Cells along the longer side: the first mode of a box then comes out 0.07 % slow.
const CELLS: u32 = 24;

/// A surface that swings.
#[derive(Debug, Clone)]
pub struct Swing {
    /// What it does.
    pub seiche: Seiche,
    /// What a reader has to know; whole sentences.
    pub notes: Vec<String>,
}

impl Scene {
    /// The pan as columns, with what hangs in it.
    ///
    /// # Errors
    /// Says what is not stated.
    pub(super) fn columns(&self) -> Result<(Arc<Columns>, Vec<u64>), Unknown> {
        let interior = self.interior()?;
        let key = vec![self.interior_number()?];
        let block = |item: &Item<Displaced>| match &item.value {
            Displaced::Solid(solid) => {
                let (shadow, low, high) = extent(solid);
                Ok(Block { shadow, low, high })
            }
            Displaced::Mesh(_) => Err(Unknown::because(
                "how oil swings round a mesh that hangs in it is not computed",
            )),
        };
        let blocks = interior.displaced.iter().map(block).collect::<Result<Vec<Block>, _>>()?;
        let columns = self.with_terrain(|terrain| {
            let made = self.memo.columns(&key, || Columns::new(terrain, &blocks, CELLS));
            made.ok_or_else(|| Unknown::because("the pan has no size in plan"))
        })?;
        Ok((columns, key))
    }

    /// What swings on level ground at the check, in each world, in the whole pan or between dividing baffles.
    ///
    /// # Errors
    /// Says what is not stated, or why there is none.
    pub fn swing(&self, baffled: bool) -> Result<Vec<Swing>, Unknown> {
        let up = self.level_up()?;
        let (columns, key) = self.columns()?;
        let mut swings = Vec::new();
        for world in self.worlds()? {
            let level = self.level_on_the_flat(world, self.fill(world)?.running)?;
            let (walls, notes) =
                if baffled { self.dividing(up, level)? } else { (Vec::new(), Vec::new()) };
            let place = self.mouth().map_or(DVec2::ZERO, |mouth| mouth.centre.truncate());
            let mut key = key.clone();
            key.extend([up.x, up.y, up.z, level].map(f64::to_bits));
            if !walls.is_empty() {
                key.extend([place.x, place.y].map(f64::to_bits));
                let numbers = |w: &Divide| [w.at.x, w.at.y, w.along.x, w.along.y].map(f64::to_bits);
                key.extend(walls.iter().flat_map(numbers));
            }
            let found = self.memo.seiche(&key, || {
                let part = columns.compartment(place, &walls);
                seiche(&part, up, si(level), si(STANDARD_GRAVITY))
            });
            let seiche = found.ok_or_else(|| {
                Unknown::because("too little of the pan is covered by oil to swing")
            })?;
            swings.push(Swing { seiche, notes });
        }
        Ok(swings)
    }

    /// The longer side of the rail's bounding rectangle.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn longer_side(&self) -> Result<Length, Unknown> {
        let [low, high] = self.rail()?.bounds();
        Ok(si((high - low).max_element()))
    }

    /// Damping ratio of the first swing at the hottest oil, on the low side.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn least_damping(&self) -> Result<Ratio, Unknown> {
        let viscosity = si(self.viscosity_at(self.hottest()?)?.bounds.low);
        Ok(smooth_wall_damping(viscosity, self.longer_side()? / 2.0, Self::gravity()))
    }

    /// How much higher oil stands at the wall it runs to than on level ground, most over the manoeuvres: settled, or
    /// at the first swing of one that comes at once.
    ///
    /// # Errors
    /// Says what is not stated, or that no state has an acceleration.
    pub fn most_rise(&self, first_swing: bool) -> Result<Sample, Unknown> {
        let (duty, hottest) = (self.duty()?, self.hottest()?);
        let most = if first_swing { overshoot(self.least_damping()?).value } else { 1.0 };
        let mut states = Vec::new();
        for item in &need(&duty.states)?.entries {
            let state = &item.value;
            if [state.braking, state.accelerating, state.cornering].iter().all(Option::is_none) {
                continue;
            }
            let at = Worst {
                state: item.name.clone(),
                point: state.point.clone(),
                span: item.name_span,
                oil_temperature: hottest.value,
            };
            let rise = self.rise(state)?;
            states.push(StateValue { at, bounds: Ok(Bounds::between(rise, rise * most)) });
        }
        let known = |s: &StateValue| s.bounds.clone().unwrap_or(Bounds::exactly(f64::NAN));
        let worst = states
            .iter()
            .reduce(|a, b| if known(b).high > known(a).high { b } else { a })
            .cloned()
            .ok_or_else(|| {
                Unknown::because("no state of the duty brakes, accelerates or corners")
            })?;
        let low = states.iter().map(|s| known(s).low).fold(0.0, |a, b| if b > a { b } else { a });
        let bounds = Bounds { low, high: known(&worst).high };
        let subject = self.fill_span()?;
        Ok(Sample { bounds, subject, worst: Some(worst.at), states, notes: Vec::new() })
    }

    /// Rise of the surface over the rail's farthest corner on the side the oil runs to, acceleration alone.
    fn rise(&self, state: &State) -> Result<f64, Unknown> {
        let manoeuvre = State { climb: None, side_slope: None, high: None, ..state.clone() };
        let up = attitude(&manoeuvre, self.nose_up()?).up;
        let flat = self.level_up()?;
        let rail = self.rail()?;
        let downhill = |p: &DVec2| -(up - flat).truncate().dot(*p);
        let far = rail
            .points()
            .iter()
            .copied()
            .reduce(|a, b| if downhill(&b) > downhill(&a) { b } else { a })
            .ok_or_else(|| Unknown::because("the rail has no corner"))?;
        let hottest = self.hottest()?;
        let bounds = self.in_all_worlds(|world| {
            let volume = self.volume_at(&self.fill(world)?, hottest)?;
            let over = |up: DVec3| {
                let height = world.level(self, up, volume)?.value;
                Ok((height - up.truncate().dot(far)) / up.z)
            };
            Ok(over(up)? - over(flat)?)
        })?;
        Ok(bounds.high)
    }
}
