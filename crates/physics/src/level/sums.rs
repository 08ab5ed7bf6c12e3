//! Volume and surface below a plane.
#![expect(
    clippy::inline_always,
    reason = "wide registers can only be used within what dispatches to them"
)]

use super::lanes::total;
use fearless_simd::f64x8;
use fearless_simd::prelude::*;

/// What the faces and boxes met so far hold below the plane, in eight lanes; the volumes three times over.
#[derive(Clone, Copy)]
pub(super) struct Sums<S: Simd> {
    pub(super) volume: f64x8<S>,
    pub(super) surface: f64x8<S>,
}

/// Volume and surface below a plane, in cubic and square metres.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Held {
    pub(super) volume: f64,
    pub(super) surface: f64,
}

/// Σ s and Σ s⟨z⟩ of boxes wholly below.
pub(super) type Straight = [f64; 2];

impl<S: Simd> Sums<S> {
    #[inline(always)]
    pub(super) fn none(simd: S) -> Self {
        let zero = f64x8::splat(simd, 0.0);
        Self { volume: zero, surface: zero }
    }

    /// With what lies wholly below.
    #[inline(always)]
    pub(super) fn held(&self, [area, moment]: Straight) -> Held {
        Held { volume: total(self.volume) / 3.0 + moment, surface: total(self.surface) - area }
    }
}
