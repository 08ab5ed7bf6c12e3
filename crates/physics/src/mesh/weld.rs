//! Corners that are one place become one corner.

#![expect(
    clippy::indexing_slicing,
    reason = "corners are looked up by numbers taken from the same mesh, whose faces were checked to have theirs"
)]

use super::{Mesh, index_of, larger};
use glam::DVec3;
use std::collections::BTreeMap;
use uom::si::f64::Length;
use uom::si::length::meter;

/// What welding did.
#[derive(Debug, Clone, PartialEq)]
pub struct Welded {
    /// The mesh, without faces that lost their area by two corners becoming one.
    pub mesh: Mesh,
    /// Corners that became one with another.
    pub merged: usize,
    /// The farthest that a corner was moved.
    pub farthest: Length,
    /// Faces that fell together.
    pub dropped: usize,
}

impl Mesh {
    /// The same faces over corners of which no two stand at exactly one position; −0 and 0 are one.
    #[must_use]
    pub fn with_shared_corners(&self) -> Self {
        let clean: Vec<DVec3> = self.points.iter().map(|point| *point + DVec3::ZERO).collect();
        let mut order: Vec<u32> = (0..index_of(clean.len())).collect();
        let bits = |at: u32| clean[at as usize].to_array().map(f64::to_bits);
        order.sort_unstable_by_key(|&at| (bits(at), at));
        // The first of each position in the order of the file stands for all of it.
        let mut first = vec![0_u32; clean.len()];
        for same in order.chunk_by(|&one, &other| bits(one) == bits(other)) {
            for &at in same {
                first[at as usize] = same[0];
            }
        }
        self.renumbered(&clean, &first)
    }

    /// The mesh with each corner replaced by the one that stands for it; corners of no face are left out.
    fn renumbered(&self, points: &[DVec3], stands_for: &[u32]) -> Self {
        let mut number = vec![u32::MAX; points.len()];
        let mut kept = Vec::new();
        let faces = self.faces.iter().map(|face| {
            face.map(|corner| {
                let one = stands_for[corner as usize] as usize;
                if number[one] == u32::MAX {
                    number[one] = index_of(kept.len());
                    kept.push(points[one]);
                }
                number[one]
            })
        });
        let faces = faces.collect();
        Self { points: kept, faces }
    }
}

/// Makes one corner of corners nearer to each other than `tolerance`, by chains too; the first of a chain in the
/// order of the mesh keeps its place.
///
/// # Valid for
/// A mesh whose faces name corners that exist, with finite positions. A tolerance of no less than nothing.
pub fn weld(mesh: &Mesh, tolerance: Length) -> Welded {
    let reach = tolerance.value;
    let mut leader: Vec<u32> = (0..index_of(mesh.points.len())).collect();
    let mut cells: BTreeMap<[i64; 3], Vec<u32>> = BTreeMap::new();
    for (at, point) in mesh.points.iter().enumerate() {
        let cell = cell_of(*point, reach);
        for near in neighbours(cell) {
            for &other in cells.get(&near).into_iter().flatten() {
                if mesh.points[other as usize].distance(*point) <= reach {
                    join(&mut leader, other, index_of(at));
                }
            }
        }
        cells.entry(cell).or_default().push(index_of(at));
    }
    let stands_for: Vec<u32> =
        (0..index_of(leader.len())).map(|at| find(&mut leader, at)).collect();
    let (mut merged, mut farthest) = (0, 0.0);
    for (at, &one) in stands_for.iter().enumerate() {
        if one as usize != at {
            merged += 1;
            farthest = larger(mesh.points[at].distance(mesh.points[one as usize]), farthest);
        }
    }
    let mut welded = mesh.renumbered(&mesh.points, &stands_for);
    let before = welded.faces.len();
    welded.faces.retain(|[a, b, c]| a != b && b != c && c != a);
    let dropped = before - welded.faces.len();
    Welded { mesh: welded, merged, farthest: Length::new::<meter>(farthest), dropped }
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "a cast of a float saturates, and positions that far out share a cell, which costs time alone"
)]
fn cell_of(point: DVec3, size: f64) -> [i64; 3] {
    point.to_array().map(|x| (x / size).floor() as i64)
}

fn neighbours([x, y, z]: [i64; 3]) -> impl Iterator<Item = [i64; 3]> {
    let steps = [-1_i64, 0, 1];
    steps.into_iter().flat_map(move |i| {
        steps.into_iter().flat_map(move |j| {
            steps
                .into_iter()
                .map(move |k| [x.saturating_add(i), y.saturating_add(j), z.saturating_add(k)])
        })
    })
}

/// The corner that stands for one; the way there is shortened.
pub(crate) fn find(leader: &mut [u32], at: u32) -> u32 {
    let mut root = at;
    while leader[root as usize] != root {
        root = leader[root as usize];
    }
    let mut here = at;
    while leader[here as usize] != root {
        here = core::mem::replace(&mut leader[here as usize], root);
    }
    root
}

/// Joins two groups under the lower of their leaders.
pub(crate) fn join(leader: &mut [u32], one: u32, other: u32) {
    let (one, other) = (find(leader, one), find(leader, other));
    let (low, high) = if one < other { (one, other) } else { (other, one) };
    leader[high as usize] = low;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mesh::{Solid, check};
    use uom::si::length::millimeter;

    /// A block whose faces share no corner.
    fn loose_block(gap: f64) -> Mesh {
        let block =
            Solid::Block { min: DVec3::ZERO, max: DVec3::new(0.3, 0.2, 0.1) }.mesh().unwrap();
        let mut loose = Mesh::default();
        for face in 0..block.faces.len() {
            let corners = block.corners(face).unwrap();
            let first = index_of(loose.points.len());
            loose.points.extend(corners.map(|corner| corner + DVec3::splat(gap * face as f64)));
            loose.faces.push([first, first + 1, first + 2]);
        }
        loose
    }

    #[test]
    fn corners_at_one_position_become_one() {
        let mut loose = loose_block(0.0);
        loose.points[0].x = -0.0;
        let shared = loose.with_shared_corners();
        assert_eq!(shared.points.len(), 8);
        assert_eq!(check(&shared), Ok(()));
    }

    #[test]
    fn corners_within_the_tolerance_become_one_and_those_beyond_it_do_not() {
        // Neighbouring faces lie up to 11 gaps of 1 µm times √3 apart.
        let loose = loose_block(1e-6);
        let welded = weld(&loose, Length::new::<millimeter>(0.05));
        assert_eq!(check(&welded.mesh), Ok(()));
        assert_eq!((welded.mesh.points.len(), welded.merged, welded.dropped), (8, 28, 0));
        assert!(welded.farthest.value > 1e-6 && welded.farthest.value < 2e-5);
        assert!(check(&weld(&loose, Length::new::<millimeter>(1e-4)).mesh).is_err());
    }

    #[test]
    fn a_face_smaller_than_the_tolerance_falls_together() {
        let mut mesh = Mesh {
            points: vec![DVec3::ZERO, DVec3::X, DVec3::X * 1.000_001],
            faces: vec![[0, 1, 2]],
        };
        mesh.points[2].y = 1e-6;
        let welded = weld(&mesh, Length::new::<millimeter>(0.01));
        assert_eq!((welded.dropped, welded.mesh.faces.len()), (1, 0));
    }
}
