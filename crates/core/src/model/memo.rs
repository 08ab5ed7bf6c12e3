//! What was computed once and can be used again: keyed by the numbers it was computed from, so that a
//! remembered result is bit for bit what computing it anew would give.

use super::mesh::{LookedOver, Settled, Trouble};
use crate::reading::{Bounds, Unknown};
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};
use sumpwright_physics::basins::{self, Vessel};
use sumpwright_physics::columns::Columns;
use sumpwright_physics::level::{Body, Cut, LevelError};
use sumpwright_physics::seiche::Seiche;
use sumpwright_physics::terrain::{Terrain, TerrainError};
use uom::si::f64::Length;

type Key = Vec<u64>;
type Kept<T> = Mutex<BTreeMap<Key, T>>;

/// Shared by all scenes of a pan. What is made of a file of data is kept for the run.
#[derive(Debug, Default)]
pub struct Memo {
    /// That of the run, where this is of a pan in it.
    run: Option<Arc<Memo>>,
    /// The numbers that things are made of, each list with a number of its own: short keys are found soon.
    told_apart: Kept<u64>,
    terrains: Kept<Arc<Result<Terrain, TerrainError>>>,
    bodies: Kept<Arc<Body>>,
    levels: Kept<Result<Length, LevelError>>,
    cuts: Kept<Cut>,
    looked_over: Kept<Arc<LookedOver>>,
    settled: Kept<Arc<Result<Settled, Trouble>>>,
    drained: Kept<Result<(Bounds, Vec<String>), Unknown>>,
    columns: Kept<Option<Arc<Columns>>>,
    seiches: Kept<Option<Seiche>>,
    vessels: Kept<Result<Arc<Vessel>, Unknown>>,
    joined: Kept<Result<Length, Unknown>>,
    pools: Kept<Result<Arc<basins::Settled>, Unknown>>,
    numbers: Kept<Result<f64, Unknown>>,
}

impl Memo {
    /// One for a pan of a run: it may go when the pan is done with, so that what is kept does not grow with the number
    /// of pans.
    pub fn within(run: &Arc<Self>) -> Arc<Self> {
        Arc::new(Self { run: Some(Arc::clone(run)), ..Self::default() })
    }

    fn of_run(&self) -> &Self {
        self.run.as_deref().unwrap_or(self)
    }

    /// A number for a list of numbers: the same for the same list, and for no other.
    pub(super) fn number_of(&self, list: &[u64]) -> u64 {
        let mut known = self.told_apart.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(number) = known.get(list) {
            return *number;
        }
        let number = known.len() as u64;
        known.insert(list.to_vec(), number);
        number
    }

    /// The terrain of a key.
    pub(super) fn terrain(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Result<Terrain, TerrainError>,
    ) -> Arc<Result<Terrain, TerrainError>> {
        keep(&self.terrains, key, || Arc::new(make()))
    }

    /// The mesh file of a key, looked over.
    pub(super) fn looked_over(
        &self,
        key: &[u64],
        make: impl FnOnce() -> LookedOver,
    ) -> Arc<LookedOver> {
        keep(&self.of_run().looked_over, key, || Arc::new(make()))
    }

    /// The mesh of a key on its rail.
    pub(super) fn settled(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Result<Settled, Trouble>,
    ) -> Arc<Result<Settled, Trouble>> {
        keep(&self.of_run().settled, key, || Arc::new(make()))
    }

    /// The body of a key; nothing is kept where there is none.
    pub(super) fn body(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Result<Option<Body>, Unknown>,
    ) -> Result<Option<Arc<Body>>, Unknown> {
        if let Some(found) = peek(&self.bodies, key) {
            return Ok(Some(found));
        }
        let made = make()?.map(Arc::new);
        Ok(made.map(|body| keep(&self.bodies, key, || body)))
    }

    /// The level of a key.
    pub(super) fn level(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Result<Length, LevelError>,
    ) -> Result<Length, LevelError> {
        keep(&self.levels, key, make)
    }

    /// What lies below the plane of a key.
    pub(super) fn cut(&self, key: &[u64], make: impl FnOnce() -> Cut) -> Cut {
        keep(&self.cuts, key, make)
    }

    /// The columns of a key.
    pub(super) fn columns(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Option<Columns>,
    ) -> Option<Arc<Columns>> {
        keep(&self.columns, key, || make().map(Arc::new))
    }

    /// What swings, of a key.
    pub(super) fn seiche(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Option<Seiche>,
    ) -> Option<Seiche> {
        keep(&self.seiches, key, make)
    }

    /// What stays after draining, of a key.
    pub(super) fn drained(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Result<(Bounds, Vec<String>), Unknown>,
    ) -> Result<(Bounds, Vec<String>), Unknown> {
        keep(&self.drained, key, make)
    }

    /// The vessel of a key.
    pub(super) fn vessel(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Result<Arc<Vessel>, Unknown>,
    ) -> Result<Arc<Vessel>, Unknown> {
        keep(&self.vessels, key, make)
    }

    /// The height above which all oil is one body, of a key.
    pub(super) fn joined(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Result<Length, Unknown>,
    ) -> Result<Length, Unknown> {
        keep(&self.joined, key, make)
    }

    /// The pools of a key.
    pub(super) fn pools(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Result<Arc<basins::Settled>, Unknown>,
    ) -> Result<Arc<basins::Settled>, Unknown> {
        keep(&self.pools, key, make)
    }

    /// A number of a key, in SI units; the key begins with what kind of number it is.
    pub(super) fn number(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Result<f64, Unknown>,
    ) -> Result<f64, Unknown> {
        keep(&self.numbers, key, make)
    }
}

fn peek<T: Clone>(kept: &Kept<T>, key: &[u64]) -> Option<T> {
    kept.lock().unwrap_or_else(PoisonError::into_inner).get(key).cloned()
}

/// Made outside the lock: two threads may make the same thing twice, which costs time and changes nothing.
fn keep<T: Clone>(kept: &Kept<T>, key: &[u64], make: impl FnOnce() -> T) -> T {
    if let Some(found) = peek(kept, key) {
        return found;
    }
    let made = make();
    let mut map = kept.lock().unwrap_or_else(PoisonError::into_inner);
    map.entry(key.to_vec()).or_insert(made).clone()
}
