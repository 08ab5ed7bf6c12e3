//! A closed mesh moved outward along its own normals.

#![expect(
    clippy::indexing_slicing,
    reason = "corners are numbered by the faces of a mesh whose corners were found to exist"
)]

use super::Mesh;
use glam::{DMat3, DVec3};
use uom::si::f64::Length;

/// How much a corner between faces of nearly one direction is held back, as a share of the faces' own weight: less
/// would let rounding throw it sideways, more would leave sharp corners behind.
const HELD_BACK: f64 = 1e-6;

/// Every face moved outward by `distance`, inward where it is negative; corners at z = 0 stay in that plane.
///
/// # Formula
/// A corner moves by the v that makes Σ w (n·v − distance)² least over its faces, w the angle of a face at the
/// corner and n its normal: exact where three planes or fewer meet, as at the corners of a block.
///
/// # Valid for
/// Distances that are small against the faces and the gaps between walls: a measuring uncertainty. Faces are not
/// looked at for crossing afterwards.
///
/// # Source
/// Least squares; tested against the closed form of a block.
#[must_use]
pub fn offset(mesh: &Mesh, distance: Length) -> Mesh {
    let mut sums = vec![(DMat3::ZERO, DVec3::ZERO); mesh.points.len()];
    for face in &mesh.faces {
        let corners = face.map(|corner| mesh.points[corner as usize]);
        let [a, b, c] = corners;
        let Some(normal) = (b - a).cross(c - a).try_normalize() else { continue };
        // The lid does not move: it is the rail plane, not a surface that was measured.
        if corners.iter().all(|p| p.z.abs() <= 0.0) {
            continue;
        }
        for at in 0..3 {
            let (here, next, before) = (corners[at], corners[(at + 1) % 3], corners[(at + 2) % 3]);
            let (out, back) =
                ((next - here).normalize_or_zero(), (before - here).normalize_or_zero());
            let weight = libm::atan2(out.cross(back).length(), out.dot(back));
            let (square, along) = &mut sums[face[at] as usize];
            *square +=
                DMat3::from_cols(normal * normal.x, normal * normal.y, normal * normal.z) * weight;
            *along += normal * (weight * distance.value);
        }
    }
    let points = mesh.points.iter().zip(sums).map(|(point, (mut square, mut along))| {
        let trace = square.x_axis.x + square.y_axis.y + square.z_axis.z;
        if trace <= 0.0 {
            return *point;
        }
        if point.z.abs() <= 0.0 {
            // Held in the plane by taking the height out of the sum.
            square.x_axis.z = 0.0;
            square.y_axis.z = 0.0;
            square.z_axis = DVec3::Z * trace;
            along.z = 0.0;
        }
        let held = square + DMat3::from_diagonal(DVec3::splat(trace * HELD_BACK));
        *point + held.inverse() * along
    });
    Mesh { points: points.collect(), faces: mesh.faces.clone() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mesh::Solid;
    use uom::si::length::millimeter;

    #[test]
    fn a_block_grows_by_the_distance_on_each_side_but_not_above_the_rail() {
        let min = DVec3::new(-0.2, -0.1, -0.08);
        let block = Solid::Block { min, max: DVec3::new(0.2, 0.1, 0.0) }.mesh().unwrap();
        for distance in [0.3, -0.3] {
            let grown = offset(&block, Length::new::<millimeter>(distance));
            let d = distance / 1000.0;
            let expected = (0.4 + 2.0 * d) * (0.2 + 2.0 * d) * (0.08 + d);
            assert!((grown.volume().value / expected - 1.0).abs() < 1e-6);
            let [_, high] = grown.bounds().unwrap();
            assert!(high.z.abs() <= 0.0);
        }
    }
}
