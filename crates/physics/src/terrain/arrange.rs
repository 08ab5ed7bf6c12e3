//! Segments in the plane made into a net: none cross, none overlap, ends that nearly coincide are one point.
//!
//! The triangulation that follows takes plain constraints only, and those must not cross; so everything is cut
//! first, here, and what moved by merging is looked at again until nothing is left to cut.
#![expect(
    clippy::indexing_slicing,
    reason = "edges hold positions in the list of points they belong to"
)]

use crate::mesh::{index_of, larger, smaller};
use glam::DVec2;

/// Points nearer than this, in metres, are one.
pub(super) const NEAR: f64 = 1e-9;
/// A point this near to a segment, in metres, lies on it. Of two points on one segment the order along it must be
/// plain, so it is much less than what keeps them apart: bending lines to points would otherwise go round in circles.
const ON_SEGMENT: f64 = NEAR / 4.0;
/// A line that ends in nothing is led on to another one this near, in metres: more than merging moves a line.
const REACH: f64 = 8.0 * NEAR;
/// How often lines are led on; an end that is loose after that bounds nothing.
const LEADS: usize = 4;
/// How often the net is looked at again; two rounds are usual.
const ROUNDS: usize = 24;

/// Points and the edges between them.
#[derive(Debug, Default)]
pub(super) struct Net {
    pub(super) points: Vec<DVec2>,
    pub(super) edges: Vec<[u32; 2]>,
}

impl Net {
    pub(super) fn add(&mut self, from: DVec2, to: DVec2) {
        let at = index_of(self.points.len());
        self.points.extend([from, to]);
        self.edges.push([at, at + 1]);
    }

    /// Adds lines between points given once.
    pub(super) fn add_lines(&mut self, points: &[DVec2], lines: &[[u32; 2]]) {
        let shift = index_of(self.points.len());
        self.points.extend_from_slice(points);
        self.edges.extend(lines.iter().map(|&[from, to]| [from + shift, to + shift]));
    }

    /// Cuts the edges at every crossing and merges what nearly coincides.
    ///
    /// Gives the place of a cut that was still needed when the rounds ran out.
    pub(super) fn arrange(mut self) -> Result<Self, DVec2> {
        let (mut last, mut leads) = (DVec2::ZERO, 0);
        for _ in 0..ROUNDS {
            self.merge();
            let cuts = self.find_cuts();
            let Some(&(_, point)) = cuts.first() else {
                leads += 1;
                if leads <= LEADS && self.lead_on() {
                    continue;
                }
                self.drop_unused();
                return Ok(self);
            };
            last = self.points[point as usize];
            self.cut(cuts);
        }
        Err(last)
    }

    /// Points nearer than `NEAR` become one, edges between one point and itself and second copies go.
    fn merge(&mut self) {
        let mut order: Vec<u32> = (0..index_of(self.points.len())).collect();
        let place = |at: u32| self.points[at as usize];
        order.sort_unstable_by(|&a, &b| {
            place(a)
                .x
                .total_cmp(&place(b).x)
                .then(place(a).y.total_cmp(&place(b).y))
                .then(a.cmp(&b))
        });
        // The first of a cluster stands for it: the points of the zones come before those of crossings.
        let mut stands_for: Vec<u32> = (0..index_of(self.points.len())).collect();
        for (position, &point) in order.iter().enumerate() {
            for &earlier in order[..position].iter().rev() {
                if place(point).x - place(earlier).x > NEAR {
                    break;
                }
                if place(point).distance_squared(place(earlier)) <= NEAR * NEAR {
                    let ends = [first_of(&stands_for, point), first_of(&stands_for, earlier)];
                    let [low, high] = if ends[0] < ends[1] { ends } else { [ends[1], ends[0]] };
                    stands_for[high as usize] = low;
                }
            }
        }
        // Each entry names a lower one, so one pass in order settles all.
        for point in 0..stands_for.len() {
            stands_for[point] = stands_for[stands_for[point] as usize];
        }
        for edge in &mut self.edges {
            let (a, b) = (stands_for[edge[0] as usize], stands_for[edge[1] as usize]);
            *edge = if a < b { [a, b] } else { [b, a] };
        }
        self.edges.retain(|[a, b]| a != b);
        self.edges.sort_unstable();
        self.edges.dedup();
    }

    /// Every edge that must pass through a point, by a sweep along x; crossings add their point.
    fn find_cuts(&mut self) -> Vec<(u32, u32)> {
        let boxes: Vec<[f64; 4]> = self
            .edges
            .iter()
            .map(|&[a, b]| {
                let (a, b) = (self.points[a as usize], self.points[b as usize]);
                [
                    smaller(a.x, b.x),
                    larger(a.x, b.x) + ON_SEGMENT,
                    smaller(a.y, b.y),
                    larger(a.y, b.y) + ON_SEGMENT,
                ]
            })
            .collect();
        let mut order: Vec<u32> = (0..index_of(boxes.len())).collect();
        order.sort_unstable_by(|&a, &b| {
            boxes[a as usize][0].total_cmp(&boxes[b as usize][0]).then(a.cmp(&b))
        });
        let mut active: Vec<(u32, [f64; 4])> = Vec::new();
        let mut cuts = Vec::new();
        for &edge in &order {
            let here = boxes[edge as usize];
            let mut at = 0;
            while let Some(&(other, [_, end, low, high])) = active.get(at) {
                if end < here[0] {
                    active.swap_remove(at);
                    continue;
                }
                if low <= here[3] && here[2] <= high {
                    self.meet(edge, other, &mut cuts);
                }
                at += 1;
            }
            active.push((edge, here));
        }
        cuts
    }

    fn meet(&mut self, one: u32, other: u32, cuts: &mut Vec<(u32, u32)>) {
        let (first, second) = (self.edges[one as usize], self.edges[other as usize]);
        let shared = first.iter().any(|end| second.contains(end));
        let before = cuts.len();
        for (ends, edge, [from, to]) in [(first, other, second), (second, one, first)] {
            for end in ends {
                if end != from && end != to && self.lies_on(end, from, to) {
                    cuts.push((edge, end));
                }
            }
        }
        if shared || cuts.len() > before {
            return;
        }
        let [a, b] = first.map(|at| self.points[at as usize]);
        let [c, d] = second.map(|at| self.points[at as usize]);
        let (of_c, of_d) = ((b - a).perp_dot(c - a), (b - a).perp_dot(d - a));
        let (of_a, of_b) = ((d - c).perp_dot(a - c), (d - c).perp_dot(b - c));
        if (of_c > 0.0) != (of_d > 0.0) && (of_a > 0.0) != (of_b > 0.0) {
            let point = index_of(self.points.len());
            self.points.push(a + (b - a) * (of_a / (of_a - of_b)));
            cuts.extend([(one, point), (other, point)]);
        }
    }

    fn lies_on(&self, point: u32, from: u32, to: u32) -> bool {
        let (point, from, to) =
            (self.points[point as usize], self.points[from as usize], self.points[to as usize]);
        let (along, off) = (to - from, point - from);
        let square = along.length_squared();
        let onward = off.dot(along);
        let across = along.perp_dot(off);
        onward > 0.0 && onward < square && across * across <= ON_SEGMENT * ON_SEGMENT * square
    }

    fn cut(&mut self, mut cuts: Vec<(u32, u32)>) {
        let along = |&(edge, point): &(u32, u32)| {
            let [from, to] = self.edges[edge as usize].map(|at| self.points[at as usize]);
            (self.points[point as usize] - from).dot(to - from)
        };
        cuts.sort_by(|one, other| one.0.cmp(&other.0).then(along(one).total_cmp(&along(other))));
        for of_edge in cuts.chunk_by(|one, next| one.0 == next.0) {
            let edge = of_edge[0].0 as usize;
            let [mut from, to] = self.edges[edge];
            // The edge itself becomes its own last part.
            for &(_, point) in of_edge {
                self.edges.push([from, point]);
                from = point;
            }
            self.edges[edge] = [from, to];
        }
    }

    /// Leads every loose end on to the nearest other line within reach, and tells whether there was one.
    ///
    /// A line of equal depth ends where one of its two patches does, on a line of the net. If merging has moved
    /// that line, the end no longer lies on it, and the regions on both its sides would become one.
    fn lead_on(&mut self) -> bool {
        let mut degree = vec![0_u32; self.points.len()];
        for end in self.edges.iter().flatten() {
            degree[*end as usize] += 1;
        }
        let is_loose = |end: u32| degree[end as usize] == 1;
        let loose: Vec<[u32; 2]> = self
            .edges
            .iter()
            .flat_map(|&[a, b]| [[a, b], [b, a]])
            .filter(|&[end, _]| is_loose(end))
            .collect();
        let mut found = false;
        for [end, start] in loose {
            if let Some((edge, place)) = self.nearest_line(end, start) {
                let point = index_of(self.points.len());
                self.points.push(place);
                let [from, to] = self.edges[edge];
                self.edges[edge] = [from, point];
                self.edges.extend([[point, to], [end, point]]);
                found = true;
            }
        }
        found
    }

    /// The line nearest to an end within reach, and the place on it; lines that share a point with its own do not
    /// count.
    fn nearest_line(&self, end: u32, start: u32) -> Option<(usize, DVec2)> {
        let place = self.points[end as usize];
        let mut best: Option<(usize, DVec2)> = None;
        for (edge, ends) in self.edges.iter().enumerate() {
            if ends.contains(&end) || ends.contains(&start) {
                continue;
            }
            let [from, to] = ends.map(|at| self.points[at as usize]);
            let along = to - from;
            let share = ((place - from).dot(along) / along.length_squared()).clamp(0.0, 1.0);
            let on_line = from + along * share;
            let limit = best.map_or(REACH, |(_, other)| other.distance(place));
            if on_line.distance(place) < limit {
                best = Some((edge, on_line));
            }
        }
        best
    }

    fn drop_unused(&mut self) {
        let mut becomes = vec![u32::MAX; self.points.len()];
        let mut kept = Vec::with_capacity(self.points.len());
        for edge in &mut self.edges {
            for end in edge {
                let place = &mut becomes[*end as usize];
                if *place == u32::MAX {
                    *place = index_of(kept.len());
                    kept.push(self.points[*end as usize]);
                }
                *end = *place;
            }
        }
        self.points = kept;
    }
}

/// The first point of the cluster that a point belongs to.
fn first_of(stands_for: &[u32], mut point: u32) -> u32 {
    while stands_for[point as usize] != point {
        point = stands_for[point as usize];
    }
    point
}

#[cfg(test)]
mod tests {
    use super::*;

    fn net(segments: &[[f64; 4]]) -> Net {
        let mut net = Net::default();
        for &[a, b, c, d] in segments {
            net.add(DVec2::new(a, b), DVec2::new(c, d));
        }
        net.arrange().unwrap()
    }

    #[test]
    fn crossing_segments_are_cut_into_four() {
        let net = net(&[[0., 0., 1., 1.], [0., 1., 1., 0.]]);
        assert_eq!((net.points.len(), net.edges.len()), (5, 4));
    }

    #[test]
    fn overlapping_segments_share_their_common_part() {
        let net = net(&[[0., 0., 2., 0.], [1., 0., 3., 0.], [3., 1e-10, 0., 0.]]);
        assert_eq!((net.points.len(), net.edges.len()), (4, 3));
    }

    #[test]
    fn an_end_on_a_segment_cuts_it() {
        let net = net(&[[0., 0., 2., 0.], [1., 2e-10, 1., 1.]]);
        assert_eq!((net.points.len(), net.edges.len()), (4, 3));
    }

    #[test]
    fn a_bundle_of_lines_meets_in_one_point() {
        let lines: Vec<[f64; 4]> = (0..12)
            .map(|k| {
                let angle = f64::from(k) * 0.26;
                let (sine, cosine) = (libm::sin(angle), libm::cos(angle));
                [0.3 - cosine, 0.1 - sine, 0.3 + cosine, 0.1 + sine]
            })
            .collect();
        let net = net(&lines);
        assert_eq!((net.points.len(), net.edges.len()), (25, 24));
    }
}
