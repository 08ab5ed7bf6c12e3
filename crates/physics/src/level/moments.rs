//! All moments of the oil at a known level: its volume and middle, its free surface, the surface's middle and its
//! second moments.
//!
//! Over the part of the faces below the plane add up n = Σ s, c = Σ s⟨x⟩ and T = Σ s⟨x xᵀ⟩, with s the area along up
//! and ⟨·⟩ the mean over what is left of a face. With z = d·x − h the field z·x·d vanishes on the plane, so that no
//! cap is needed here either.

use super::OilSpace;
use super::body::Body;
use crate::mesh::larger;
use glam::{DMat3, DVec3};
use uom::si::area::square_meter;
use uom::si::f64::{Area, Length, Volume};
use uom::si::volume::cubic_meter;
use uom::si::{ISQ, Quantity, SI};
use uom::typenum::{P4, Z0};

/// A second moment of area, in m⁴.
pub type SecondMoment = Quantity<ISQ<P4, Z0, Z0, Z0, Z0, Z0, Z0>, SI<f64>, f64>;

/// The oil below a plane and its free surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moments {
    /// The oil.
    pub volume: Volume,
    /// The middle of the oil, in metres; none without oil.
    pub centroid: Option<DVec3>,
    /// The free surface.
    pub surface: Area,
    /// The middle of the free surface, in metres, about which it turns at constant volume; none without a surface.
    pub surface_centroid: Option<DVec3>,
    /// The second moments of the free surface about its middle, the larger and the smaller: ∫ u² dA along the two
    /// directions square to up in which they differ most.
    pub second: [SecondMoment; 2],
    /// The unit vector in the surface along which it is longest: that of the larger moment; none without a surface.
    pub longest: Option<DVec3>,
}

/// The sums over what lies below the plane, from one origin.
#[derive(Debug, Clone, Copy)]
pub(super) struct Below {
    n: f64,
    c: DVec3,
    t: DMat3,
}

impl OilSpace {
    /// Volume, middle, free surface, its middle and second moments, of the oil that stands to the plane
    /// up·x = height.
    ///
    /// # Formula
    /// ⟨z⟩ = d·c − hn, ⟨zx⟩ = Td − hc, ⟨z²⟩ = dᵀTd − 2h d·c + h²n; V = ⟨z⟩, V·centroid = ⟨zx⟩ − d⟨z²⟩/2, A = −n,
    /// A·(surface's middle) = −(c − d⟨z⟩), second moments = −(T − ⟨zx⟩dᵀ − d⟨zx⟩ᵀ + ddᵀ⟨z²⟩) less S·Sᵀ/A.
    ///
    /// # Valid for
    /// A unit vector `up`; any height; one surface for all oil. Every face is looked at, which takes time in
    /// proportion to their number.
    ///
    /// # Source
    /// Divergence theorem; tested against closed forms of boxes, wedges and a ball.
    pub fn moments(&self, up: DVec3, height: Length) -> Moments {
        // Sums of a space far away would cancel: they are taken from the middle of the first body.
        let origin = self.parts.first().map_or(DVec3::ZERO, |(_, body)| body.middle());
        let height = height.value - up.dot(origin);
        let mut all = Below { n: 0.0, c: DVec3::ZERO, t: DMat3::ZERO };
        for (weight, body) in &self.parts {
            let sums = body.sums(up, height, origin);
            all.n += weight * sums.n;
            all.c += *weight * sums.c;
            all.t += *weight * sums.t;
        }
        all.moments(up, height, origin)
    }
}

impl Below {
    fn moments(&self, up: DVec3, height: f64, origin: DVec3) -> Moments {
        let Self { n, c, t } = *self;
        let z = up.dot(c) - height * n;
        let zx = t * up - height * c;
        let zz = up.dot(t * up) - 2.0 * height * up.dot(c) + height * height * n;
        let area = -n;
        let first = up * z - c;
        let is_there = area > 0.0;
        let middle = if is_there { first / area } else { DVec3::ZERO };
        let second = outer(zx, up) + outer(up, zx) - t - outer(up, up) * zz - outer(first, middle);
        let (moments, longest) = principal(second, up);
        Moments {
            volume: Volume::new::<cubic_meter>(z),
            centroid: (z > 0.0).then(|| origin + (zx - up * (zz / 2.0)) / z),
            surface: Area::new::<square_meter>(area),
            surface_centroid: is_there.then(|| origin + middle),
            second: moments
                .map(|moment| Area::new::<square_meter>(moment) * Area::new::<square_meter>(1.0)),
            longest: is_there.then_some(longest),
        }
    }
}

/// The larger and the smaller moment in the plane square to up, and the direction of the larger.
fn principal(second: DMat3, up: DVec3) -> ([f64; 2], DVec3) {
    let (one, other) = up.any_orthonormal_pair();
    let (a, b) = (one.dot(second * one), other.dot(second * other));
    let mixed = one.dot(second * other);
    let (mean, half) = (f64::midpoint(a, b), (a - b) / 2.0);
    let radius = (half * half + mixed * mixed).sqrt();
    let angle = libm::atan2(mixed, half) / 2.0;
    let longest = one * libm::cos(angle) + other * libm::sin(angle);
    ([mean + radius, larger(mean - radius, 0.0)], longest)
}

fn outer(one: DVec3, other: DVec3) -> DMat3 {
    DMat3::from_cols(one * other.x, one * other.y, one * other.z)
}

impl Body {
    /// The sums over what lies below the plane, from an origin.
    fn sums(&self, up: DVec3, height: f64, origin: DVec3) -> Below {
        let shift = self.middle() - origin;
        let mut sums = Below { n: 0.0, c: DVec3::ZERO, t: DMat3::ZERO };
        for (corners, area) in self.faces() {
            let corners = corners.map(|corner| corner + shift);
            let area = up.dot(area);
            let mut heights = [(0.0, 0); 3];
            for (at, corner) in corners.iter().enumerate() {
                if let Some(height_of) = heights.get_mut(at) {
                    *height_of = (up.dot(*corner) - height, at);
                }
            }
            sums.add_below(corners, area, heights);
        }
        sums
    }
}

impl Below {
    /// Adds the part of a face below the plane: all of it, the tip of the lowest corner, or what the tip of the
    /// highest leaves, in two triangles.
    fn add_below(&mut self, corners: [DVec3; 3], area: f64, mut heights: [(f64, usize); 3]) {
        heights.sort_by(|one, other| one.0.total_cmp(&other.0));
        let [(a, at_a), (b, at_b), (c, at_c)] = heights;
        let corner = |at: usize| corners.get(at).copied().unwrap_or_default();
        let (p, q, r) = (corner(at_a), corner(at_b), corner(at_c));
        if a >= 0.0 {
            return;
        }
        if c <= 0.0 {
            self.add([p, q, r], area);
        } else if b >= 0.0 {
            let (to_q, to_r) = (a / (a - b), a / (a - c));
            self.add([p, p + (q - p) * to_q, p + (r - p) * to_r], area * to_q * to_r);
        } else {
            // Where the surface cuts the edges to the highest corner.
            let (on_p, on_q) = (a / (a - c), b / (b - c));
            let (cut_p, cut_q) = (p + (r - p) * on_p, q + (r - q) * on_q);
            self.add([p, q, cut_p], area * on_p);
            self.add([q, cut_q, cut_p], area * on_q * (1.0 - on_p));
        }
    }

    /// Adds a triangle: ⟨fg⟩ = (Σf Σg + Σ fᵢgᵢ)/12.
    fn add(&mut self, [p, q, r]: [DVec3; 3], area: f64) {
        let sum = p + q + r;
        self.n += area;
        self.c += sum * (area / 3.0);
        let squares = outer(sum, sum) + outer(p, p) + outer(q, q) + outer(r, r);
        self.t += squares * (area / 12.0);
    }
}
