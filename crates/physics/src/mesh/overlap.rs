//! How much room two convex bodies have in common.
#![expect(clippy::indexing_slicing, reason = "corners are counted by the polygon they belong to")]

use super::Mesh;
use glam::DVec3;
use uom::si::f64::Volume;
use uom::si::volume::cubic_meter;

/// Planes nearer than this, in metres, over the size of a pan, are one.
const ONE_PLANE: f64 = 1e-9;

/// A face's plane: its unit normal, outward, and how far it stands along it.
struct Plane {
    normal: DVec3,
    offset: f64,
}

/// The volume that two closed convex bodies have in common.
///
/// # Formula
/// The boundary of what both share is that part of each one's boundary that lies in the other; the volume follows from
/// it by the divergence theorem.
///
/// # Valid for
/// Convex bodies with faces turned outward.
///
/// # Source
/// Tested against boxes and against cylinders side by side.
pub fn overlap(one: &Mesh, other: &Mesh) -> Volume {
    let Some(middle) = one.bounds().map(|[low, high]| (low + high) / 2.0) else {
        return Volume::new::<cubic_meter>(0.0);
    };
    let (planes, other_planes) = (planes(one), planes(other));
    let mut sum = 0.0;
    for face in 0..one.faces.len() {
        sum += part_within(one, face, &other_planes, middle, true);
    }
    for face in 0..other.faces.len() {
        // A face in a plane that both have, turned the same way, was counted with the first body.
        sum += part_within(other, face, &planes, middle, false);
    }
    Volume::new::<cubic_meter>(if sum > 0.0 { sum / 6.0 } else { 0.0 })
}

fn planes(mesh: &Mesh) -> Vec<Plane> {
    let mut planes: Vec<Plane> = Vec::new();
    for face in 0..mesh.faces.len() {
        let Some(plane) = mesh.corners(face).and_then(plane_of) else { continue };
        if !planes.iter().any(|known| is_same(known, &plane)) {
            planes.push(plane);
        }
    }
    planes
}

fn plane_of([a, b, c]: [DVec3; 3]) -> Option<Plane> {
    let normal = (b - a).cross(c - a).try_normalize()?;
    Some(Plane { normal, offset: normal.dot((a + b + c) / 3.0) })
}

fn is_same(one: &Plane, other: &Plane) -> bool {
    one.normal.dot(other.normal) > 1.0 - ONE_PLANE && (one.offset - other.offset).abs() < ONE_PLANE
}

/// Six times the signed volume of the cone from `middle` over the part of a face within some planes.
fn part_within(mesh: &Mesh, face: usize, planes: &[Plane], middle: DVec3, shared: bool) -> f64 {
    let Some(corners) = mesh.corners(face) else { return 0.0 };
    let Some(own) = plane_of(corners) else { return 0.0 };
    let mut part = corners.to_vec();
    let back = Plane { normal: -own.normal, offset: -own.offset };
    for plane in planes {
        // Back to back, the bodies touch there and share no room.
        if is_same(plane, &back) {
            return 0.0;
        }
        if is_same(plane, &own) {
            if shared {
                continue;
            }
            return 0.0;
        }
        part = clipped(&part, plane);
    }
    let Some((&first, rest)) = part.split_first() else { return 0.0 };
    let fan = rest
        .windows(2)
        .map(|pair| (first - middle).dot((pair[0] - middle).cross(pair[1] - middle)));
    fan.sum()
}

fn clipped(polygon: &[DVec3], plane: &Plane) -> Vec<DVec3> {
    let height = |point: DVec3| plane.normal.dot(point) - plane.offset;
    let mut kept = Vec::with_capacity(polygon.len() + 1);
    for at in 0..polygon.len() {
        let (here, next) = (polygon[at], polygon[(at + 1) % polygon.len()]);
        let (of_here, of_next) = (height(here), height(next));
        if of_here <= 0.0 {
            kept.push(here);
        }
        if (of_here <= 0.0) != (of_next <= 0.0) {
            kept.push(here + (next - here) * (of_here / (of_here - of_next)));
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mesh::{Axis, Solid};
    use core::f64::consts::PI;
    use uom::si::f64::Length;
    use uom::si::length::meter;

    fn block(min: [f64; 3], max: [f64; 3]) -> Mesh {
        Solid::Block { min: DVec3::from(min), max: DVec3::from(max) }.mesh().unwrap()
    }

    fn cylinder(middle: [f64; 3], along: Axis, diameter: f64, length: f64) -> Mesh {
        let (diameter, length) = (Length::new::<meter>(diameter), Length::new::<meter>(length));
        Solid::Cylinder { middle: DVec3::from(middle), along, diameter, length }.mesh().unwrap()
    }

    fn is(one: &Mesh, other: &Mesh, exact: f64, relative: f64) {
        for found in [overlap(one, other).value, overlap(other, one).value] {
            assert!((found - exact).abs() <= relative * exact + 1e-18, "{found} for {exact}");
        }
    }

    #[test]
    fn boxes_share_a_box() {
        let one = block([0., 0., 0.], [0.2, 0.1, 0.05]);
        is(&one, &block([0.15, -0.1, 0.02], [0.3, 0.04, 0.1]), 0.05 * 0.04 * 0.03, 1e-12);
        is(&one, &block([0.05, 0.02, 0.01], [0.1, 0.05, 0.03]), 0.05 * 0.03 * 0.02, 1e-12);
        is(&one, &one, 0.001, 1e-12);
        // One face in common, turned the same way.
        is(&one, &block([0., 0., 0.03], [0.1, 0.1, 0.05]), 0.1 * 0.1 * 0.02, 1e-12);
    }

    #[test]
    fn bodies_that_touch_or_stand_apart_share_nothing() {
        let one = block([0., 0., 0.], [0.2, 0.1, 0.05]);
        is(&one, &block([0.2, 0., 0.], [0.3, 0.1, 0.05]), 0.0, 0.0);
        is(&one, &block([0.4, 0., 0.], [0.5, 0.1, 0.05]), 0.0, 0.0);
        // Two lying cylinders whose boxes overlap and which do not.
        let low = cylinder([0., 0., 0.], Axis::X, 0.1, 0.3);
        is(&low, &cylinder([0., 0.08, 0.08], Axis::X, 0.1, 0.3), 0.0, 0.0);
    }

    /// Two circles of radius r with their middles r apart share r²·(2π/3 − √3/2) (the lens, elementary geometry).
    #[test]
    fn cylinders_side_by_side_share_a_lens() {
        let low = cylinder([0., 0., 0.], Axis::X, 0.1, 0.3);
        let lens = 0.0025 * (2.0 * PI / 3.0 - 3.0_f64.sqrt() / 2.0);
        is(&low, &cylinder([0.1, 0.03, 0.04], Axis::X, 0.1, 0.3), lens * 0.2, 1e-4);
    }
}
