//! A tree of boxes over the faces of a body, eight to a block, with stored sums.
//!
//! Faces stand in an order in which neighbours are near in space. Eight in a row are a leaf, eight leaves a block of
//! boxes, eight blocks a block over them, and so on to the one at the top: the tree is its order, without a pointer.
#![expect(
    clippy::indexing_slicing,
    reason = "lanes run over eight, blocks hold positions of their own tree"
)]
#![expect(
    clippy::inline_always,
    reason = "wide registers can only be used within what dispatches to them"
)]

use super::lanes::{Faces, Vectors, WIDE, only, total};
use super::plane::{Plane, Seen};
use super::slab::{Lined, Slab};
use super::sums::{Held, Straight, Sums};
use crate::mesh::{larger, smaller};
use fearless_simd::prelude::*;
use fearless_simd::{dispatch, f64x8, mask64x8};
use glam::DVec3;

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
        let ends = dispatch!(plane.registers, simd => top.ends(&plane.seen(simd)));
        for [low, high] in ends {
            // A box that lies nowhere ends before it begins.
            if low <= high {
                reach = [smaller(reach[0], low), larger(reach[1], high)];
            }
        }
        reach
    }

    /// What lies below the plane.
    pub(super) fn below(&self, plane: &Plane, trail: &mut Trail) -> Held {
        dispatch!(plane.registers, simd => {
            let plane = plane.seen(simd);
            let mut sums = Sums::none(simd);
            let straight = self.walk(&plane, trail);
            for &leaf in &trail.now {
                self.leaves[leaf as usize].add_below(&plane, &mut sums);
            }
            sums.held(straight)
        })
    }

    /// Adds to the slab what lies below its heights.
    pub(super) fn add_slab(&self, plane: &Plane, weight: f64, trail: &mut Trail, slab: &mut Slab) {
        dispatch!(plane.registers, simd => {
            let plane = plane.seen(simd);
            let mut lined = Lined::none(simd);
            let straight = self.walk(&plane, trail);
            for &leaf in &trail.now {
                self.leaves[leaf as usize].add_slab(&plane, weight, &mut lined, &mut slab.list);
            }
            slab.take(weight, &lined, straight);
        });
    }

    /// Volume and surface below the plane, as if the faces of a box smaller than `limit` that it cuts were spread
    /// evenly over the box's heights, so that their area and first moment come out right.
    pub(super) fn about(&self, plane: &Plane, limit: f64, trail: &mut Trail) -> Held {
        dispatch!(plane.registers, simd => self.spread(&plane.seen(simd), limit, trail))
    }

    /// Finds every leaf that reaches into the slab; gives the sums of what lies in boxes wholly below it.
    #[inline(always)]
    fn walk<S: Simd>(&self, plane: &Seen<S>, trail: &mut Trail) -> Straight {
        let mut straight = [f64x8::splat(plane.height.simd, 0.0); 2];
        trail.start();
        for level in self.levels.iter().rev() {
            for &at in &trail.now {
                let crossed = level[at as usize].sort(plane, &mut straight);
                push(&mut trail.next, at, crossed);
            }
            trail.turn();
        }
        straight.map(total)
    }

    #[inline(always)]
    fn spread<S: Simd>(&self, plane: &Seen<S>, limit: f64, trail: &mut Trail) -> Held {
        let simd = plane.height.simd;
        let limit = f64x8::splat(simd, limit);
        let mut straight = [f64x8::splat(simd, 0.0); 2];
        let mut about = Sums::none(simd);
        trail.start();
        for level in self.levels.iter().rev() {
            for &at in &trail.now {
                let block = &level[at as usize];
                let crossed = block.sort(plane, &mut straight);
                if crossed != 0 {
                    let large = block.spread(plane, limit, crossed, &mut about);
                    push(&mut trail.next, at, large);
                }
            }
            trail.turn();
        }
        for &leaf in &trail.now {
            self.leaves[leaf as usize].add_below(plane, &mut about);
        }
        about.held(straight.map(total))
    }
}

/// Puts the boxes of a block for which a bit is set on a list.
#[inline(always)]
fn push(list: &mut Vec<u32>, block: u32, mut bits: u64) {
    while bits != 0 {
        list.push(block * 8 + bits.trailing_zeros());
        bits &= bits - 1;
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

    /// The heights of the middles of the boxes over the plane, and how far they reach to either side.
    #[inline(always)]
    fn heights<S: Simd>(&self, plane: &Seen<S>) -> [f64x8<S>; 2] {
        [self.middle.dot(plane.ups) - plane.height, self.half.dot(plane.sizes)]
    }

    /// The least and the greatest height of each box.
    #[inline(always)]
    fn ends<S: Simd>(&self, plane: &Seen<S>) -> [[f64; 2]; WIDE] {
        let [middle, half] = self.heights(plane);
        let (low, high): ([f64; WIDE], [f64; WIDE]) =
            ((middle - half).into(), (middle + half).into());
        core::array::from_fn(|lane| [low[lane], high[lane]])
    }

    /// Σ s and Σ s⟨z⟩ of each box.
    #[inline(always)]
    fn sums<S: Simd>(&self, plane: &Seen<S>) -> [f64x8<S>; 2] {
        let area = self.area.dot(plane.ups);
        let moment = self.straight.dot(plane.squares) + self.mixed.dot(plane.mixed);
        [area, moment - plane.height * area]
    }

    /// Adds the boxes wholly below the slab; gives a bit for each that reaches into it.
    #[inline(always)]
    fn sort<S: Simd>(&self, plane: &Seen<S>, straight: &mut [f64x8<S>; 2]) -> u64 {
        let [middle, half] = self.heights(plane);
        let below = (middle + half).simd_le(plane.under);
        let settled = below | (middle - half).simd_ge(plane.over);
        if below.any_true() {
            let [area, moment] = self.sums(plane);
            straight[0] += only(below, area);
            straight[1] += only(below, moment);
        }
        settled.to_bitmask() ^ 0xff
    }

    /// Adds about what lies below the plane of those boxes among the crossed that are smaller than a limit; gives a
    /// bit for each of the others.
    ///
    /// Faces lie over heights with a density α + β(z − middle) that has their area and first moment; the volume is
    /// ∫ z(α + β(z − m)) dz and the surface −∫ α + β(z − m) dz from the lowest height to 0.
    #[inline(always)]
    fn spread<S: Simd>(
        &self,
        plane: &Seen<S>,
        limit: f64x8<S>,
        crossed: u64,
        about: &mut Sums<S>,
    ) -> u64 {
        let [middle, half] = self.heights(plane);
        let small = half.simd_lt(limit).to_bitmask() & crossed;
        if small != 0 {
            let [area, moment] = self.sums(plane);
            let even = area / half * 0.5;
            let skew = (moment - middle * area) / (half * half * half) * 1.5;
            let low = middle - half;
            let inner = skew * (middle * 1.5 - low) - even * 1.5;
            let among = mask64x8::from_bitmask(plane.height.simd, small);
            // Three times over, as all volumes are here.
            about.volume += only(among, low * low * inner);
            about.surface += only(among, even * low - skew * (middle * middle - half * half) * 0.5);
        }
        crossed & !small
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
