//! Patches side by side in plan, found by place.
#![expect(
    clippy::indexing_slicing,
    reason = "rows hold positions in the list of patches they were made of"
)]

use super::patch::Patch;
use crate::mesh::index_of;
use glam::DVec2;

/// Patches for each strip, about; the long walls are in all of them.
const PATCHES_A_ROW: usize = 4;
/// Most strips: beyond that they cost more room than they save time.
const MOST_ROWS: usize = 4096;

/// Patches that do not overlap in plan.
#[derive(Debug, Default)]
pub(super) struct Layer {
    pub(super) patches: Vec<Patch>,
    bounds: [DVec2; 2],
    /// The patches that reach into each of the strips of equal width across y.
    rows: Vec<Vec<u32>>,
}

impl Layer {
    pub(super) fn of(patches: Vec<Patch>, bounds: [DVec2; 2]) -> Self {
        let count = (patches.len() / PATCHES_A_ROW + 1).clamp(1, MOST_ROWS);
        let mut layer = Self { patches, bounds, rows: vec![Vec::new(); count] };
        // From the back, because a level floor is last and by far the largest.
        for at in (0..layer.patches.len()).rev() {
            let [low, high] = layer.patches[at].bounds;
            for row in layer.row(low.y)..=layer.row(high.y) {
                layer.rows[row].push(index_of(at));
            }
        }
        layer
    }

    /// The patch over a point, if there is one.
    pub(super) fn over(&self, point: DVec2) -> Option<&Patch> {
        if point.cmplt(self.bounds[0]).any() || point.cmpgt(self.bounds[1]).any() {
            return None;
        }
        let candidates = self.rows.get(self.row(point.y))?;
        candidates.iter().map(|&at| &self.patches[at as usize]).find(|patch| patch.is_over(point))
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a number below zero or none becomes 0, one too large the last row"
    )]
    fn row(&self, y: f64) -> usize {
        let share = (y - self.bounds[0].y) / (self.bounds[1].y - self.bounds[0].y);
        let row = (share * self.rows.len() as f64) as usize;
        if row < self.rows.len() { row } else { self.rows.len().saturating_sub(1) }
    }
}
