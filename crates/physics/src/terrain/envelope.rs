//! The deepest of all zones as one closed mesh.
//!
//! All lines of the zones are arranged in plan and triangulated; each region between lines belongs to the zone
//! that is deepest in it. Above each point of the plan stands a column of the depths that regions around it have
//! there. Floors and vertical walls take their corners from these columns only, and a wall between two regions
//! runs through every depth of the column at each of its ends: so the mesh is closed whatever rounding did.
#![expect(
    clippy::indexing_slicing,
    reason = "triangles, neighbours and columns are numbered by the same plan"
)]

use super::arrange::{NEAR, Net};
use super::patch::{Ground, Patch};
use super::{TerrainError, ZoneFault};
use crate::mesh::{Mesh, index_of, is_strictly_convex, larger, smaller, zigzag};
use glam::{DVec2, DVec3};
use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};

/// No neighbour, no owner, no point yet.
const NONE: u32 = u32::MAX;
/// A zone that makes less difference than this, in cubic metres, changes nothing: a cube of 0.1 mm.
const NO_DIFFERENCE: f64 = 1e-12;
/// Depths at one point are merged when rounding or merging points in plan explains their difference, but never
/// beyond this, in metres.
const LARGEST_MERGE: f64 = 1e-7;

/// The mesh and the part of it that is ground.
pub(super) struct Envelope {
    pub(super) mesh: Mesh,
    pub(super) floor: Vec<[DVec3; 3]>,
}

pub(super) fn envelope(grounds: &[Ground]) -> Result<Envelope, TerrainError> {
    let mut net = Net::default();
    for (position, ground) in grounds.iter().enumerate() {
        ground.draw(&mut net);
        for other in &grounds[..position] {
            ground.draw_crossings(other, &mut net);
        }
    }
    let net = net.arrange().map_err(|near| TerrainError::TooTangled { near })?;
    let plan = Plan::triangulate(net)?;
    let owners = plan.owners(grounds)?;
    let columns = Columns::stack(&plan, &owners);
    Ok(columns.build(&plan))
}

/// Triangles over the plan, counter-clockwise, and what lies across each of their sides.
struct Plan {
    points: Vec<DVec2>,
    triangles: Vec<[u32; 3]>,
    neighbours: Vec<[u32; 3]>,
    /// Whether a side is a line of the net.
    lines: Vec<[bool; 3]>,
}

impl Plan {
    /// Points are put in one by one in their order, because loading them in bulk leaves the choice among equal
    /// triangulations to a randomly ordered set.
    fn triangulate(net: Net) -> Result<Self, TerrainError> {
        let tangled = |near: DVec2| TerrainError::TooTangled { near };
        let mut mesh = ConstrainedDelaunayTriangulation::<Point2<f64>>::new();
        let mut handles = Vec::with_capacity(net.points.len());
        for &point in &net.points {
            let clean = |value: f64| if value.abs() < 1e-30 { 0.0 } else { value };
            let position = Point2::new(clean(point.x), clean(point.y));
            handles.push(mesh.insert(position).map_err(|_| tangled(point))?);
        }
        if mesh.num_vertices() != net.points.len() {
            return Err(tangled(net.points.first().copied().unwrap_or_default()));
        }
        for &[a, b] in &net.edges {
            let (from, to) = (handles[a as usize], handles[b as usize]);
            if mesh.try_add_constraint(from, to).is_empty() && !mesh.exists_constraint(from, to) {
                return Err(tangled(net.points[a as usize]));
            }
        }
        let count = mesh.num_inner_faces();
        let mut plan = Self {
            points: net.points,
            triangles: Vec::with_capacity(count),
            neighbours: Vec::with_capacity(count),
            lines: Vec::with_capacity(count),
        };
        for face in mesh.inner_faces() {
            let sides = face.adjacent_edges();
            plan.triangles.push(sides.map(|side| index_of(side.from().fix().index())));
            // Inner faces are numbered from 1, after the one outside.
            plan.neighbours.push(sides.map(|side| {
                let across = side.rev().face();
                if across.is_outer() { NONE } else { index_of(across.fix().index() - 1) }
            }));
            plan.lines.push(sides.map(|side| mesh.is_constraint_edge(side.as_undirected().fix())));
        }
        Ok(plan)
    }

    fn corners(&self, triangle: usize) -> [DVec2; 3] {
        self.triangles[triangle].map(|at| self.points[at as usize])
    }

    fn doubled_area(&self, triangle: usize) -> f64 {
        let [a, b, c] = self.corners(triangle);
        (b - a).perp_dot(c - a)
    }

    /// The deepest patch in each triangle; an error names a zone that makes no difference.
    fn owners<'a>(&self, grounds: &'a [Ground]) -> Result<Vec<Option<&'a Patch>>, TerrainError> {
        let mut owners = vec![None; self.triangles.len()];
        let mut seen = vec![false; self.triangles.len()];
        let mut difference = vec![0.0; grounds.len()];
        for start in 0..self.triangles.len() {
            if seen[start] {
                continue;
            }
            let region = self.region(start, &mut seen);
            // The largest triangle is the safest place to ask: slivers may lie across a merged line.
            let (mut widest, mut area) = (start, 0.0);
            for &triangle in &region {
                let doubled = self.doubled_area(triangle);
                area += doubled / 2.0;
                if doubled > self.doubled_area(widest) {
                    widest = triangle;
                }
            }
            let [a, b, c] = self.corners(widest);
            let middle = (a + b + c) / 3.0;
            let Some((zone, patch, lead)) = deepest(grounds, middle) else { continue };
            difference[zone] += area * lead;
            for triangle in region {
                owners[triangle] = Some(patch);
            }
        }
        // Of two alike, the later one is the one too many.
        match difference.iter().rposition(|&volume| volume < NO_DIFFERENCE) {
            Some(zone) => Err(TerrainError::Zone { zone, fault: ZoneFault::ChangesNothing }),
            None => Ok(owners),
        }
    }

    /// The triangles joined to one without crossing a line.
    fn region(&self, start: usize, seen: &mut [bool]) -> Vec<usize> {
        let mut region = vec![start];
        seen[start] = true;
        let mut next = 0;
        while let Some(&triangle) = region.get(next) {
            next += 1;
            for side in 0..3 {
                let across = self.neighbours[triangle][side];
                if across == NONE || self.lines[triangle][side] || seen[across as usize] {
                    continue;
                }
                seen[across as usize] = true;
                region.push(across as usize);
            }
        }
        region
    }
}

/// The zone that is deepest over a point, its patch, and by how much it leads the next.
fn deepest(grounds: &[Ground], point: DVec2) -> Option<(usize, &Patch, f64)> {
    let mut best: Option<(usize, &Patch, f64)> = None;
    let mut next = 0.0;
    for (zone, ground) in grounds.iter().enumerate() {
        let Some(patch) = ground.patch_over(point) else { continue };
        let depth = patch.depth_at(point);
        match best {
            Some((_, _, deepest)) if depth <= deepest => next = larger(next, depth),
            _ => {
                next = best.map_or(0.0, |(_, _, deepest)| deepest);
                best = Some((zone, patch, depth));
            }
        }
    }
    best.map(|(zone, patch, depth)| (zone, patch, depth - next))
}

/// The depths above each point of the plan, each column starting with the rail.
struct Columns {
    /// Where each point's column starts in `depths`; one more at the end.
    starts: Vec<u32>,
    depths: Vec<f64>,
    /// For each triangle, its place in the column of each corner; none outside.
    levels: Vec<Option<[u32; 3]>>,
}

impl Columns {
    fn stack(plan: &Plan, owners: &[Option<&Patch>]) -> Self {
        let mut corners: Vec<Vec<(f64, f64, u32)>> = vec![Vec::new(); plan.points.len()];
        for (triangle, owner) in owners.iter().enumerate() {
            let Some(patch) = owner else { continue };
            for (corner, &point) in plan.triangles[triangle].iter().enumerate() {
                let depth = patch.depth_at(plan.points[point as usize]);
                let slope = larger(patch.gradient.x.abs(), patch.gradient.y.abs());
                corners[point as usize].push((depth, slope, index_of(3 * triangle + corner)));
            }
        }
        let mut levels = vec![[0; 3]; owners.len()];
        let mut starts = Vec::with_capacity(plan.points.len() + 1);
        let mut depths = Vec::with_capacity(2 * plan.points.len());
        for column in &mut corners {
            starts.push(index_of(depths.len()));
            stack_column(column, &mut depths, &mut levels);
        }
        starts.push(index_of(depths.len()));
        let levels = owners.iter().zip(levels).map(|(owner, level)| {
            // A triangle that stays at the rail with all three corners holds nothing.
            (owner.is_some() && level != [0; 3]).then_some(level)
        });
        Self { levels: levels.collect(), starts, depths }
    }

    fn build(&self, plan: &Plan) -> Envelope {
        let mut builder = Builder {
            columns: self,
            plan,
            numbers: vec![NONE; self.depths.len()],
            mesh: Mesh { points: Vec::new(), faces: Vec::with_capacity(3 * plan.triangles.len()) },
        };
        let mut floor = Vec::with_capacity(plan.triangles.len());
        for triangle in 0..plan.triangles.len() {
            if let Some(levels) = self.levels[triangle] {
                let [a, b, c] = plan.triangles[triangle];
                let face = [(a, levels[0]), (c, levels[2]), (b, levels[1])];
                let face = face.map(|(point, level)| builder.point(point, level));
                builder.mesh.faces.push(face);
                floor.push(face.map(|at| builder.mesh.points[at as usize]));
            }
        }
        for triangle in 0..plan.triangles.len() {
            for side in 0..3 {
                builder.wall(triangle, side);
            }
        }
        builder.lid();
        Envelope { mesh: builder.mesh, floor }
    }
}

/// Merges the depths of one column into levels and tells each corner its level.
fn stack_column(column: &mut [(f64, f64, u32)], depths: &mut Vec<f64>, levels: &mut [[u32; 3]]) {
    column.sort_unstable_by(|one, other| one.0.total_cmp(&other.0).then(one.2.cmp(&other.2)));
    // The level is taken from the flattest of the merged: a floor's depth is exact. The rail is flat and first.
    let (mut level, mut last, mut flattest, mut steepest) = (0, 0.0, 0.0, 0.0);
    depths.push(0.0);
    for &(depth, slope, corner) in column.iter() {
        let merge = smaller(NEAR * (1.0 + 2.0 * larger(slope, steepest)), LARGEST_MERGE);
        if depth - last > merge {
            level += 1;
            depths.push(depth);
            (flattest, steepest) = (slope, slope);
        } else if slope < flattest {
            if let Some(top) = depths.last_mut() {
                *top = depth;
            }
            flattest = slope;
        }
        steepest = larger(steepest, slope);
        last = depth;
        levels[corner as usize / 3][corner as usize % 3] = level;
    }
}

struct Builder<'a> {
    columns: &'a Columns,
    plan: &'a Plan,
    /// The point of the mesh for each depth of the columns.
    numbers: Vec<u32>,
    mesh: Mesh,
}

impl Builder<'_> {
    fn point(&mut self, point: u32, level: u32) -> u32 {
        let place = (self.columns.starts[point as usize] + level) as usize;
        if self.numbers[place] == NONE {
            self.numbers[place] = index_of(self.mesh.points.len());
            let plan = self.plan.points[point as usize];
            // Not −0.0 at the rail, which would print as a sign.
            self.mesh.points.push(plan.extend(0.0 - self.columns.depths[place]));
        }
        self.numbers[place]
    }

    /// The vertical wall on a side of a triangle, drawn once, from the triangle with the smaller number.
    fn wall(&mut self, triangle: usize, side: usize) {
        let across = self.plan.neighbours[triangle][side];
        if across != NONE && (across as usize) < triangle {
            return;
        }
        let [u, v] = [side, (side + 1) % 3].map(|at| self.plan.triangles[triangle][at]);
        let near = self.columns.levels[triangle]
            .map_or([0, 0], |level| [level[side], level[(side + 1) % 3]]);
        let far = self.level_across(across, u, v);
        // The loop runs along the near floor from u to v, and back along the far one: one zigzag between two
        // columns, from the near levels to the far ones, up or down.
        let (mut at_u, mut at_v) = (near[0], near[1]);
        let step = |from: u32, to: u32| if to > from { from + 1 } else { from - 1 };
        while at_u != far[0] || at_v != far[1] {
            let (low, high) = (self.point(u, at_u), self.point(v, at_v));
            let left = (at_u.abs_diff(far[0]), at_v.abs_diff(far[1]));
            if left.0 >= left.1 {
                at_u = step(at_u, far[0]);
                let next = self.point(u, at_u);
                self.mesh.faces.push([low, high, next]);
            } else {
                at_v = step(at_v, far[1]);
                let next = self.point(v, at_v);
                self.mesh.faces.push([low, high, next]);
            }
        }
    }

    fn level_across(&self, across: u32, u: u32, v: u32) -> [u32; 2] {
        let Some((corners, levels)) = self
            .plan
            .triangles
            .get(across as usize)
            .zip(self.columns.levels.get(across as usize).copied().flatten())
        else {
            return [0, 0];
        };
        let level =
            |point: u32| corners.iter().position(|&at| at == point).map_or(0, |at| levels[at]);
        [level(u), level(v)]
    }

    /// The lid at the rail: a convex one from its rim alone, any other over the triangles of the plan.
    fn lid(&mut self) {
        if let Some(rim) = self.convex_rim() {
            for [a, b, c] in zigzag(rim.len()) {
                let face = [a, b, c].map(|at| self.point(rim[at as usize], 0));
                self.mesh.faces.push(face);
            }
            return;
        }
        for triangle in 0..self.plan.triangles.len() {
            if self.columns.levels[triangle].is_some() {
                let face = self.plan.triangles[triangle].map(|at| self.point(at, 0));
                self.mesh.faces.push(face);
            }
        }
    }

    /// The points around the terrain if they make one strictly convex loop.
    fn convex_rim(&self) -> Option<Vec<u32>> {
        let mut next = vec![NONE; self.plan.points.len()];
        let (mut count, mut start) = (0, None);
        for (triangle, corners) in self.plan.triangles.iter().enumerate() {
            if self.columns.levels[triangle].is_none() {
                continue;
            }
            for side in 0..3 {
                let across = self.plan.neighbours[triangle][side];
                if across != NONE && self.columns.levels[across as usize].is_some() {
                    continue;
                }
                let from = corners[side];
                if next[from as usize] != NONE {
                    return None;
                }
                next[from as usize] = corners[(side + 1) % 3];
                start = start.or(Some(from));
                count += 1;
            }
        }
        let start = start?;
        let mut rim = Vec::with_capacity(count);
        let mut at = start;
        while rim.len() < count && at != NONE {
            rim.push(at);
            at = next[at as usize];
            if at == start {
                break;
            }
        }
        let places: Vec<DVec2> = rim.iter().map(|&at| self.plan.points[at as usize]).collect();
        (rim.len() == count && is_strictly_convex(&places)).then_some(rim)
    }
}
