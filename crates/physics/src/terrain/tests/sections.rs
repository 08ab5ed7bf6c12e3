//! What zones hold together by level sections, and how deep they are by definition: neither needs a mesh.
//!
//! At each depth the section of a convex zone is an intersection of half-planes. The area of the union of all sections
//! follows by inclusion and exclusion from polygons clipped by half-planes, and is integrated over the depth by Simpson's
//! rule, halved where it has not settled: between the depths at which sides of zones pass each other it is quadratic,
//! so the rule is exact there.

use super::Zone;
use crate::mesh::{larger, smaller};
use crate::terrain::outline::doubled_area;
use glam::DVec2;

/// A convex zone.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    corners: Vec<DVec2>,
    opens_at: f64,
    /// The greatest depth of its floor within the outline, and the least.
    pub(super) floor: f64,
    pub(super) least: f64,
    lean: f64,
    middle: DVec2,
    depth: f64,
    fall: DVec2,
}

impl Piece {
    pub(super) fn of(zone: &Zone) -> Self {
        let corners = zone.outline.points().to_vec();
        let low = corners.iter().copied().reduce(DVec2::min).unwrap();
        let middle = (low + corners.iter().copied().reduce(DVec2::max).unwrap()) / 2.0;
        let fall = zone.slope.map_or(DVec2::ZERO, |slope| slope.deeper * libm::tan(slope.by.value));
        let depth = zone.floor.value;
        let depths: Vec<f64> =
            corners.iter().map(|corner| depth + fall.dot(*corner - middle)).collect();
        Self {
            corners,
            opens_at: zone.opens_at.value,
            floor: depths.iter().copied().fold(0.0, larger),
            least: depths.iter().copied().fold(f64::INFINITY, smaller),
            lean: libm::tan(zone.draft.value),
            middle,
            depth,
            fall,
        }
    }

    fn sides(&self) -> impl Iterator<Item = [DVec2; 2]> + '_ {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().zip(next).map(|(&from, &to)| [from, to])
    }

    /// The least distance inward from the lines of the sides.
    fn inside_by(&self, point: DVec2) -> f64 {
        let off = |[from, to]: [DVec2; 2]| (to - from).normalize().perp_dot(point - from);
        self.sides().map(off).fold(f64::INFINITY, smaller)
    }

    /// Its depth at a place; none outside.
    pub(super) fn depth_at(&self, point: DVec2) -> Option<f64> {
        let inside_by = self.inside_by(point);
        if inside_by < 0.0 {
            return None;
        }
        let below = if self.lean > 0.0 { inside_by / self.lean } else { f64::INFINITY };
        Some(smaller(self.opens_at + below, self.depth + self.fall.dot(point - self.middle)))
    }

    /// The part of a convex polygon in the section at a depth.
    fn clip(&self, polygon: &[DVec2], depth: f64) -> Vec<DVec2> {
        let inset = larger(depth - self.opens_at, 0.0) * self.lean;
        let mut part = polygon.to_vec();
        let floor = self.depth - depth;
        let halves = self.sides().map(|[from, to]| {
            let inward = (to - from).normalize().perp();
            (inward, inward.dot(from) + inset)
        });
        // The floor is a half-plane too: that where it lies below this depth.
        for (inward, least) in halves.chain([(self.fall, self.fall.dot(self.middle) - floor)]) {
            let height = |point: DVec2| inward.dot(point) - least;
            let mut kept = Vec::with_capacity(part.len() + 1);
            for at in 0..part.len() {
                let (here, next) = (part[at], part[(at + 1) % part.len()]);
                let (of_here, of_next) = (height(here), height(next));
                if of_here >= 0.0 {
                    kept.push(here);
                }
                if (of_here >= 0.0) != (of_next >= 0.0) {
                    kept.push(here + (next - here) * (of_here / (of_here - of_next)));
                }
            }
            part = kept;
        }
        part
    }

    /// The area of its section at a depth.
    pub(super) fn section(&self, depth: f64) -> f64 {
        doubled_area(&self.clip(&self.corners, depth)) / 2.0
    }
}

/// Σ ± area over all choices of pieces that go on from a part already common to the chosen ones.
fn inclusion_exclusion(pieces: &[&Piece], common: Option<&[DVec2]>, depth: f64) -> f64 {
    let mut sum = 0.0;
    for (at, piece) in pieces.iter().enumerate() {
        let part = piece.clip(common.unwrap_or(&piece.corners), depth);
        if part.len() >= 3 {
            let rest = inclusion_exclusion(&pieces[at + 1..], Some(&part), depth);
            sum += doubled_area(&part) / 2.0 - rest;
        }
    }
    sum
}

/// The volume of the union of convex zones with everything above them, in cubic metres.
pub(super) fn union_by_sections(pieces: &[Piece]) -> f64 {
    let mut stops = vec![0.0];
    stops.extend(pieces.iter().flat_map(|piece| [piece.opens_at, piece.least, piece.floor]));
    stops.sort_by(f64::total_cmp);
    stops.dedup();
    let slices = stops.windows(2).map(|slice| {
        let reaching: Vec<&Piece> = pieces.iter().filter(|piece| piece.floor >= slice[1]).collect();
        let area = |depth: f64| inclusion_exclusion(&reaching, None, depth);
        // Halves that agree by chance at the first look must not end the search.
        let step = (slice[1] - slice[0]) / 4.0;
        let quarter = |at: u32| {
            let ends = [at, at + 1].map(|at| slice[0] + step * f64::from(at));
            let areas = [ends[0], f64::midpoint(ends[0], ends[1]), ends[1]].map(area);
            integral(&area, ends, areas, 40)
        };
        (0..4).map(quarter).sum::<f64>()
    });
    slices.sum()
}

fn integral(area: &impl Fn(f64) -> f64, ends: [f64; 2], areas: [f64; 3], halvings: u32) -> f64 {
    let [low, high] = ends;
    let middle = f64::midpoint(low, high);
    let simpson = |width: f64, [a, b, c]: [f64; 3]| width / 6.0 * (a + 4.0 * b + c);
    let first = [areas[0], area(f64::midpoint(low, middle)), areas[1]];
    let second = [areas[1], area(f64::midpoint(middle, high)), areas[2]];
    let whole = simpson(high - low, areas);
    let halves = simpson(middle - low, first) + simpson(high - middle, second);
    if halvings == 0 || (whole - halves).abs() <= 1e-14 * halves.abs() + 1e-18 {
        return halves;
    }
    integral(area, [low, middle], first, halvings - 1)
        + integral(area, [middle, high], second, halvings - 1)
}
