//! Volume and surface below a plane.

use super::lanes::total;
use wide::f64x2;

/// What the faces and boxes met so far hold below the plane, in two lanes; the volumes three times over.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sums {
    pub(super) volume: f64x2,
    pub(super) surface: f64x2,
}

/// Volume and surface below a plane, in cubic and square metres.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Held {
    pub(super) volume: f64,
    pub(super) surface: f64,
}

/// Σ s and Σ s⟨z⟩ of boxes wholly below, in two lanes.
pub(super) type Straight = [f64x2; 2];

impl Sums {
    pub(super) const NONE: Self = Self { volume: f64x2::ZERO, surface: f64x2::ZERO };

    /// With what lies wholly below.
    pub(super) fn held(&self, [area, moment]: Straight) -> Held {
        Held {
            volume: total(self.volume) / 3.0 + total(moment),
            surface: total(self.surface) - total(area),
        }
    }
}
