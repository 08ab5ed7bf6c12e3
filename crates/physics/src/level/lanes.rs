//! Eight numbers side by side, and leaves of eight faces kept so.
//!
//! The machine's widest registers hold all eight, half of them, or two: the sums come out the same to the last bit,
//! since no lane meets another before the end, and there in a fixed order.
#![expect(clippy::indexing_slicing, reason = "every index runs over the eight lanes")]
#![expect(
    clippy::inline_always,
    reason = "wide registers can only be used within what dispatches to them"
)]

use super::plane::Seen;
use super::slab::{Lined, Pieces};
use super::sums::Sums;
use fearless_simd::prelude::*;
use fearless_simd::{f64x8, mask64x8};
use glam::DVec3;

/// Faces in a leaf and boxes in a block.
pub(super) const WIDE: usize = 8;

/// Eight numbers as they lie in memory.
#[derive(Debug, Clone, Copy, PartialEq)]
#[repr(align(64))]
pub(super) struct Eight(pub(super) [f64; WIDE]);

impl Eight {
    #[inline(always)]
    pub(super) fn load<S: Simd>(&self, simd: S) -> f64x8<S> {
        f64x8::simd_from(simd, self.0)
    }
}

/// A vector in each of eight lanes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Vectors {
    axes: [Eight; 3],
}

impl Vectors {
    /// Lanes left over hold `rest`.
    pub(super) fn new(vectors: impl Iterator<Item = DVec3>, rest: f64) -> Self {
        let mut axes = [Eight([rest; WIDE]); 3];
        for (lane, vector) in vectors.enumerate().take(WIDE) {
            for (axis, lanes) in axes.iter_mut().enumerate() {
                lanes.0[lane] = vector[axis];
            }
        }
        Self { axes }
    }

    /// Their products with a vector.
    #[inline(always)]
    pub(super) fn dot<S: Simd>(&self, other: [f64x8<S>; 3]) -> f64x8<S> {
        dot(self.load(other[0].simd), other)
    }

    #[inline(always)]
    fn load<S: Simd>(&self, simd: S) -> [f64x8<S>; 3] {
        self.axes.each_ref().map(|axis| axis.load(simd))
    }

    pub(super) fn lane(&self, lane: usize) -> DVec3 {
        DVec3::from(self.axes.each_ref().map(|lanes| lanes.0[lane]))
    }
}

/// A leaf: the corners of eight faces. Lanes left over are faces of no area.
///
/// Their areas are not kept: working them out takes less time than fetching them where a mesh is large.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Faces {
    corners: [Vectors; 3],
}

impl Faces {
    pub(super) fn new(faces: &[[DVec3; 3]]) -> Self {
        let corner = |at: usize| Vectors::new(faces.iter().map(|face| face[at]), 0.0);
        Self { corners: core::array::from_fn(corner) }
    }

    /// The corners and vector areas of the faces that have an area.
    pub(super) fn each(&self) -> impl Iterator<Item = ([DVec3; 3], DVec3)> {
        (0..WIDE)
            .map(|lane| self.corners.each_ref().map(|corner| corner.lane(lane)))
            .map(|[a, b, c]| ([a, b, c], (b - a).cross(c - a) / 2.0))
            .filter(|(_, area)| *area != DVec3::ZERO)
    }

    /// Adds what lies below the plane.
    #[inline(always)]
    pub(super) fn add_below<S: Simd>(&self, plane: &Seen<S>, sums: &mut Sums<S>) {
        self.heights(plane).add_below(sums);
    }

    /// Adds what lies below any plane within the slab round a plane; a face with a corner in it goes to the list.
    #[inline(always)]
    pub(super) fn add_slab<S: Simd>(
        &self,
        plane: &Seen<S>,
        weight: f64,
        lined: &mut Lined<S>,
        list: &mut Pieces,
    ) {
        let Heights { low: a, middle: b, high: c, area } = self.heights(plane);
        let (b_below, c_above) = (b.simd_le(plane.under), c.simd_ge(plane.over));
        let two = b_below & c_above;
        let one = a.simd_le(plane.under) & b.simd_ge(plane.over);
        let crossing = one | two;
        let whole = c.simd_le(plane.under);
        // The corner alone on its side.
        let alone = two.select(c, a);
        let far = two.select(a, c);
        let sharp = only(crossing, area / ((b - alone) * (far - alone)));
        // Turned where two corners are below.
        let sharp = two.select(-sharp, sharp);
        let straight = only(whole | two, area);
        lined.straight[0] += straight;
        lined.straight[1] += straight * (a + b + c);
        lined.sharp[0] += sharp;
        let sharp = sharp * alone;
        lined.sharp[1] += sharp;
        let sharp = sharp * alone;
        lined.sharp[2] += sharp;
        lined.sharp[3] += sharp * alone;
        let settled = crossing | whole | a.simd_ge(plane.over);
        let mut listed = settled.to_bitmask() ^ 0xff;
        if listed == 0 {
            return;
        }
        let piece: [[f64; WIDE]; 4] = [a, b, c, area * weight].map(Into::into);
        while listed != 0 {
            let lane = listed.trailing_zeros() as usize;
            listed &= listed - 1;
            list.push(piece.each_ref().map(|lanes| lanes[lane]));
        }
    }

    #[inline(always)]
    fn heights<S: Simd>(&self, plane: &Seen<S>) -> Heights<S> {
        let simd = plane.height.simd;
        let [a, b, c] = self.corners.each_ref().map(|corner| corner.load(simd));
        let height = |corner| dot(corner, plane.ups) - plane.height;
        let (x, y, z) = (height(a), height(b), height(c));
        let area = dot(cross(less(b, a), less(c, a)), plane.ups) * 0.5;
        let (x, y) = (x.min(y), x.max(y));
        let (y, z) = (y.min(z), y.max(z));
        let (x, y) = (x.min(y), x.max(y));
        Heights { low: x, middle: y, high: z, area }
    }
}

/// The heights of the corners of eight faces over a plane, sorted, and their areas along up.
pub(super) struct Heights<S: Simd> {
    pub(super) low: f64x8<S>,
    pub(super) middle: f64x8<S>,
    pub(super) high: f64x8<S>,
    pub(super) area: f64x8<S>,
}

impl<S: Simd> Heights<S> {
    /// Adds what lies below height 0.
    #[inline(always)]
    pub(super) fn add_below(&self, sums: &mut Sums<S>) {
        let Self { low: a, middle: b, high: c, area } = *self;
        let (zero, unit) = (f64x8::splat(a.simd, 0.0), f64x8::splat(a.simd, 1.0));
        // One corner below: the tip. Two: the whole less the tip above, multiplied out: every term has one sign, so
        // that a thin film on a tall wall keeps its digits.
        let one = b.simd_ge(zero);
        let volume = one.select(a * a * a, a * b * (a + b) - c * (a * a + a * b + b * b));
        let share = one.select(a * a, a * b - c * (a + b));
        let over = one.select(a - b, c - b) * one.select(a - c, c - a);
        let below = a.simd_lt(zero);
        let crossed = below & c.simd_gt(zero);
        let over = area / crossed.select(over, unit);
        sums.volume += only(below, over * crossed.select(volume, a + b + c));
        sums.surface -= only(below, over * crossed.select(share, unit));
    }
}

#[inline(always)]
fn dot<S: Simd>([a, b, c]: [f64x8<S>; 3], [x, y, z]: [f64x8<S>; 3]) -> f64x8<S> {
    a * x + b * y + c * z
}

#[inline(always)]
fn less<S: Simd>([a, b, c]: [f64x8<S>; 3], [x, y, z]: [f64x8<S>; 3]) -> [f64x8<S>; 3] {
    [a - x, b - y, c - z]
}

#[inline(always)]
fn cross<S: Simd>([a, b, c]: [f64x8<S>; 3], [x, y, z]: [f64x8<S>; 3]) -> [f64x8<S>; 3] {
    [b * z - c * y, c * x - a * z, a * y - b * x]
}

/// The lanes of a mask, and nothing in the others.
#[inline(always)]
pub(super) fn only<S: Simd>(mask: mask64x8<S>, lanes: f64x8<S>) -> f64x8<S> {
    mask.select(lanes, f64x8::splat(lanes.simd, 0.0))
}

/// The sum of eight lanes, in an order that no machine changes.
#[inline(always)]
pub(super) fn total<S: Simd>(lanes: f64x8<S>) -> f64 {
    let [a, b, c, d, e, f, g, h]: [f64; WIDE] = lanes.into();
    ((a + e) + (c + g)) + ((b + f) + (d + h))
}
