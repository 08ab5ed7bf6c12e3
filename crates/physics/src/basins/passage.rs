//! Where two outlines in one plane overlap, as convex pieces.

#![expect(
    clippy::indexing_slicing,
    reason = "every index comes from the length of the same polygon"
)]

use super::Passage;
use crate::mesh::{is_strictly_convex, triangulate};
use crate::terrain::Outline;
use glam::DVec2;
use uom::si::f64::Length;

impl Passage {
    /// The openings between two chambers whose outlines meet in the plane z = `height`, each convex.
    pub fn between(
        chambers: [usize; 2],
        lower: &Outline,
        upper: &Outline,
        height: Length,
    ) -> Vec<Self> {
        let mut passages = Vec::new();
        for piece in convex(lower.points()) {
            for other in convex(upper.points()) {
                let outline = within(&piece, &other);
                if outline.len() >= 3 {
                    let outline = outline.iter().map(|point| point.extend(height.value)).collect();
                    passages.push(Self { chambers, outline });
                }
            }
        }
        passages
    }
}

/// Convex pieces of a counter-clockwise polygon.
fn convex(points: &[DVec2]) -> Vec<Vec<DVec2>> {
    if is_strictly_convex(points) {
        return vec![points.to_vec()];
    }
    let triangles = triangulate(points).into_iter();
    triangles.map(|corners| corners.map(|corner| points[corner as usize]).to_vec()).collect()
}

/// The part of one convex polygon within another, both counter-clockwise (Sutherland and Hodgman 1974).
fn within(polygon: &[DVec2], other: &[DVec2]) -> Vec<DVec2> {
    let mut kept = polygon.to_vec();
    for at in 0..other.len() {
        let (from, to) = (other[at], other[(at + 1) % other.len()]);
        let inside = |point: DVec2| (to - from).perp_dot(point - from);
        let mut next = Vec::with_capacity(kept.len() + 1);
        for at in 0..kept.len() {
            let (a, b) = (kept[at], kept[(at + 1) % kept.len()]);
            let (start, end) = (inside(a), inside(b));
            if start >= 0.0 {
                next.push(a);
            }
            if (start > 0.0 && end < 0.0) || (start < 0.0 && end > 0.0) {
                next.push(a.lerp(b, start / (start - end)));
            }
        }
        kept = next;
    }
    kept
}
