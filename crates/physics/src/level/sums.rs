//! Volume and surface below a plane.
#![expect(clippy::indexing_slicing, reason = "lanes run over eight")]

use super::lanes::{Lanes, WIDE, total};

/// What the faces and boxes met so far hold below the plane, lane by lane; the volumes three times over.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sums {
    pub(super) volume: Lanes,
    pub(super) surface: Lanes,
}

/// Volume and surface below a plane, in cubic and square metres.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Held {
    pub(super) volume: f64,
    pub(super) surface: f64,
}

impl Sums {
    pub(super) const NONE: Self = Self { volume: [0.0; WIDE], surface: [0.0; WIDE] };

    /// Adds Σ s and 3 Σ s⟨z⟩ of what lies wholly below.
    pub(super) fn add_straight(&mut self, straight: &[Lanes; 2]) {
        for lane in 0..WIDE {
            self.surface[lane] -= straight[0][lane];
            self.volume[lane] += straight[1][lane];
        }
    }

    pub(super) fn held(&self) -> Held {
        Held { volume: total(&self.volume) / 3.0, surface: total(&self.surface) }
    }
}
