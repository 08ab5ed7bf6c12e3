//! Eight numbers side by side, two to a vector register, and leaves of eight faces kept so.
#![expect(clippy::indexing_slicing, reason = "every index runs over the pairs of eight lanes")]

use super::plane::Plane;
use super::slab::{Piece, Slab};
use super::sums::Sums;
use glam::DVec3;
use wide::f64x2;

/// Faces in a leaf and boxes in a block.
pub(super) const WIDE: usize = 8;
const PAIRS: usize = WIDE / 2;
pub(super) type Lanes = [f64x2; PAIRS];

/// A vector in each of eight lanes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Vectors {
    axes: [Lanes; 3],
}

impl Vectors {
    /// Lanes left over hold `rest`.
    pub(super) fn new(vectors: impl Iterator<Item = DVec3>, rest: f64) -> Self {
        let mut axes = [[rest; WIDE]; 3];
        for (lane, vector) in vectors.enumerate().take(WIDE) {
            for (axis, lanes) in axes.iter_mut().enumerate() {
                lanes[lane] = vector[axis];
            }
        }
        Self {
            axes: axes.map(|l| core::array::from_fn(|at| f64x2::new([l[2 * at], l[2 * at + 1]]))),
        }
    }

    /// The products of a pair of them with a vector.
    #[inline]
    pub(super) fn dot(&self, pair: usize, [x, y, z]: [f64x2; 3]) -> f64x2 {
        let [of_x, of_y, of_z] = &self.axes;
        of_x[pair] * x + of_y[pair] * y + of_z[pair] * z
    }

    pub(super) fn lane(&self, lane: usize) -> DVec3 {
        DVec3::from(self.axes.each_ref().map(|lanes| lanes[lane / 2].to_array()[lane % 2]))
    }
}

/// A leaf: eight faces. Lanes left over are faces of no area.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Faces {
    corners: [Vectors; 3],
    /// The vector areas.
    area: Vectors,
}

impl Faces {
    pub(super) fn new(faces: &[[DVec3; 3]]) -> Self {
        let corner = |at: usize| Vectors::new(faces.iter().map(|face| face[at]), 0.0);
        let area = |&[a, b, c]: &[DVec3; 3]| (b - a).cross(c - a) / 2.0;
        Self {
            corners: core::array::from_fn(corner),
            area: Vectors::new(faces.iter().map(area), 0.0),
        }
    }

    /// The corners and vector areas of the faces that have an area.
    pub(super) fn each(&self) -> impl Iterator<Item = ([DVec3; 3], DVec3)> {
        (0..WIDE)
            .map(|lane| (self.corners.each_ref().map(|c| c.lane(lane)), self.area.lane(lane)))
            .filter(|(_, area)| *area != DVec3::ZERO)
    }

    /// Adds what lies below the plane.
    pub(super) fn add_below(&self, plane: &Plane, sums: &mut Sums) {
        for pair in 0..PAIRS {
            Heights::of(self, pair, plane).add_below(sums);
        }
    }

    /// Adds what lies below any plane within the slab round a plane; a face with a corner in it goes to the list.
    pub(super) fn add_slab(&self, plane: &Plane, weight: f64, slab: &mut Slab) {
        let (over, under) = (f64x2::splat(plane.width), f64x2::splat(-plane.width));
        let mut lined = slab.lined;
        let mut listed = 0;
        for pair in 0..PAIRS {
            let Heights { low: a, middle: b, high: c, area } = Heights::of(self, pair, plane);
            let (b_below, c_above) = (b.simd_le(under), c.simd_ge(over));
            let two = b_below & c_above;
            let one = a.simd_le(under) & b.simd_ge(over);
            let crossing = one | two;
            let whole = c.simd_le(under);
            // The corner alone on its side.
            let alone = two.bitselect(c, a);
            let far = two.bitselect(a, c);
            let sharp = crossing & (area / ((b - alone) * (far - alone)));
            // Turned where two corners are below.
            let sharp = sharp ^ (two & f64x2::splat(-0.0));
            let straight = (whole | two) & area;
            lined.straight[0] += straight;
            lined.straight[1] += straight * (a + b + c);
            lined.sharp[0] += sharp;
            let sharp = sharp * alone;
            lined.sharp[1] += sharp;
            let sharp = sharp * alone;
            lined.sharp[2] += sharp;
            lined.sharp[3] += sharp * alone;
            let settled = crossing | whole | a.simd_ge(over);
            listed |= (settled.to_bitmask() ^ 3) << (2 * pair);
        }
        slab.lined = lined;
        while listed != 0 {
            let lane = listed.trailing_zeros() as usize;
            listed &= listed - 1;
            let of = Heights::of(self, lane / 2, plane);
            let at = |pair: f64x2| pair.to_array()[lane % 2];
            let piece = Piece {
                low: at(of.low),
                middle: at(of.middle),
                high: at(of.high),
                area: at(of.area) * weight,
            };
            slab.list.push(piece);
        }
    }
}

/// The heights of the corners of two faces over a plane, sorted, and their areas along up.
pub(super) struct Heights {
    pub(super) low: f64x2,
    pub(super) middle: f64x2,
    pub(super) high: f64x2,
    pub(super) area: f64x2,
}

impl Heights {
    #[inline]
    fn of(faces: &Faces, pair: usize, plane: &Plane) -> Self {
        let height = f64x2::splat(plane.height);
        let [x, y, z] = faces.corners.each_ref().map(|corner| corner.dot(pair, plane.ups) - height);
        let area = faces.area.dot(pair, plane.ups);
        let (x, y) = (x.fast_min(y), x.fast_max(y));
        let (y, z) = (y.fast_min(z), y.fast_max(z));
        let (x, y) = (x.fast_min(y), x.fast_max(y));
        Self { low: x, middle: y, high: z, area }
    }

    /// Adds what lies below height 0.
    #[inline]
    pub(super) fn add_below(&self, sums: &mut Sums) {
        let Self { low: a, middle: b, high: c, area } = *self;
        let zero = f64x2::ZERO;
        // One corner below: the tip. Two: the whole less the tip above, multiplied out: every term has one sign, so
        // that a thin film on a tall wall keeps its digits.
        let one = b.simd_ge(zero);
        let volume = one.bitselect(a * a * a, a * b * (a + b) - c * (a * a + a * b + b * b));
        let share = one.bitselect(a * a, a * b - c * (a + b));
        let over = one.bitselect(a - b, c - b) * one.bitselect(a - c, c - a);
        let below = a.simd_lt(zero);
        let crossed = below & c.simd_gt(zero);
        let over = area / crossed.bitselect(over, f64x2::ONE);
        sums.volume += below & (over * crossed.bitselect(volume, a + b + c));
        sums.surface -= below & (over * crossed.bitselect(share, f64x2::ONE));
    }
}

/// The sum of two lanes.
pub(super) fn total(pair: f64x2) -> f64 {
    let [one, other] = pair.to_array();
    one + other
}
