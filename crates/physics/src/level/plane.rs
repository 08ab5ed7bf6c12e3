//! A plane as the boxes and faces of a body see it.
#![expect(
    clippy::inline_always,
    reason = "wide registers can only be used within what dispatches to them"
)]

use fearless_simd::prelude::*;
use fearless_simd::{Level, f64x8};
use glam::DVec3;

/// The plane up·x = height, with a slab of half the thickness `width` round it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plane {
    up: DVec3,
    pub(super) height: f64,
    pub(super) width: f64,
    /// The registers to look at it with: the widest that this machine has.
    pub(super) registers: Level,
}

impl Plane {
    pub(super) fn new(up: DVec3, height: f64, width: f64) -> Self {
        Self { up, height, width, registers: Level::new() }
    }

    /// The same plane seen from another origin.
    pub(super) fn from(self, origin: DVec3) -> Self {
        Self { height: self.height - self.up.dot(origin), ..self }
    }

    /// The plane, eight times over.
    #[inline(always)]
    pub(super) fn seen<S: Simd>(&self, simd: S) -> Seen<S> {
        let up = self.up;
        let all = |vector: DVec3| vector.to_array().map(|axis| f64x8::splat(simd, axis));
        Seen {
            ups: all(up),
            sizes: all(up.abs()),
            squares: all(up * up),
            mixed: all(DVec3::new(up.x * up.y, up.y * up.z, up.z * up.x)),
            height: f64x8::splat(simd, self.height),
            over: f64x8::splat(simd, self.width),
            under: f64x8::splat(simd, -self.width),
        }
    }
}

/// A plane, eight times over.
pub(super) struct Seen<S: Simd> {
    pub(super) ups: [f64x8<S>; 3],
    /// Up with each part taken positive: its product with half a box is how far the box reaches along up.
    pub(super) sizes: [f64x8<S>; 3],
    /// The products of up with itself: xx, yy, zz and xy, yz, zx.
    pub(super) squares: [f64x8<S>; 3],
    pub(super) mixed: [f64x8<S>; 3],
    pub(super) height: f64x8<S>,
    /// Half the thickness of the slab, and the same downward.
    pub(super) over: f64x8<S>,
    pub(super) under: f64x8<S>,
}
