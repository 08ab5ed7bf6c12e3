//! A vessel seen with one direction as up, kept for the next who asks.

use super::BasinError;
use super::tree::Tree;
use crate::surface::Surface;
use glam::DVec3;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

/// Faces in all views that are kept of one vessel, at most: some 20 MB.
const KEPT: usize = 200_000;

/// The basins for one direction.
#[derive(Debug)]
pub(super) struct View {
    pub(super) surface: Surface,
    pub(super) tree: Tree,
}

/// Views by the bits of their direction: each is bit for bit what it would be made anew.
#[derive(Debug, Default)]
pub(super) struct Views(Mutex<BTreeMap<[u64; 3], Arc<View>>>);

impl Clone for Views {
    /// A copy begins with none.
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl Views {
    /// The view for a direction. Made outside the lock: the same twice costs time and changes nothing.
    pub(super) fn get(
        &self,
        up: DVec3,
        faces: usize,
        make: impl FnOnce() -> Result<View, BasinError>,
    ) -> Result<Arc<View>, BasinError> {
        let key = up.to_array().map(f64::to_bits);
        let kept = || self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(found) = kept().get(&key) {
            return Ok(Arc::clone(found));
        }
        let made = Arc::new(make()?);
        let mut views = kept();
        if (views.len() + 1).saturating_mul(faces) <= KEPT {
            views.insert(key, Arc::clone(&made));
        }
        Ok(made)
    }
}
