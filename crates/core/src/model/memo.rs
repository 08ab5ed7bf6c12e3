//! What was computed once and can be used again: keyed by the numbers it was computed from, so that a
//! remembered result is bit for bit what computing it anew would give.

use crate::reading::{Bounds, Unknown};
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};
use sumpwright_physics::level::{Body, LevelError};
use sumpwright_physics::terrain::{Terrain, TerrainError};
use uom::si::f64::Length;

type Key = Vec<u64>;
type Kept<T> = Mutex<BTreeMap<Key, T>>;

/// Shared by all scenes of a run.
#[derive(Debug, Default)]
pub struct Memo {
    terrains: Kept<Arc<Result<Terrain, TerrainError>>>,
    bodies: Kept<Arc<Body>>,
    levels: Kept<Result<Length, LevelError>>,
    drained: Kept<Result<(Bounds, Vec<String>), Unknown>>,
    numbers: Kept<Result<f64, Unknown>>,
}

impl Memo {
    /// The terrain of a key.
    pub(super) fn terrain(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Result<Terrain, TerrainError>,
    ) -> Arc<Result<Terrain, TerrainError>> {
        keep(&self.terrains, key, || Arc::new(make()))
    }

    /// The body of a key; nothing is kept where it cannot be made.
    pub(super) fn body(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Option<Body>,
    ) -> Option<Arc<Body>> {
        if let Some(found) = peek(&self.bodies, key) {
            return Some(found);
        }
        let body = Arc::new(make()?);
        Some(keep(&self.bodies, key, || body))
    }

    /// The level of a key.
    pub(super) fn level(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Result<Length, LevelError>,
    ) -> Result<Length, LevelError> {
        keep(&self.levels, key, make)
    }

    /// What stays after draining, of a key.
    pub(super) fn drained(
        &self,
        key: &[u64],
        make: impl FnOnce() -> Result<(Bounds, Vec<String>), Unknown>,
    ) -> Result<(Bounds, Vec<String>), Unknown> {
        keep(&self.drained, key, make)
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
