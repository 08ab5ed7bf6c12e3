//! Eight numbers side by side, two to a vector register, and leaves of eight faces kept so.
#![expect(
    clippy::indexing_slicing,
    reason = "every index runs over eight lanes, or was made with the points it is one of"
)]

use super::plane::Plane;
use super::slab::{Piece, Slab};
use super::sums::Sums;
use crate::mesh::index_of;
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
    /// Where its points begin among those of the tree, and how many pairs there are.
    start: u32,
    pairs: u32,
    /// Which of its points each corner of each face is.
    which: [[u8; WIDE]; 3],
    /// The vector areas.
    area: Vectors,
}

/// Two points side by side.
pub(super) type Points = [f64x2; 3];

/// A leaf with its points: neighbouring faces share them, so that far less has to be fetched than three for each face.
#[derive(Debug, Clone, Copy)]
pub(super) struct Leaf<'a> {
    faces: &'a Faces,
    points: &'a [Points],
}

/// More than the corners of eight faces: a power of two, so that no index has to be checked.
const CORNERS: usize = 32;

impl Faces {
    /// Puts the points of the faces behind those of the tree.
    pub(super) fn new(faces: &[[DVec3; 3]], points: &mut Vec<Points>) -> Self {
        let mut own: Vec<DVec3> = Vec::new();
        let mut which = [[0; WIDE]; 3];
        let bits = |point: &DVec3| point.to_array().map(f64::to_bits);
        for (lane, face) in faces.iter().enumerate().take(WIDE) {
            for (corner, point) in face.iter().enumerate() {
                let known = own.iter().position(|other| bits(other) == bits(point));
                let at = known.unwrap_or(own.len());
                if at == own.len() {
                    own.push(*point);
                }
                which[corner][lane] = u8::try_from(at).unwrap_or_default();
            }
        }
        let start = index_of(points.len());
        points.extend(own.chunks(2).map(|pair| {
            let (one, other) = (pair[0], *pair.last().unwrap_or(&DVec3::ZERO));
            core::array::from_fn(|axis| f64x2::new([one[axis], other[axis]]))
        }));
        let area = |&[a, b, c]: &[DVec3; 3]| (b - a).cross(c - a) / 2.0;
        Self {
            start,
            pairs: index_of(points.len()) - start,
            which,
            area: Vectors::new(faces.iter().map(area), 0.0),
        }
    }

    /// With its points out of those of the tree.
    #[inline]
    pub(super) fn with<'a>(&'a self, points: &'a [Points]) -> Leaf<'a> {
        let start = self.start as usize;
        Leaf { faces: self, points: &points[start..start + self.pairs as usize] }
    }
}

impl Leaf<'_> {
    /// The corners and vector areas of the faces that have an area.
    pub(super) fn each(self) -> impl Iterator<Item = ([DVec3; 3], DVec3)> {
        let point = move |at: u8| {
            let (pair, lane) = (usize::from(at) / 2, usize::from(at) % 2);
            DVec3::from(self.points[pair].map(|axis| axis.to_array()[lane]))
        };
        (0..WIDE).filter(move |lane| self.faces.area.lane(*lane) != DVec3::ZERO).map(move |lane| {
            let corners = self.faces.which.each_ref().map(|which| point(which[lane]));
            (corners, self.faces.area.lane(lane))
        })
    }

    /// The heights of the points over a plane.
    #[inline]
    fn heights(self, plane: &Plane) -> [f64; CORNERS] {
        let mut heights = [0.0; CORNERS];
        let [x, y, z] = plane.ups;
        let height = f64x2::splat(plane.height);
        for ([of_x, of_y, of_z], at) in self.points.iter().zip(heights.chunks_exact_mut(2)) {
            at.copy_from_slice(&(*of_x * x + *of_y * y + *of_z * z - height).to_array());
        }
        heights
    }

    /// Adds what lies below the plane.
    pub(super) fn add_below(self, plane: &Plane, sums: &mut Sums) {
        let heights = self.heights(plane);
        for pair in 0..PAIRS {
            Heights::of(self.faces, &heights, pair, plane).add_below(sums);
        }
    }

    /// Adds what lies below any plane within the slab round a plane; a face with a corner in it goes to the list.
    pub(super) fn add_slab(self, plane: &Plane, weight: f64, slab: &mut Slab) {
        let heights = self.heights(plane);
        let (over, under) = (f64x2::splat(plane.width), f64x2::splat(-plane.width));
        let mut lined = slab.lined;
        let mut listed = 0;
        for pair in 0..PAIRS {
            let Heights { low: a, middle: b, high: c, area } =
                Heights::of(self.faces, &heights, pair, plane);
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
            let of = Heights::of(self.faces, &heights, lane / 2, plane);
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
    fn of(faces: &Faces, heights: &[f64; CORNERS], pair: usize, plane: &Plane) -> Self {
        let [x, y, z] = faces.which.each_ref().map(|which| {
            let at = |lane: usize| heights[usize::from(which[lane]) % CORNERS];
            f64x2::new([at(2 * pair), at(2 * pair + 1)])
        });
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
