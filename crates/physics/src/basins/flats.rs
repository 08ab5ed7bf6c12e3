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
        let mut corners: Vec<usize> = (0..count).filter(|&corner| of[corner] != NONE).collect();
        corners.sort_by_key(|&corner| of[corner]);
        let starts = (0..=lows.len()).map(|flat| corners.partition_point(|&c| of[c] < flat));
        let starts = starts.collect();
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

    /// The edges that lead down out of it: the corner at their lower end, and how steep they are.
    pub(super) fn ways_down<'a>(
        &'a self,
        surface: &'a Surface,
        flat: usize,
    ) -> impl Iterator<Item = (usize, f64)> + 'a {
        self.corners(flat).iter().flat_map(move |&corner| {
            surface.neighbours(corner).filter_map(move |next| {
                let drop = surface.heights[corner] - surface.heights[next];
                let length = surface.points[corner].distance(surface.points[next]);
                (self.of[next] != flat && drop > surface.tolerance).then_some((next, drop / length))
            })
        })
    }
}
