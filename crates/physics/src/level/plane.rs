//! A plane as the boxes and faces of a body see it.

use glam::DVec3;
use wide::f64x2;

/// The plane up·x = height, with a slab of half the thickness `width` round it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plane {
    up: DVec3,
    pub(super) ups: [f64x2; 3],
    /// Up with each part taken positive: its product with half a box is how far the box reaches along up.
    pub(super) sizes: [f64x2; 3],
    /// The products of up with itself: xx, yy, zz and xy, yz, zx.
    pub(super) squares: [f64x2; 3],
    pub(super) mixed: [f64x2; 3],
    pub(super) height: f64,
    pub(super) width: f64,
}

impl Plane {
    pub(super) fn new(up: DVec3, height: f64, width: f64) -> Self {
        let both = |vector: DVec3| vector.to_array().map(f64x2::splat);
        Self {
            up,
            ups: both(up),
            sizes: both(up.abs()),
            squares: both(up * up),
            mixed: both(DVec3::new(up.x * up.y, up.y * up.z, up.z * up.x)),
            height,
            width,
        }
    }

    /// The same plane seen from another origin.
    pub(super) fn from(self, origin: DVec3) -> Self {
        Self { height: self.height - self.up.dot(origin), ..self }
    }
}
