//! A tree of boxes over the faces of a body, eight to a block, with stored sums.
//!
//! Faces stand in an order in which neighbours are near in space. Eight in a row are a leaf, eight leaves a block of
//! boxes, eight blocks a block over them, and so on to the one at the top: the tree is its order, without a pointer.
#![expect(clippy::indexing_slicing, reason = "lanes run over eight, blocks hold positions of their own tree")]

use super::lanes::{Faces, Lanes, WIDE};
use super::plane::Plane;
use super::sums::{Held, Sums};
use crate::mesh::index_of;
use glam::DVec3;

/// A box that lies nowhere: above every plane and below every plane, with no faces.
const NOWHERE: f64 = -1e300;

/// Eight boxes side by side, each with the sums over the faces in it.
#[derive(Debug, Clone, PartialEq)]
struct Block {
    middle: [Lanes; 3],
    half: [Lanes; 3],
    /// Σ N.
    area: [Lanes; 3],
    /// Σ N⟨x⟩ᵀ made symmetric: xx, yy, zz, then xy, yz, zx twice.
    straight: [Lanes; 3],
    mixed: [Lanes; 3],
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

    /// How far the body reaches below and above the plane, at most.
    pub(super) fn reach(&self, plane: &Plane) -> [f64; 2] {
        let Some([top]) = self.levels.last().map(Vec::as_slice) else { return [0.0; 2] };
        let (middles, halves) = (along(&top.middle, plane.up), along(&top.half, plane.size));
        let mut reach = [f64::INFINITY, f64::NEG_INFINITY];
        for (middle, half) in middles.iter().zip(halves).filter(|(_, half)| *half >= 0.0) {
            reach = [
                crate::mesh::smaller(reach[0], middle - half),
                crate::mesh::larger(reach[1], middle + half),
            ];
        }
        reach.map(|end| end - plane.height)
    }

    /// Adds the boxes wholly below the slab to the sums and visits every leaf that reaches into it.
    pub(super) fn walk(
        &self,
        plane: &Plane,
        trail: &mut Trail,
        straight: &mut [Lanes; 2],
        mut visit: impl FnMut(&Faces),
    ) {
        trail.start();
        super::counters::add(0, 1);
        for level in self.levels.iter().rev() {
            super::counters::add(1, trail.now.len() as u64);
            for &at in &trail.now {
                let sight = level[at as usize].see(plane);
                level[at as usize].add_below(plane, &sight, straight);
                let mut crossed = [0; WIDE];
                let mut count = 0;
                for lane in 0..WIDE {
                    crossed[count & 7] = at * 8 + index_of(lane);
                    count += usize::from(sight.crossed[lane]);
                }
                trail.next.extend_from_slice(&crossed[..count]);
            }
            trail.turn();
        }
        super::counters::add(2, trail.now.len() as u64);
        for &leaf in &trail.now {
            visit(&self.leaves[leaf as usize]);
        }
    }

    /// Volume and surface below the plane, as if the faces of a box smaller than `limit` that it cuts were spread
    /// evenly over the box's heights, so that their area and first moment come out right.
    pub(super) fn about(&self, plane: &Plane, limit: f64, trail: &mut Trail) -> Held {
        let (mut sums, mut straight) = (Sums::NONE, [[0.0; WIDE]; 2]);
        let mut held = Held::default();
        trail.start();
        super::counters::add(3, 1);
        for level in self.levels.iter().rev() {
            super::counters::add(4, trail.now.len() as u64);
            for &at in &trail.now {
                let block = &level[at as usize];
                let sight = block.see(plane);
                block.add_below(plane, &sight, &mut straight);
                if !sight.crossed.iter().any(|&crossed| crossed) {
                    continue;
                }
                let [area, moment] = block.sums(plane);
                for lane in 0..WIDE {
                    if sight.crossed[lane] && sight.half[lane] < limit {
                        let spread = Spread {
                            middle: sight.middle[lane],
                            half: sight.half[lane],
                            area: area[lane],
                            moment: moment[lane],
                        };
                        let part = spread.below();
                        held.volume += part.volume;
                        held.surface += part.surface;
                    } else if sight.crossed[lane] {
                        trail.next.push(at * 8 + index_of(lane));
                    }
                }
            }
            trail.turn();
        }
        super::counters::add(5, trail.now.len() as u64);
        for &leaf in &trail.now {
            self.leaves[leaf as usize].add_below(plane, &mut sums);
        }
        sums.add_straight(&straight);
        let exact = sums.held();
        Held { volume: held.volume + exact.volume, surface: held.surface + exact.surface }
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

/// Where eight boxes lie about the slab.
struct Sight {
    middle: Lanes,
    half: Lanes,
    below: [bool; WIDE],
    crossed: [bool; WIDE],
}

impl Block {
    fn new(boxes: &[Bundle]) -> Self {
        let empty = [[0.0; WIDE]; 3];
        let mut block = Self {
            middle: empty,
            half: [[NOWHERE; WIDE]; 3],
            area: empty,
            straight: empty,
            mixed: empty,
        };
        for (lane, held) in boxes.iter().enumerate().take(WIDE) {
            let (middle, half) = ((held.low + held.high) / 2.0, (held.high - held.low) / 2.0);
            for axis in 0..3 {
                block.middle[axis][lane] = middle[axis];
                block.half[axis][lane] = half[axis];
                block.area[axis][lane] = held.area[axis];
                block.straight[axis][lane] = held.straight[axis];
                block.mixed[axis][lane] = held.mixed[axis];
            }
        }
        block
    }

    #[inline(always)]
    fn see(&self, plane: &Plane) -> Sight {
        let (middle, half) = (along(&self.middle, plane.up), along(&self.half, plane.size));
        let middle = middle.map(|middle| middle - plane.height);
        let (mut below, mut crossed) = ([false; WIDE], [false; WIDE]);
        for lane in 0..WIDE {
            below[lane] = middle[lane] + half[lane] <= -plane.width;
            crossed[lane] = !(below[lane] | (middle[lane] - half[lane] >= plane.width));
        }
        Sight { middle, half, below, crossed }
    }

    /// Σ s and Σ s⟨z⟩ of each box.
    #[inline(always)]
    fn sums(&self, plane: &Plane) -> [Lanes; 2] {
        let area = along(&self.area, plane.up);
        let (straight, mixed) =
            (along(&self.straight, plane.square), along(&self.mixed, plane.mixed));
        let moment =
            core::array::from_fn(|lane| straight[lane] + mixed[lane] - plane.height * area[lane]);
        [area, moment]
    }

    /// Boxes wholly below the slab: Σ s and 3 Σ s⟨z⟩ from the stored sums.
    #[inline(always)]
    fn add_below(&self, plane: &Plane, sight: &Sight, straight: &mut [Lanes; 2]) {
        if !sight.below.iter().any(|&below| below) {
            return;
        }
        let [area, moment] = self.sums(plane);
        for lane in 0..WIDE {
            straight[0][lane] += if sight.below[lane] { area[lane] } else { 0.0 };
            straight[1][lane] += if sight.below[lane] { 3.0 * moment[lane] } else { 0.0 };
        }
    }
}

#[inline(always)]
fn along(of: &[Lanes; 3], way: DVec3) -> Lanes {
    core::array::from_fn(|lane| of[0][lane] * way.x + of[1][lane] * way.y + of[2][lane] * way.z)
}

/// Faces spread over heights with a density α + β(z − middle) that has their area and first moment.
struct Spread {
    middle: f64,
    half: f64,
    area: f64,
    moment: f64,
}

impl Spread {
    /// ∫ z(α + β(z − m)) dz and −∫ α + β(z − m) dz from the lowest height to 0.
    fn below(&self) -> Held {
        let Self { middle, half, area, moment } = *self;
        let even = area / (2.0 * half);
        let skew = 1.5 * (moment - middle * area) / (half * half * half);
        let low = middle - half;
        Held {
            volume: low * low * (skew * (middle / 2.0 - low / 3.0) - even / 2.0),
            surface: even * low - skew * (middle * middle - half * half) / 2.0,
        }
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
