//! What is asked of a terrain: depths, profiles, what lies under a thing, how far the walls are.
#![expect(
    clippy::indexing_slicing,
    reason = "the rectangles in plan are numbered as the faces they belong to"
)]

use super::Terrain;
use super::outline::doubled_area;
use crate::mesh::{larger, smaller};
use glam::{DVec2, DVec3};
use uom::si::area::square_meter;
use uom::si::f64::{Area, Length};
use uom::si::length::meter;

/// A point this near to a face in plan, in metres, is over it.
const NEAR: f64 = 1e-9;
/// Areas below this, in square metres, are a footprint touching a face, not lying on it.
const TOUCHING: f64 = 1e-13;

/// What lies under a footprint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Under {
    /// The least depth of the ground below it; 0 when nothing of it is over the terrain.
    pub least_depth: Length,
    /// The greatest depth of the ground below it.
    pub greatest_depth: Length,
    /// How much of the footprint is not over the terrain.
    pub outside: Area,
}

impl Terrain {
    /// The depth of the ground at a place, the deepest where a vertical wall stands; none outside.
    pub fn depth_at(&self, point: DVec2) -> Option<Length> {
        let mut deepest: Option<f64> = None;
        for (face, &[low, high]) in self.floor.iter().zip(&self.bounds) {
            let margin = DVec2::splat(NEAR);
            if point.cmplt(low - margin).any()
                || point.cmpgt(high + margin).any()
                || !is_over(face, point)
            {
                continue;
            }
            let depth = depth_of(face, point);
            deepest = Some(deepest.map_or(depth, |other| larger(other, depth)));
        }
        deepest.map(Length::new::<meter>)
    }

    /// The least and greatest depth of the ground under a convex footprint, either turn, in metres.
    ///
    /// Vertical walls count with the ground on either side of them.
    pub fn under(&self, footprint: &[DVec2]) -> Under {
        let mut footprint = footprint.to_vec();
        let mut whole = doubled_area(&footprint);
        if whole < 0.0 {
            footprint.reverse();
            whole = -whole;
        }
        let [low, high] = super::outline::bounds(&footprint);
        let (mut least, mut greatest, mut covered) = (f64::INFINITY, 0.0, 0.0);
        for (face, bounds) in self.floor.iter().zip(&self.bounds) {
            if bounds[0].cmpgt(high).any() || bounds[1].cmplt(low).any() {
                continue;
            }
            let part = clip(face, &footprint);
            let plan: Vec<DVec2> = part.iter().map(|corner| corner.truncate()).collect();
            // Floor faces look down, so they turn clockwise in plan.
            let area = -doubled_area(&plan);
            if area <= TOUCHING {
                continue;
            }
            covered += area;
            for corner in part {
                least = smaller(-corner.z, least);
                greatest = larger(-corner.z, greatest);
            }
        }
        let outside = (whole - covered) / 2.0;
        Under {
            least_depth: Length::new::<meter>(if least.is_finite() { least } else { 0.0 }),
            greatest_depth: Length::new::<meter>(greatest),
            outside: Area::new::<square_meter>(if outside > TOUCHING { outside } else { 0.0 }),
        }
    }

    /// The depth of the ground along a straight line: pairs of the distance from `from` and the depth there.
    ///
    /// The depth is linear between neighbouring pairs; two pairs at one distance are the two sides of a
    /// vertical wall; outside the terrain the depth is 0.
    pub fn profile(&self, from: DVec2, to: DVec2) -> Vec<(Length, Length)> {
        let length = from.distance(to);
        if !(length > 0.0 && length.is_finite()) {
            return Vec::new();
        }
        let direction = (to - from) / length;
        let pieces = self.pieces_along(from, direction, length);
        let mut stops: Vec<f64> =
            pieces.iter().flat_map(|(piece, _)| *piece).chain([0.0, length]).collect();
        stops.sort_unstable_by(f64::total_cmp);
        stops.dedup_by(|next, kept| *next - *kept <= NEAR);
        let mut profile: Vec<[f64; 2]> = Vec::with_capacity(2 * stops.len());
        for pair in stops.windows(2) {
            let middle = f64::midpoint(pair[0], pair[1]);
            let over = pieces.iter().filter(|([start, end], _)| *start <= middle && middle <= *end);
            // Along an edge two faces are met; the deeper of them counts, as in `depth_at`.
            let mut best: Option<(f64, usize)> = None;
            for &(_, face) in over {
                let depth = depth_of(&self.floor[face], from + direction * middle);
                if best.is_none_or(|(deepest, _)| depth > deepest) {
                    best = Some((depth, face));
                }
            }
            for &stop in pair {
                let depth = best
                    .map_or(0.0, |(_, face)| depth_of(&self.floor[face], from + direction * stop));
                push_stop(&mut profile, [stop, depth]);
            }
        }
        profile.into_iter().map(|pair| pair.map(Length::new::<meter>).into()).collect()
    }

    /// The distance from a point inside to the surface of the body along a unit direction; none if it meets
    /// nothing. The lid at the rail counts as surface.
    pub fn nearest_wall(&self, point: DVec3, direction: DVec3) -> Option<Length> {
        let mut nearest: Option<f64> = None;
        self.faces_along(point, direction, |face| {
            let distance = self.mesh.corners(face).and_then(|face| hit(face, point, direction));
            if let Some(distance) = distance
                && nearest.is_none_or(|other| distance < other)
            {
                nearest = Some(distance);
            }
        });
        nearest.map(Length::new::<meter>)
    }

    fn pieces_along(&self, from: DVec2, direction: DVec2, length: f64) -> Vec<([f64; 2], usize)> {
        let to = from + direction * length;
        let (low, high) = (from.min(to), from.max(to));
        let mut pieces = Vec::new();
        for (face, bounds) in self.bounds.iter().enumerate() {
            if bounds[0].cmpgt(high).any() || bounds[1].cmplt(low).any() {
                continue;
            }
            let [a, c, b] = self.floor[face].map(DVec3::truncate);
            let (mut start, mut end) = (0.0, length);
            for [from_corner, to_corner] in [[a, b], [b, c], [c, a]] {
                let side = (to_corner - from_corner).normalize_or_zero();
                let (off, rate) = (side.perp_dot(from - from_corner), side.perp_dot(direction));
                if rate.abs() <= 1e-12 {
                    if off < -NEAR {
                        end = f64::NEG_INFINITY;
                    }
                } else if rate > 0.0 {
                    start = larger(start, -off / rate);
                } else {
                    end = smaller(end, -off / rate);
                }
            }
            if end - start > NEAR {
                pieces.push(([start, end], face));
            }
        }
        pieces
    }
}

/// The rectangle around a face in plan.
pub(super) fn plan_bounds(face: &[DVec3; 3]) -> [DVec2; 2] {
    let [a, b, c] = face.map(DVec3::truncate);
    [a.min(b).min(c), a.max(b).max(c)]
}

fn push_stop(profile: &mut Vec<[f64; 2]>, stop: [f64; 2]) {
    let same = |one: [f64; 2], other: [f64; 2]| {
        (one[0] - other[0]).abs() <= NEAR && (one[1] - other[1]).abs() <= NEAR
    };
    if profile.last().is_some_and(|&last| same(last, stop)) {
        return;
    }
    // A stop on the straight line between its neighbours is none.
    if let [.., before, last] = profile.as_slice() {
        let run = stop[0] - before[0];
        let on_line = before[1] + (stop[1] - before[1]) * (last[0] - before[0]) / run;
        if last[0] - before[0] > NEAR
            && stop[0] - last[0] > NEAR
            && (on_line - last[1]).abs() <= 1e-12
        {
            profile.pop();
        }
    }
    profile.push(stop);
}

fn is_over(face: &[DVec3; 3], point: DVec2) -> bool {
    // Clockwise in plan, so the inside is to the right of each side.
    let [a, b, c] = face.map(DVec3::truncate);
    [[a, b], [b, c], [c, a]]
        .iter()
        .all(|[from, to]| (*to - *from).perp_dot(point - *from) <= NEAR * from.distance(*to))
}

/// The depth of a face's plane at a place, kept within the face's own depths.
fn depth_of(face: &[DVec3; 3], point: DVec2) -> f64 {
    let [a, b, c] = *face;
    let normal = (b - a).cross(c - a);
    let off = point - a.truncate();
    let z = a.z - (normal.x * off.x + normal.y * off.y) / normal.z;
    let low = smaller(smaller(a.z, b.z), c.z);
    let high = larger(larger(a.z, b.z), c.z);
    0.0 - smaller(larger(z, low), high)
}

/// The part of a face over a counter-clockwise convex footprint.
pub(super) fn clip(face: &[DVec3; 3], footprint: &[DVec2]) -> Vec<DVec3> {
    let mut part = face.to_vec();
    let mut kept = Vec::with_capacity(8);
    for at in 0..footprint.len() {
        let (from, to) = (footprint[at], footprint[(at + 1) % footprint.len()]);
        let side = |corner: DVec3| (to - from).perp_dot(corner.truncate() - from);
        kept.clear();
        for position in 0..part.len() {
            let (here, next) = (part[position], part[(position + 1) % part.len()]);
            let (of_here, of_next) = (side(here), side(next));
            if of_here >= 0.0 {
                kept.push(here);
            }
            if (of_here > 0.0 && of_next < 0.0) || (of_here < 0.0 && of_next > 0.0) {
                kept.push(here + (next - here) * (of_here / (of_here - of_next)));
            }
        }
        core::mem::swap(&mut part, &mut kept);
    }
    part
}

/// Where a ray meets a face, as the distance; a hit on an edge counts.
fn hit([a, b, c]: [DVec3; 3], point: DVec3, direction: DVec3) -> Option<f64> {
    let (ab, ac) = (b - a, c - a);
    let across = direction.cross(ac);
    let determinant = ab.dot(across);
    if determinant.abs() <= 1e-12 * ab.length() * ac.length() {
        return None;
    }
    let off = point - a;
    let along_ab = off.dot(across) / determinant;
    let turned = off.cross(ab);
    let along_ac = direction.dot(turned) / determinant;
    let distance = ac.dot(turned) / determinant;
    let slack = -1e-9;
    let inside = along_ab >= slack && along_ac >= slack && along_ab + along_ac <= 1.0 - slack;
    (inside && distance >= -1e-12).then(|| larger(distance, 0.0))
}
