//! A plane that really cuts the mesh, as a second way to what lies below it.

use crate::mesh::Mesh;
use glam::DVec3;

/// The volume of a closed mesh below the plane up·x = height: every face is clipped, and the cones from a point of
/// the plane over what is left are added up. The cap lies in the plane, so its cone is flat and need not be made.
pub(super) fn volume_below(mesh: &Mesh, up: DVec3, height: f64) -> f64 {
    let apex = up * height;
    let mut sum = 0.0;
    for face in 0..mesh.faces.len() {
        let corners = mesh.corners(face).unwrap().map(|corner| corner - apex);
        let mut kept: Vec<DVec3> = Vec::with_capacity(4);
        for at in 0..3 {
            let (here, next) = (corners[at], corners[(at + 1) % 3]);
            let (from, to) = (up.dot(here), up.dot(next));
            if from <= 0.0 {
                kept.push(here);
            }
            if (from <= 0.0) != (to <= 0.0) {
                kept.push(here + (next - here) * (from / (from - to)));
            }
        }
        for pair in kept.windows(2).skip(1) {
            sum += kept[0].dot(pair[0].cross(pair[1])) / 6.0;
        }
    }
    sum
}
