//! Corners as high as their neighbours, taken together: a level floor is one place, whatever its mesh.

#![expect(
    clippy::indexing_slicing,
    reason = "every corner of a face has a flat, and stretches come from the same list"
)]

use super::union::Union;
use crate::surface::Surface;

/// No flat: the corner is in no face.
const NONE: usize = usize::MAX;

/// Corners joined by edges that are level, numbered in the order of their first corner.
#[derive(Debug, Clone)]
pub(super) struct Flats {
    of: Vec<usize>,
    corners: Vec<usize>,
    starts: Vec<usize>,
    lows: Vec<f64>,
}

impl Flats {
    pub(super) fn new(surface: &Surface) -> Self {
        let count = surface.points.len();
        let mut union = Union::new(count);
        for corner in 0..count {
            for next in surface.neighbours(corner) {
                let rise = surface.heights[next] - surface.heights[corner];
                if next > corner && rise.abs() <= surface.tolerance {
                    union.join(next, corner);
                }
            }
        }
        let mut numbers = vec![NONE; count];
        let (mut of, mut lows) = (vec![NONE; count], Vec::new());
        for corner in (0..count).filter(|&corner| surface.is_used(corner)) {
            let teller = union.find(corner);
            if numbers[teller] == NONE {
                numbers[teller] = lows.len();
                lows.push(f64::INFINITY);
            }
            let flat = numbers[teller];
            of[corner] = flat;
            if surface.heights[corner] < lows[flat] {
                lows[flat] = surface.heights[corner];
            }
        }
        let mut starts = vec![0; lows.len() + 1];
        for &flat in of.iter().filter(|&&flat| flat != NONE) {
            starts[flat + 1] += 1;
        }
        for flat in 0..lows.len() {
            starts[flat + 1] += starts[flat];
        }
        let mut next = starts.clone();
        let mut corners = vec![0; starts[lows.len()]];
        for corner in (0..count).filter(|&corner| of[corner] != NONE) {
            corners[next[of[corner]]] = corner;
            next[of[corner]] += 1;
        }
        Self { of, corners, starts, lows }
    }

    pub(super) fn count(&self) -> usize {
        self.lows.len()
    }

    /// The flat of a corner of a face.
    pub(super) fn of(&self, corner: usize) -> usize {
        self.of[corner]
    }

    /// Its corners, lowest numbers first.
    pub(super) fn corners(&self, flat: usize) -> &[usize] {
        &self.corners[self.starts[flat]..self.starts[flat + 1]]
    }

    /// The height of its lowest corner.
    pub(super) fn low(&self, flat: usize) -> f64 {
        self.lows[flat]
    }

    /// The edges that lead down out of it, by their upper and lower corners.
    pub(super) fn ways_down<'a>(
        &'a self,
        surface: &'a Surface,
        flat: usize,
    ) -> impl Iterator<Item = [usize; 2]> + 'a {
        self.corners(flat).iter().flat_map(move |&corner| {
            let lower = surface.heights[corner] - surface.tolerance;
            let is_lower = move |next: &usize| surface.heights[*next] < lower;
            surface.neighbours(corner).filter(is_lower).map(move |next| [corner, next])
        })
    }
}

/// How much an edge falls over its length.
pub(super) fn steepness(surface: &Surface, [from, to]: [usize; 2]) -> f64 {
    let drop = surface.heights[from] - surface.heights[to];
    drop / surface.points[from].distance(surface.points[to])
}
