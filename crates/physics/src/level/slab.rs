//! What a space holds below any height within a thin slab: one cubic and a short list of faces.
//!
//! A face with no corner in the slab adds the same polynomial at every height h of it. With p the corner alone on
//! its side, q and r the others, s the area along up: s(p − h)³/(3(q − p)(r − p)) if only p is below, and
//! s((p + q + r)/3 − h) less that if only p is above; a face below the slab adds the straight part alone. Newton's
//! method then runs on the sum and on the few faces with a corner in the slab, not on the mesh.
#![expect(
    clippy::inline_always,
    reason = "wide registers can only be used within what dispatches to them"
)]

use super::lanes::{Eight, Heights, WIDE, total};
use super::plane::Plane;
use super::sums::{Held, Straight, Sums};
use fearless_simd::prelude::*;
use fearless_simd::{Level, dispatch, f64x8};

/// Faces, eight side by side: the heights of their corners, the lowest first, and their areas along up. Lanes left over
/// have no area.
#[derive(Debug, Clone, Default)]
pub(crate) struct Pieces {
    blocks: Vec<[Eight; 4]>,
    count: usize,
}

/// Σ s and Σ s(p + q + r); ±Σ s/((q − p)(r − p)) times 1, p, p² and p³.
pub(super) struct Lined<S: Simd> {
    pub(super) straight: [f64x8<S>; 2],
    pub(super) sharp: [f64x8<S>; 4],
}

/// What the bodies hold within a slab.
#[derive(Debug, Clone)]
pub(super) struct Slab {
    registers: Level,
    /// The faces with a corner in the slab, over its middle.
    pub(super) list: Pieces,
    /// The volume's coefficients in the height over the middle of the slab.
    whole: [f64; 4],
}

impl<S: Simd> Lined<S> {
    #[inline(always)]
    pub(super) fn none(simd: S) -> Self {
        let zero = f64x8::splat(simd, 0.0);
        Self { straight: [zero; 2], sharp: [zero; 4] }
    }
}

impl Default for Slab {
    fn default() -> Self {
        Self { registers: Level::new(), list: Pieces::default(), whole: [0.0; 4] }
    }
}

impl Slab {
    /// Empty, for what lies about a plane.
    pub(super) fn clear(&mut self, plane: &Plane) {
        self.registers = plane.registers;
        self.list.blocks.clear();
        self.list.count = 0;
        self.whole = [0.0; 4];
    }

    /// Takes one body's sums into the whole, with its weight; those of whole boxes stand apart.
    #[inline(always)]
    pub(super) fn take<S: Simd>(&mut self, weight: f64, lined: &Lined<S>, boxes: Straight) {
        let [area, moment] = lined.straight.map(total);
        let [area, moment] = [area + boxes[0], moment + 3.0 * boxes[1]];
        let [k, kp, kpp, kppp] = lined.sharp.map(total);
        let add = [moment + kppp, -3.0 * (area + kpp), 3.0 * kp, -k];
        for (whole, add) in self.whole.iter_mut().zip(add) {
            *whole += weight * add / 3.0;
        }
    }

    /// Volume and surface below a height over the middle of the slab.
    pub(super) fn held(&self, height: f64) -> Held {
        let [d, c, b, a] = self.whole;
        let listed = Pieces::held(core::slice::from_ref(&self.list), height, self.registers);
        Held {
            volume: ((a * height + b) * height + c) * height + d + listed.volume,
            surface: (3.0 * a * height + 2.0 * b) * height + c + listed.surface,
        }
    }
}

impl Pieces {
    #[inline(always)]
    pub(crate) fn push(&mut self, piece: [f64; 4]) {
        let lane = self.count % WIDE;
        if lane == 0 {
            self.blocks.push([Eight([0.0; WIDE]); 4]);
        }
        self.count += 1;
        let Some(block) = self.blocks.last_mut() else { return };
        for (lanes, number) in block.iter_mut().zip(piece) {
            if let Some(place) = lanes.0.get_mut(lane) {
                *place = number;
            }
        }
    }

    /// Volume and surface below a height in several lists.
    pub(crate) fn below(lists: &[Self], height: f64) -> [f64; 2] {
        let Held { volume, surface } = Self::held(lists, height, Level::new());
        [volume, surface]
    }

    fn held(lists: &[Self], height: f64, registers: Level) -> Held {
        dispatch!(registers, simd => Self::held_by(lists, f64x8::splat(simd, height)))
    }

    #[inline(always)]
    fn held_by<S: Simd>(lists: &[Self], height: f64x8<S>) -> Held {
        let simd = height.simd;
        let mut sums = Sums::none(simd);
        for [low, middle, high, area] in lists.iter().flat_map(|list| &list.blocks) {
            let heights = Heights {
                low: low.load(simd) - height,
                middle: middle.load(simd) - height,
                high: high.load(simd) - height,
                area: area.load(simd),
            };
            heights.add_below(&mut sums);
        }
        sums.held([0.0; 2])
    }
}
