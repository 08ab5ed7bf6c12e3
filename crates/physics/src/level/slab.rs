//! What a space holds below any height within a thin slab: one cubic and a short list of faces.
//!
//! A face with no corner in the slab adds the same polynomial at every height h of it. With p the corner alone on
//! its side, q and r the others, s the area along up: s(p − h)³/(3(q − p)(r − p)) if only p is below, and
//! s((p + q + r)/3 − h) less that if only p is above; a face below the slab adds the straight part alone. Newton's
//! method then runs on the sum and on the few faces with a corner in the slab, not on the mesh.

use super::lanes::{Heights, total};
use super::sums::{Held, Straight, Sums};
use wide::f64x2;

/// A face with a corner in the slab: its corners' heights over the middle of the slab, and its area along up.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece {
    pub(super) low: f64,
    pub(super) middle: f64,
    pub(super) high: f64,
    pub(super) area: f64,
}

/// Σ s and Σ s(p + q + r); ±Σ s/((q − p)(r − p)) times 1, p, p² and p³. In two lanes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lined {
    pub(super) straight: Straight,
    pub(super) sharp: [f64x2; 4],
}

/// The slab of one body while its tree is walked, then of all.
#[derive(Debug, Clone)]
pub(super) struct Slab {
    pub(super) lined: Lined,
    pub(super) list: Vec<Piece>,
    /// The volume's coefficients in the height over the middle of the slab.
    whole: [f64; 4],
}

impl Default for Slab {
    fn default() -> Self {
        Self { lined: Lined::NONE, list: Vec::new(), whole: [0.0; 4] }
    }
}

impl Lined {
    pub(super) const NONE: Self = Self { straight: [f64x2::ZERO; 2], sharp: [f64x2::ZERO; 4] };
}

impl Slab {
    pub(super) fn clear(&mut self) {
        self.lined = Lined::NONE;
        self.list.clear();
        self.whole = [0.0; 4];
    }

    /// Takes one body's sums into the whole, with its weight; those of whole boxes stand apart.
    pub(super) fn take(&mut self, weight: f64, boxes: Straight) {
        let [area, moment] = self.lined.straight.map(total);
        let [area, moment] = [area + total(boxes[0]), moment + 3.0 * total(boxes[1])];
        let [k, kp, kpp, kppp] = self.lined.sharp.map(total);
        let add = [moment + kppp, -3.0 * (area + kpp), 3.0 * kp, -k];
        for (whole, add) in self.whole.iter_mut().zip(add) {
            *whole += weight * add / 3.0;
        }
        self.lined = Lined::NONE;
    }

    /// Volume and surface below a height over the middle of the slab.
    pub(super) fn held(&self, height: f64) -> Held {
        let [d, c, b, a] = self.whole;
        let mut sums = Sums::NONE;
        let mut pairs = self.list.chunks_exact(2);
        for pair in &mut pairs {
            if let [one, other] = pair {
                one.beside(other, height).add_below(&mut sums);
            }
        }
        if let [last] = pairs.remainder() {
            last.beside(&Piece { area: 0.0, ..*last }, height).add_below(&mut sums);
        }
        let list = sums.held([f64x2::ZERO; 2]);
        Held {
            volume: ((a * height + b) * height + c) * height + d + list.volume,
            surface: (3.0 * a * height + 2.0 * b) * height + c + list.surface,
        }
    }
}

impl Piece {
    /// Two faces, seen from a height.
    #[inline]
    fn beside(&self, other: &Self, height: f64) -> Heights {
        let height = f64x2::splat(height);
        Heights {
            low: f64x2::new([self.low, other.low]) - height,
            middle: f64x2::new([self.middle, other.middle]) - height,
            high: f64x2::new([self.high, other.high]) - height,
            area: f64x2::new([self.area, other.area]),
        }
    }
}
