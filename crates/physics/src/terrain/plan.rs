//! The regions between the lines of a net, and triangles over each of them.
//!
//! Every edge is two half-edges, one each way, with its region on the left; a corner of a region is the
//! half-edge that leaves it. Most regions are walls: convex, and cut by halving. The floor around a sump is a ring
//! between two convex loops, cut by turning around both. What is left goes to a constrained triangulation.
#![expect(
    clippy::indexing_slicing,
    reason = "half-edges, points and regions are numbered by the same plan"
)]

use super::arrange::Net;
use super::outline::{bounds, is_inside};
use super::{TerrainError, delaunay};
use crate::mesh::{halving, index_of, is_strictly_convex};
use core::ops::Range;
use glam::DVec2;

/// No region: outside of everything.
pub(super) const NONE: u32 = u32::MAX;

/// A net, what follows each half-edge, and the regions.
#[derive(Debug)]
pub(super) struct Plan {
    pub(super) points: Vec<DVec2>,
    edges: Vec<[u32; 2]>,
    /// The next half-edge around the region.
    pub(super) next: Vec<u32>,
    /// The region on the left of each half-edge.
    pub(super) region: Vec<u32>,
    pub(super) regions: Vec<Region>,
    /// Corners of triangles, counter-clockwise, as half-edges.
    pub(super) triangles: Vec<[u32; 3]>,
}

/// A part of the plan between lines.
#[derive(Debug)]
pub(super) struct Region {
    pub(super) triangles: Range<usize>,
    pub(super) area: f64,
    /// The middle of its largest triangle.
    pub(super) middle: DVec2,
}

/// A closed walk along half-edges with the region on the left.
struct Walk {
    half_edges: Vec<u32>,
    places: Vec<DVec2>,
    doubled_area: f64,
    bounds: [DVec2; 2],
    /// One of the points that edges join to it: the same for all walks along one piece of the net.
    piece: u32,
}

impl Plan {
    pub(super) fn of(net: Net) -> Result<Self, TerrainError> {
        let edges = without_loose_ends(net.points.len(), net.edges);
        let next = follow(&net.points, &edges);
        let mut plan = Self {
            region: vec![NONE; next.len()],
            triangles: Vec::with_capacity(next.len()),
            points: net.points,
            edges,
            next,
            regions: Vec::new(),
        };
        let (outer, holes): (Vec<Walk>, Vec<Walk>) =
            plan.walks().into_iter().partition(|walk| walk.doubled_area > 0.0);
        let mut holes_of: Vec<Vec<usize>> = vec![Vec::new(); outer.len()];
        for (hole, walk) in holes.iter().enumerate() {
            if let Some(around) = smallest_around(&outer, walk) {
                holes_of[around].push(hole);
            }
        }
        for (walk, inner) in outer.iter().zip(holes_of) {
            let inner: Vec<&Walk> = inner.iter().map(|&hole| &holes[hole]).collect();
            plan.add_region(walk, &inner)?;
        }
        Ok(plan)
    }

    pub(super) fn half_edges(&self) -> Range<u32> {
        0..index_of(self.next.len())
    }

    /// The point a half-edge leaves.
    pub(super) fn origin(&self, half_edge: u32) -> u32 {
        self.edges[(half_edge / 2) as usize][(half_edge % 2) as usize]
    }

    pub(super) fn place(&self, half_edge: u32) -> DVec2 {
        self.points[self.origin(half_edge) as usize]
    }

    fn walks(&self) -> Vec<Walk> {
        let pieces = pieces(self.points.len(), &self.edges);
        let mut seen = vec![false; self.next.len()];
        let mut walks = Vec::new();
        for start in self.half_edges() {
            let mut half_edges = Vec::new();
            let mut at = start;
            while !seen[at as usize] {
                seen[at as usize] = true;
                half_edges.push(at);
                at = self.next[at as usize];
            }
            if !half_edges.is_empty() {
                let places: Vec<DVec2> = half_edges.iter().map(|&at| self.place(at)).collect();
                let doubled_area = super::outline::doubled_area(&places);
                let piece = pieces[self.origin(start) as usize];
                walks.push(Walk {
                    bounds: bounds(&places),
                    half_edges,
                    places,
                    doubled_area,
                    piece,
                });
            }
        }
        walks
    }

    fn add_region(&mut self, outer: &Walk, holes: &[&Walk]) -> Result<(), TerrainError> {
        let number = index_of(self.regions.len());
        let start = self.triangles.len();
        for walk in holes.iter().copied().chain([outer]) {
            for &half_edge in &walk.half_edges {
                self.region[half_edge as usize] = number;
            }
        }
        match holes {
            [] if is_strictly_convex(&outer.places) => {
                let corner = |at: u32| outer.half_edges[at as usize];
                self.triangles
                    .extend(halving(outer.places.len()).iter().map(|face| face.map(corner)));
            }
            [hole] if is_strictly_convex(&outer.places) && hole.is_convex_hole() => {
                turn_around(outer, hole, &mut self.triangles);
            }
            _ => {
                let walks = holes.iter().copied().chain([outer]);
                let half_edges: Vec<u32> =
                    walks.flat_map(|walk| walk.half_edges.iter().copied()).collect();
                delaunay::cover(self, &half_edges)?;
            }
        }
        let triangles = start..self.triangles.len();
        let (mut widest, mut middle) = (f64::NEG_INFINITY, DVec2::ZERO);
        for triangle in &self.triangles[triangles.clone()] {
            let [a, b, c] = triangle.map(|corner| self.place(corner));
            let area = (b - a).perp_dot(c - a);
            if area > widest {
                (widest, middle) = (area, (a + b + c) / 3.0);
            }
        }
        let doubled: f64 =
            outer.doubled_area + holes.iter().map(|hole| hole.doubled_area).sum::<f64>();
        self.regions.push(Region { triangles, area: doubled / 2.0, middle });
        Ok(())
    }
}

impl Walk {
    fn is_convex_hole(&self) -> bool {
        let turned: Vec<DVec2> = self.places.iter().rev().copied().collect();
        is_strictly_convex(&turned)
    }
}

/// The smallest of the walks that go around another one.
fn smallest_around(walks: &[Walk], hole: &Walk) -> Option<usize> {
    let place = *hole.places.first()?;
    let mut best: Option<usize> = None;
    for (position, walk) in walks.iter().enumerate() {
        // The outer rim of a piece of the net lies on walks of the same piece, never in them.
        let around = walk.piece != hole.piece
            && walk.bounds[0].cmple(hole.bounds[0]).all()
            && walk.bounds[1].cmpge(hole.bounds[1]).all()
            && is_inside(&walk.places, place);
        if around && best.is_none_or(|best| walk.doubled_area < walks[best].doubled_area) {
            best = Some(position);
        }
    }
    best
}

/// For each point, the first of the points that edges join it to.
fn pieces(points: usize, edges: &[[u32; 2]]) -> Vec<u32> {
    let mut first: Vec<u32> = (0..index_of(points)).collect();
    let find = |first: &mut Vec<u32>, mut point: u32| {
        while first[point as usize] != point {
            first[point as usize] = first[first[point as usize] as usize];
            point = first[point as usize];
        }
        point
    };
    for &[a, b] in edges {
        let (a, b) = (find(&mut first, a), find(&mut first, b));
        let (low, high) = if a < b { (a, b) } else { (b, a) };
        first[high as usize] = low;
    }
    // Each entry points to a lower one, so one pass in order settles all.
    for point in 0..points {
        first[point] = first[first[point] as usize];
    }
    first
}

/// Takes away edges that end in nothing, again and again.
fn without_loose_ends(points: usize, mut edges: Vec<[u32; 2]>) -> Vec<[u32; 2]> {
    loop {
        let mut degree = vec![0_u32; points];
        for end in edges.iter().flatten() {
            degree[*end as usize] += 1;
        }
        let before = edges.len();
        edges.retain(|edge| edge.iter().all(|&end| degree[end as usize] > 1));
        if edges.len() == before {
            return edges;
        }
    }
}

/// For each half-edge, the one that follows it around the region on its left.
fn follow(points: &[DVec2], edges: &[[u32; 2]]) -> Vec<u32> {
    let count = index_of(2 * edges.len());
    let origin = |half_edge: u32| edges[(half_edge / 2) as usize][(half_edge % 2) as usize];
    let way = |half_edge: u32| {
        points[origin(half_edge ^ 1) as usize] - points[origin(half_edge) as usize]
    };
    let mut starts = vec![0_usize; points.len() + 1];
    for half_edge in 0..count {
        starts[origin(half_edge) as usize + 1] += 1;
    }
    for at in 1..starts.len() {
        starts[at] += starts[at - 1];
    }
    let mut leaving = vec![0_u32; count as usize];
    let mut fill = starts.clone();
    for half_edge in 0..count {
        let place = &mut fill[origin(half_edge) as usize];
        leaving[*place] = half_edge;
        *place += 1;
    }
    let mut next = vec![0; count as usize];
    for point in 0..points.len() {
        let around = &mut leaving[starts[point]..starts[point + 1]];
        around.sort_unstable_by(|&one, &other| {
            let (first, second) = (way(one), way(other));
            let upper = |way: DVec2| way.y > 0.0 || (way.y >= 0.0 && way.x > 0.0);
            upper(second).cmp(&upper(first)).then(0.0_f64.total_cmp(&first.perp_dot(second)))
        });
        // Coming in along a half-edge, the region on the left goes on along the one just clockwise of it.
        for (position, &half_edge) in around.iter().enumerate() {
            let clockwise = around[(position + around.len() - 1) % around.len()];
            next[(half_edge ^ 1) as usize] = clockwise;
        }
    }
    next
}

/// Covers the ring between two convex loops: both are run around together in the order of the directions of their
/// sides, so each side is joined to the corner of the other loop that is farthest out, or nearest, in its normal.
fn turn_around(outer: &Walk, hole: &Walk, triangles: &mut Vec<[u32; 3]>) {
    let inner: Vec<(DVec2, u32)> =
        hole.places.iter().copied().zip(hole.half_edges.iter().copied()).rev().collect();
    let outer: Vec<(DVec2, u32)> =
        outer.places.iter().copied().zip(outer.half_edges.iter().copied()).collect();
    let lowest = |walk: &[(DVec2, u32)]| {
        let mut best = 0;
        for at in 1..walk.len() {
            let (here, low) = (walk[at].0, walk[best].0);
            if here.y < low.y || (here.y <= low.y && here.x < low.x) {
                best = at;
            }
        }
        best
    };
    let (first, second) = (lowest(&outer), lowest(&inner));
    let out = |at: usize| outer[(first + at) % outer.len()];
    let inside = |at: usize| inner[(second + at) % inner.len()];
    let (mut at_out, mut at_in) = (0, 0);
    while at_out < outer.len() || at_in < inner.len() {
        let side_out = out(at_out + 1).0 - out(at_out).0;
        let side_in = inside(at_in + 1).0 - inside(at_in).0;
        let outer_first =
            at_in == inner.len() || (at_out < outer.len() && side_out.perp_dot(side_in) > 0.0);
        if outer_first {
            triangles.push([out(at_out).1, out(at_out + 1).1, inside(at_in).1]);
            at_out += 1;
        } else {
            triangles.push([inside(at_in + 1).1, inside(at_in).1, out(at_out).1]);
            at_in += 1;
        }
    }
}
