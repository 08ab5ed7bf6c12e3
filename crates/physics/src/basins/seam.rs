//! What a wall without thickness adds to a volume, from the edges that it stands on.
//!
//! One side of the wall is a plane face of the oil. With z the height over the level, N its normal out of the oil and d
//! up, it adds (N·d) ∫ z dA over its wetted part. In its plane z grows along e = d − (d·N)N at the rate |e|, and the
//! field z²/(2|e|²) e has the divergence z and vanishes on the level: so the integral is Σ (e·ν)/(2|e|²) ∫ z² dl over
//! the wetted edges, ν their normals out of the wall, and no edge along the level counts. Where the wall's top or an
//! opening is wet, both sides are one body of oil and what they add cancels, so that only the edges on the surface
//! are ever wanted.

#![expect(clippy::indexing_slicing, reason = "ends are corners of the surface")]

use crate::surface::Surface;
use glam::DVec3;

/// A direction so near a wall's normal has the wall lying level: nothing stands behind it.
const LEVEL_WALL: f64 = 1.0e-18;

/// An edge of one side of a wall, in the order of that side's faces.
#[derive(Debug, Clone, Copy)]
pub(super) struct Seam {
    pub(super) ends: [usize; 2],
    /// Of the wall, out of the oil on this side.
    pub(super) normal: DVec3,
    pub(super) share: f64,
}

/// A seam as a direction sees it: its heights in order, and what z² along it counts.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hem {
    pub(super) factor: f64,
    pub(super) heights: [f64; 2],
}

impl Seam {
    pub(super) fn hem(&self, surface: &Surface) -> Hem {
        let steep = surface.up - self.normal * surface.up.dot(self.normal);
        let size = steep.length_squared();
        let [from, to] = self.ends.map(|corner| surface.points[corner]);
        // The wall's face runs through the edge the other way.
        let outward = (from - to).cross(self.normal);
        let part = self.share * self.normal.dot(surface.up) * steep.dot(outward);
        let factor = if size > LEVEL_WALL { part / size } else { 0.0 };
        let [one, other] = self.ends.map(|corner| surface.heights[corner]);
        Hem { factor, heights: if one < other { [one, other] } else { [other, one] } }
    }

    /// Its lower end.
    pub(super) fn lowest(&self, surface: &Surface) -> usize {
        let [one, other] = self.ends;
        if surface.is_lower(other, one) { other } else { one }
    }

    /// What it adds to what the faces say of an end that has no lower neighbour, see [`Surface::openings`]: just above
    /// it the wall cuts off δ³/3 of this.
    pub(super) fn opening(&self, surface: &Surface) -> [(usize, f64); 2] {
        let [one, other] = self.ends;
        let factor = self.hem(surface).factor / 2.0;
        [(one, factor / surface.rise(one, other)), (other, factor / surface.rise(other, one))]
    }
}

impl Hem {
    /// What it adds to the volume below a level, and to how fast that grows.
    pub(super) fn below(&self, level: f64) -> [f64; 2] {
        let [a, b] = self.heights.map(|height| height - level);
        if a >= 0.0 {
            [0.0, 0.0]
        } else if b <= 0.0 {
            [self.factor * (a * a + a * b + b * b) / 6.0, -self.factor * (a + b) / 2.0]
        } else {
            let share = a / (a - b);
            [self.factor * share * a * a / 6.0, -self.factor * share * a / 2.0]
        }
    }
}
