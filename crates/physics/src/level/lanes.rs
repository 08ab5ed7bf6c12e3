//! Eight numbers side by side, as the compiler turns into vector instructions, and the heights of faces kept so.
#![expect(clippy::indexing_slicing, reason = "every index runs over the eight lanes of an array")]

use super::plane::Plane;
use super::slab::{Piece, Slab};
use super::sums::Sums;
use glam::DVec3;

/// Faces in a leaf and boxes in a block.
pub(super) const WIDE: usize = 8;
pub(super) type Lanes = [f64; WIDE];

/// A leaf: eight faces, corner by corner and axis by axis. Lanes left over are faces of no area.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Faces {
    corners: [[Lanes; 3]; 3],
    /// The vector areas.
    area: [Lanes; 3],
}

impl Faces {
    pub(super) fn new(faces: &[[DVec3; 3]]) -> Self {
        let mut leaf = Self::default();
        for (lane, corners) in faces.iter().enumerate().take(WIDE) {
            let [a, b, c] = *corners;
            let area = (b - a).cross(c - a) / 2.0;
            for axis in 0..3 {
                leaf.area[axis][lane] = area[axis];
                for corner in 0..3 {
                    leaf.corners[corner][axis][lane] = corners[corner][axis];
                }
            }
        }
        leaf
    }

    /// The corners and vector areas of the faces that have an area.
    pub(super) fn each(&self) -> impl Iterator<Item = ([DVec3; 3], DVec3)> {
        let vector = |from: &[Lanes; 3], lane| DVec3::new(from[0][lane], from[1][lane], from[2][lane]);
        (0..WIDE)
            .map(move |lane| {
                (self.corners.each_ref().map(|c| vector(c, lane)), vector(&self.area, lane))
            })
            .filter(|(_, area)| *area != DVec3::ZERO)
    }

    /// Adds what lies below the plane.
    pub(super) fn add_below(&self, plane: &Plane, sums: &mut Sums) {
        let heights = Heights::of(self, plane);
        for lane in 0..WIDE {
            let (a, b, c, area) = heights.lane(lane);
            let tip = (a - b) * (a - c);
            let whole = (c - a) * (c - b);
            // One corner below: the tip. Two: the whole less the tip above, multiplied out: every term has one sign,
            // so that a thin film on a tall wall keeps its digits.
            let (volume, share, over) = if b >= 0.0 {
                (a * a * a, a * a, tip)
            } else {
                (a * b * (a + b) - c * (a * a + a * b + b * b), a * b - c * (a + b), whole)
            };
            let crossed = a < 0.0 && c > 0.0;
            let over = if crossed { over } else { 1.0 };
            let (volume, share) = if crossed { (volume, share) } else { (a + b + c, 1.0) };
            let area = if a < 0.0 { area / over } else { 0.0 };
            sums.volume[lane] += area * volume;
            sums.surface[lane] -= area * share;
        }
    }

    /// Adds what lies below any plane within the slab round a plane; a face with a corner in it goes to the list.
    pub(super) fn add_slab(&self, plane: &Plane, weight: f64, slab: &mut Slab) {
        let heights = Heights::of(self, plane);
        let width = plane.width;
        let mut listed = [false; WIDE];
        let cubic = &mut slab.cubic;
        for lane in 0..WIDE {
            let (a, b, c, area) = heights.lane(lane);
            let (a_below, b_below, c_below) = (a <= -width, b <= -width, c <= -width);
            let (a_above, b_above, c_above) = (a >= width, b >= width, c >= width);
            let two = b_below & c_above;
            let one = a_below & b_above;
            // The corner alone on its side.
            let (alone, far) = if two { (c, a) } else { (a, c) };
            let spread = (b - alone) * (far - alone);
            let sharp = area / spread;
            let sharp = if two { -sharp } else { sharp };
            let sharp = if one | two { sharp } else { 0.0 };
            let straight = if c_below | two { area } else { 0.0 };
            cubic.straight[0][lane] += straight;
            cubic.straight[1][lane] += straight * (a + b + c);
            cubic.sharp[0][lane] += sharp;
            let sharp = sharp * alone;
            cubic.sharp[1][lane] += sharp;
            let sharp = sharp * alone;
            cubic.sharp[2][lane] += sharp;
            let sharp = sharp * alone;
            cubic.sharp[3][lane] += sharp;
            listed[lane] = !(one | two | c_below | a_above);
        }
        if listed.iter().any(|&listed| listed) {
            for (lane, &listed) in listed.iter().enumerate() {
                let (a, b, c, area) = heights.lane(lane);
                if listed && area != 0.0 {
                    slab.list.push(Piece { low: a, middle: b, high: c, area: area * weight });
                }
            }
        }
    }
}

/// The heights of the corners over the plane, sorted, and the areas along it.
struct Heights {
    low: Lanes,
    middle: Lanes,
    high: Lanes,
    area: Lanes,
}

impl Heights {
    #[inline(always)]
    fn of(faces: &Faces, plane: &Plane) -> Self {
        let [x, y, z] = plane.up.to_array();
        let height = |of: &[Lanes; 3], shift: f64| -> Lanes {
            core::array::from_fn(|lane| x * of[0][lane] + y * of[1][lane] + z * of[2][lane] - shift)
        };
        let [first, second, third] = faces.corners.each_ref().map(|c| height(c, plane.height));
        let area = height(&faces.area, 0.0);
        let mut sorted =
            Self { low: [0.0; WIDE], middle: [0.0; WIDE], high: [0.0; WIDE], area };
        for lane in 0..WIDE {
            let (x, y, z) = (first[lane], second[lane], third[lane]);
            let (x, y) = if x > y { (y, x) } else { (x, y) };
            let (y, z) = if y > z { (z, y) } else { (y, z) };
            let (x, y) = if x > y { (y, x) } else { (x, y) };
            sorted.low[lane] = x;
            sorted.middle[lane] = y;
            sorted.high[lane] = z;
        }
        sorted
    }

    #[inline(always)]
    fn lane(&self, lane: usize) -> (f64, f64, f64, f64) {
        (self.low[lane], self.middle[lane], self.high[lane], self.area[lane])
    }
}

/// The sum of the lanes, in one order.
pub(super) fn total(lanes: &Lanes) -> f64 {
    let [a, b, c, d, e, f, g, h] = *lanes;
    ((a + e) + (c + g)) + ((b + f) + (d + h))
}
