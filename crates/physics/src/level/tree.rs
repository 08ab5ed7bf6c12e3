//! A tree of boxes over the faces of a body, eight to a block, with stored sums.
//!
//! Faces stand in an order in which neighbours are near in space. Eight in a row are a leaf, eight leaves a block of
//! boxes, eight blocks a block over them, and so on to the one at the top: the tree is its order, without a pointer.
#![expect(
    clippy::indexing_slicing,
    reason = "lanes run over eight, blocks hold positions of their own tree"
)]

use super::lanes::{Faces, Vectors, WIDE};
use super::plane::Plane;
use super::sums::{Held, Straight, Sums};
use crate::mesh::{larger, smaller};
use glam::DVec3;
use wide::f64x2;

/// A box that lies nowhere: above every plane and below every plane, with no faces.
const NOWHERE: f64 = -1e300;

/// Eight boxes side by side, each with the sums over the faces in it.
#[derive(Debug, Clone, PartialEq)]
struct Block {
    middle: Vectors,
    half: Vectors,
    /// Σ N.
    area: Vectors,
    /// Σ N⟨x⟩ᵀ made symmetric: xx, yy, zz, then xy, yz, zx twice.
    straight: Vectors,
    mixed: Vectors,
}

/// The tree.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tree {
    pub(super) leaves: Vec<Faces>,
    /// From the blocks over the leaves up to the one at the top.
    levels: Vec<Vec<Block>>,
}

/// A box and the sums over the faces in it.
#[derive(Debug, Clone, Copy)]
struct Bundle {
    low: DVec3,
    high: DVec3,
    area: DVec3,
    straight: DVec3,
    mixed: DVec3,
}

/// Lists of blocks still to be looked at, kept from one walk to the next.
#[derive(Debug, Clone, Default)]
pub(super) struct Trail {
    now: Vec<u32>,
    next: Vec<u32>,
}

impl Tree {
    pub(super) fn new(faces: &[[DVec3; 3]]) -> Self {
        let leaves = faces.chunks(WIDE).map(Faces::new).collect();
        let mut boxes: Vec<Bundle> = faces.chunks(WIDE).map(Bundle::around).collect();
        let mut levels = Vec::new();
        while levels.is_empty() || boxes.len() > 1 {
            levels.push(boxes.chunks(WIDE).map(Block::new).collect());
            boxes = boxes.chunks(WIDE).map(Bundle::over).collect();
        }
        Self { leaves, levels }
    }

    /// About how far a leaf reaches to either side of its middle: half the side of a square of its area.
    pub(super) fn leaf(&self) -> f64 {
        let area: f64 = self.leaves.iter().flat_map(Faces::each).map(|(_, n)| n.length()).sum();
        (area / self.leaves.len() as f64).sqrt() / 2.0
    }

    /// How far the body reaches below and above the plane, at most.
    pub(super) fn reach(&self, plane: &Plane) -> [f64; 2] {
        let mut reach = [f64::INFINITY, f64::NEG_INFINITY];
        let Some([top]) = self.levels.last().map(Vec::as_slice) else { return reach };
        for pair in 0..WIDE / 2 {
            let (middle, half) = top.heights(pair, plane);
            for (low, high) in
                (middle - half).to_array().into_iter().zip((middle + half).to_array())
            {
                // A box that lies nowhere ends before it begins.
                if low <= high {
                    reach = [smaller(reach[0], low), larger(reach[1], high)];
                }
            }
        }
        reach
    }

    /// Visits every leaf that reaches into the slab; gives the sums of what lies in boxes wholly below it.
    pub(super) fn walk(
        &self,
        plane: &Plane,
        trail: &mut Trail,
        mut visit: impl FnMut(&Faces),
    ) -> Straight {
        let mut straight = [f64x2::ZERO; 2];
        trail.start();
        for level in self.levels.iter().rev() {
            for &at in &trail.now {
                let mut crossed = level[at as usize].sort(plane, &mut straight);
                while crossed != 0 {
                    trail.next.push(at * 8 + crossed.trailing_zeros());
                    crossed &= crossed - 1;
                }
            }
            trail.turn();
        }
        for &leaf in &trail.now {
            visit(&self.leaves[leaf as usize]);
        }
        straight
    }

    /// Volume and surface below the plane, as if the faces of a box smaller than `limit` that it cuts were spread
    /// evenly over the box's heights, so that their area and first moment come out right.
    pub(super) fn about(&self, plane: &Plane, limit: f64, trail: &mut Trail) -> Held {
        let mut straight = [f64x2::ZERO; 2];
        let mut about = Sums::NONE;
        trail.start();
        for level in self.levels.iter().rev() {
            for &at in &trail.now {
                let block = &level[at as usize];
                let crossed = block.sort(plane, &mut straight);
                if crossed == 0 {
                    continue;
                }
                let mut large = block.spread(plane, limit, crossed, &mut about);
                while large != 0 {
                    trail.next.push(at * 8 + large.trailing_zeros());
                    large &= large - 1;
                }
            }
            trail.turn();
        }
        for &leaf in &trail.now {
            self.leaves[leaf as usize].add_below(plane, &mut about);
        }
        about.held(straight)
    }
}

impl Trail {
    fn start(&mut self) {
        self.now.clear();
        self.next.clear();
        self.now.push(0);
    }

    fn turn(&mut self) {
        core::mem::swap(&mut self.now, &mut self.next);
        self.next.clear();
    }
}

impl Block {
    fn new(boxes: &[Bundle]) -> Self {
        let each = |of: fn(&Bundle) -> DVec3, rest| Vectors::new(boxes.iter().map(of), rest);
        Self {
            middle: each(|held| (held.low + held.high) / 2.0, 0.0),
            half: each(|held| (held.high - held.low) / 2.0, NOWHERE),
            area: each(|held| held.area, 0.0),
            straight: each(|held| held.straight, 0.0),
            mixed: each(|held| held.mixed, 0.0),
        }
    }

    /// The heights of the middles of two boxes over the plane, and how far they reach to either side.
    #[inline]
    fn heights(&self, pair: usize, plane: &Plane) -> (f64x2, f64x2) {
        let middle = self.middle.dot(pair, plane.ups) - f64x2::splat(plane.height);
        (middle, self.half.dot(pair, plane.sizes))
    }

    /// Σ s and Σ s⟨z⟩ of two boxes.
    #[inline]
    fn sums(&self, pair: usize, plane: &Plane) -> [f64x2; 2] {
        let area = self.area.dot(pair, plane.ups);
        let moment = self.straight.dot(pair, plane.squares) + self.mixed.dot(pair, plane.mixed);
        [area, moment - f64x2::splat(plane.height) * area]
    }

    /// Adds the boxes wholly below the slab; gives a bit for each that reaches into it.
    #[inline]
    fn sort(&self, plane: &Plane, straight: &mut Straight) -> u32 {
        let (over, under) = (f64x2::splat(plane.width), f64x2::splat(-plane.width));
        let mut crossed = 0;
        for pair in 0..WIDE / 2 {
            let (middle, half) = self.heights(pair, plane);
            let below = (middle + half).simd_le(under);
            let settled = below | (middle - half).simd_ge(over);
            crossed |= (settled.to_bitmask() ^ 3) << (2 * pair);
            if below.any() {
                let [area, moment] = self.sums(pair, plane);
                straight[0] += below & area;
                straight[1] += below & moment;
            }
        }
        crossed
    }

    /// Adds about what lies below the plane of those boxes among the crossed that are smaller than a limit; gives a
    /// bit for each of the others.
    ///
    /// Faces lie over heights with a density α + β(z − middle) that has their area and first moment; the volume is
    /// ∫ z(α + β(z − m)) dz and the surface −∫ α + β(z − m) dz from the lowest height to 0.
    fn spread(&self, plane: &Plane, limit: f64, crossed: u32, about: &mut Sums) -> u32 {
        let mut large = 0;
        for pair in 0..WIDE / 2 {
            let bits = (crossed >> (2 * pair)) & 3;
            if bits == 0 {
                continue;
            }
            let (middle, half) = self.heights(pair, plane);
            let small = half.simd_lt(f64x2::splat(limit)).to_bitmask() & bits;
            large |= (bits & !small) << (2 * pair);
            if small == 0 {
                continue;
            }
            let [area, moment] = self.sums(pair, plane);
            let number = |value: f64| f64x2::splat(value);
            let even = number(0.5) * area / half;
            let skew = number(1.5) * (moment - middle * area) / (half * half * half);
            let low = middle - half;
            let inner = skew * (number(1.5) * middle - low) - number(1.5) * even;
            let among = f64x2::new([0, 1].map(|lane: u32| f64::from((small >> lane) & 1)));
            let among = among.simd_gt(f64x2::ZERO);
            // Three times over, as all volumes are here.
            about.volume += among & (low * low * inner);
            about.surface +=
                among & (even * low - number(0.5) * skew * (middle * middle - half * half));
        }
        large
    }
}

impl Bundle {
    fn around(faces: &[[DVec3; 3]]) -> Self {
        let mut all = Self {
            low: DVec3::INFINITY,
            high: DVec3::NEG_INFINITY,
            area: DVec3::ZERO,
            straight: DVec3::ZERO,
            mixed: DVec3::ZERO,
        };
        for &[a, b, c] in faces {
            all.low = all.low.min(a.min(b).min(c));
            all.high = all.high.max(a.max(b).max(c));
            let n = (b - a).cross(c - a) / 2.0;
            let mean = (a + b + c) / 3.0;
            all.area += n;
            all.straight += n * mean;
            all.mixed += DVec3::new(
                n.x * mean.y + n.y * mean.x,
                n.y * mean.z + n.z * mean.y,
                n.z * mean.x + n.x * mean.z,
            );
        }
        all
    }

    fn over(boxes: &[Self]) -> Self {
        let mut all = Self::around(&[]);
        for held in boxes {
            all.low = all.low.min(held.low);
            all.high = all.high.max(held.high);
            all.area += held.area;
            all.straight += held.straight;
            all.mixed += held.mixed;
        }
        all
    }
}
