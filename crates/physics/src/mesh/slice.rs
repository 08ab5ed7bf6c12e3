//! What a plane cuts out of a closed mesh.
#![expect(
    clippy::indexing_slicing,
    reason = "faces hold positions in the points of their own mesh"
)]

use super::Mesh;
use glam::DVec3;
use std::collections::BTreeMap;

/// An edge by its two points, the smaller number first.
type Edge = (u32, u32);

/// The closed lines in which the plane through `at` with the unit normal `across` cuts a closed mesh, in metres.
///
/// Seen against `across` the inside lies to the left of a line; the line around a hole runs the other way. The lines
/// are put together by the edges they cross, not by distance, so that none is left open. A point that lies on the
/// plane counts as beyond it.
///
/// # Valid for
/// A mesh that [`super::check()`] finds nothing wrong with. Of an open mesh the lines that do not close are left out.
///
/// # Source
/// Plain geometry; tested against the areas of a box, a cylinder and a box with a hole.
pub fn slice(mesh: &Mesh, at: DVec3, across: DVec3) -> Vec<Vec<DVec3>> {
    let height: Vec<f64> = mesh.points.iter().map(|&p| across.dot(p - at)).collect();
    let beyond = |corner: u32| height[corner as usize] >= 0.0;
    let mut next: BTreeMap<Edge, Edge> = BTreeMap::new();
    for face in &mesh.faces {
        let crossed = crossings(*face, &beyond);
        if let Some((from, to)) = crossed {
            next.insert(from, to);
        }
    }
    let place = |(a, b): Edge| {
        let (za, zb) = (height[a as usize], height[b as usize]);
        mesh.points[a as usize].lerp(mesh.points[b as usize], za / (za - zb))
    };
    let mut lines = Vec::new();
    while let Some((start, second)) = next.pop_first() {
        let mut line = vec![place(start)];
        let mut here = second;
        while here != start {
            line.push(place(here));
            let Some(following) = next.remove(&here) else { break };
            here = following;
        }
        if here == start {
            lines.push(line);
        }
    }
    lines
}

/// The edges by which the cut enters and leaves a face, if it meets it. With the inside to the left it enters where the
/// outline of the face comes back from beyond the plane, and leaves where it goes
/// beyond it.
fn crossings(face: [u32; 3], beyond: &impl Fn(u32) -> bool) -> Option<(Edge, Edge)> {
    let mut enters = None;
    let mut leaves = None;
    for (a, b) in [(face[0], face[1]), (face[1], face[2]), (face[2], face[0])] {
        let edge = if a < b { (a, b) } else { (b, a) };
        match (beyond(a), beyond(b)) {
            (false, true) => enters = Some(edge),
            (true, false) => leaves = Some(edge),
            _ => {}
        }
    }
    leaves.zip(enters)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mesh::{Axis, Solid};
    use uom::si::f64::Length;
    use uom::si::length::meter;

    /// Area of plane lines seen against `across`, holes taken off.
    fn area(lines: &[Vec<DVec3>], across: DVec3) -> f64 {
        let mut sum = DVec3::ZERO;
        for line in lines {
            for (a, b) in line.iter().zip(line.iter().cycle().skip(1)) {
                sum += a.cross(*b) / 2.0;
            }
        }
        sum.dot(across)
    }

    fn block(half: f64) -> Mesh {
        Solid::Block { min: DVec3::splat(-half), max: DVec3::splat(half) }.mesh().expect("a block")
    }

    // The middle section of a cube across its space diagonal is a regular hexagon of side a/√2: area 3√3/4·a².
    // Source: plane geometry.
    #[test]
    fn a_cube_across_its_diagonal_is_a_regular_hexagon() {
        let across = DVec3::splat(1.0).normalize();
        let lines = slice(&block(0.5), DVec3::ZERO, across);
        assert_eq!(lines.len(), 1);
        let expected = 3.0 * 3.0_f64.sqrt() / 4.0;
        assert!((area(&lines, across) - expected).abs() < 1e-15);
    }

    #[test]
    fn a_hole_runs_the_other_way_and_is_taken_off() {
        let mut shell = block(0.5);
        let mut hole = block(0.25);
        for face in &mut hole.faces {
            face.swap(0, 1);
        }
        shell.append(&hole);
        let lines = slice(&shell, DVec3::new(0.0, 0.0, 0.1), DVec3::Z);
        assert_eq!(lines.len(), 2);
        assert!((area(&lines, DVec3::Z) - 0.75).abs() < 1e-15);
    }

    #[test]
    fn a_plane_beside_the_body_cuts_nothing() {
        assert!(slice(&block(0.5), DVec3::new(0.0, 0.0, 2.0), DVec3::Z).is_empty());
    }

    #[test]
    fn a_plane_through_corners_still_closes_its_lines() {
        let cylinder = Solid::Cylinder {
            middle: DVec3::ZERO,
            along: Axis::Z,
            diameter: Length::new::<meter>(1.0),
            length: Length::new::<meter>(2.0),
        };
        let mesh = cylinder.mesh().expect("a cylinder");
        let lines = slice(&mesh, DVec3::ZERO, DVec3::X);
        assert_eq!(lines.len(), 1);
        assert!((area(&lines, DVec3::X) - 2.0).abs() < 1e-12);
    }
}
