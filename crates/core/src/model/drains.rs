//! Drains: moved to the wall they belong to, and the lowest point that oil can leave by.

use super::interior::point;
use super::mouth::direction;
use super::scene::{Scene, need};
use crate::document::Item;
use crate::document::pan::{Drain, Facing, ThreadDoc};
use crate::reading::Unknown;
use glam::DVec3;
use sumpwright_physics::pipe_thread::PipeThread;
use sumpwright_physics::thread::Thread;
use uom::si::f64::Length;

/// A drain is moved along its axis to the nearest wall by at most this much, in metres: what a tape misses.
pub const DRAIN_TOLERANCE: f64 = 5e-3;

/// A drain on its wall.
#[derive(Debug, Clone, Copy)]
pub struct PlacedDrain {
    /// Middle of the opening, on the wall, in metres.
    pub middle: DVec3,
    /// Direction out of the pan.
    pub axis: DVec3,
    /// Diameter of the bore: the thread's minor diameter.
    pub bore: Length,
    /// By how far it was moved along its axis, in metres; negative is inward.
    pub moved: f64,
}

impl PlacedDrain {
    /// The point of the opening's rim that is lowest along `up`.
    pub fn lowest(&self, up: DVec3) -> DVec3 {
        let across = up - self.axis * up.dot(self.axis);
        if across.length() <= f64::EPSILON {
            return self.middle;
        }
        self.middle - across.normalize() * (self.bore.value / 2.0)
    }
}

/// A drain of a scene on its wall.
///
/// # Errors
/// Says what is not stated, or that no wall is near.
pub fn placed_drain(scene: &Scene, drain: &Item<Drain>) -> Result<PlacedDrain, Unknown> {
    let at = point(need(&drain.value.at)?);
    let axis = direction(need(&drain.value.axis)?.value);
    let thread = need(&drain.value.thread)?;
    let bore = bore_of(thread)?;
    let mut key = vec![PLACED];
    key.extend([at.x, at.y, at.z, axis.x, axis.y, axis.z].map(f64::to_bits));
    key.push(scene.terrain_number()?);
    let moved = scene.memo.number(&key, || {
        scene.with_terrain(|terrain| {
            // The stated place may lie a little inside the metal, so both ways are looked along.
            let outward = terrain.nearest_wall(at, axis).map(|d| d.value);
            let inward = terrain.nearest_wall(at, -axis).map(|d| -d.value);
            [outward, inward]
                .into_iter()
                .flatten()
                .reduce(|a, b| if b.abs() < a.abs() { b } else { a })
                .ok_or_else(|| Unknown::because("no wall lies along the drain's axis"))
        })
    })?;
    Ok(PlacedDrain { middle: at + axis * moved, axis, bore, moved })
}

/// What the keys of remembered drain places begin with.
const PLACED: u64 = 102;

/// The bore that a thread leaves for the oil.
///
/// # Errors
/// Says that a taper thread has no size of the table.
pub(super) fn bore_of(thread: &ThreadDoc) -> Result<Length, Unknown> {
    if !thread.taper {
        return Ok(metric(thread)?.internal_minor_diameter());
    }
    PipeThread::of_outside(thread.diameter)
        .map(|pipe| pipe.bore())
        .ok_or_else(|| Unknown::because("there is no taper thread of this size"))
}

/// A metric thread.
///
/// # Errors
/// Says that it is a taper pipe thread.
pub fn metric(thread: &ThreadDoc) -> Result<Thread, Unknown> {
    if thread.taper {
        return Err(Unknown::because(
            "it is a taper pipe thread, which wedges and is not held by a preload",
        ));
    }
    Ok(Thread { nominal: thread.diameter, pitch: thread.pitch })
}

impl Scene {
    /// A drain by its number.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn drain(&self, index: usize) -> Result<&Item<Drain>, Unknown> {
        need(&self.pan.drains)?
            .entries
            .get(index)
            .ok_or_else(|| Unknown::because("there is no such drain"))
    }

    /// Whether a drain points down, so that what hangs below the floor counts.
    pub(super) fn points_down(drain: &Drain) -> bool {
        matches!(drain.axis.stated().map(|w| w.value), Some(Facing::Down))
    }
}
