//! The deepest of all zones as one closed mesh.
//!
//! Each region between the lines of the zones belongs to the zone that is deepest in it. Above each point of the
//! plan stands a column of the depths that regions around it have there. Floors and vertical walls take their
//! corners from these columns only, and a wall between two regions runs through every depth of the column at each
//! of its ends: so the mesh is closed whatever rounding did.
#![expect(
    clippy::indexing_slicing,
    reason = "half-edges, regions and columns are numbered by the same plan"
)]

use super::arrange::{NEAR, Net};
use super::patch::{Ground, Patch};
use super::plan::{NONE, Plan};
use super::{TerrainError, ZoneFault};
use crate::mesh::{Mesh, halving, index_of, is_strictly_convex, larger, smaller};
use glam::{DVec2, DVec3};

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
    let plan = Plan::of(net)?;
    let owners = owners(&plan, grounds)?;
    Ok(Builder::new(&plan, &owners).build())
}

/// The deepest patch in each region; an error names a zone that makes no difference.
fn owners<'a>(plan: &Plan, grounds: &'a [Ground]) -> Result<Vec<Option<&'a Patch>>, TerrainError> {
    let mut difference = vec![0.0; grounds.len()];
    let mut owners = Vec::with_capacity(plan.regions.len());
    for region in &plan.regions {
        let found = deepest(grounds, region.middle);
        if let Some((zone, _, lead)) = found {
            difference[zone] += region.area * lead;
        }
        owners.push(found.map(|(_, patch, _)| patch));
    }
    // Of two alike, the later one is the one too many.
    match difference.iter().rposition(|&volume| volume < NO_DIFFERENCE) {
        Some(zone) => Err(TerrainError::Zone { zone, fault: ZoneFault::ChangesNothing }),
        None => Ok(owners),
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

/// How deep a region is at one of its corners.
#[derive(Clone, Copy)]
struct Corner {
    depth: f64,
    /// How steep the region is there: how far a place merged in plan may have moved the depth.
    slope: f64,
    half_edge: u32,
}

struct Builder<'a> {
    plan: &'a Plan,
    /// Where each point's column starts in `depths`; each starts with the rail.
    starts: Vec<u32>,
    depths: Vec<f64>,
    /// For each half-edge, the place in the column of its origin of its region's ground; 0 outside.
    levels: Vec<u32>,
    /// Whether a region lies below the rail.
    holds: Vec<bool>,
    /// The point of the mesh for each depth of the columns.
    numbers: Vec<u32>,
    mesh: Mesh,
}

impl<'a> Builder<'a> {
    fn new(plan: &'a Plan, owners: &[Option<&Patch>]) -> Self {
        let mut corners: Vec<Corner> = Vec::with_capacity(plan.next.len());
        for half_edge in plan.half_edges() {
            let region = plan.region[half_edge as usize];
            let owner = owners.get(region as usize).copied().flatten();
            let point = plan.place(half_edge);
            // Without ground the corner stays at the rail, as one of a flat region there would.
            let depth = owner.map_or(0.0, |patch| patch.depth_at(point));
            let slope = owner.map_or(0.0, |patch| {
                let gradient = patch.gradient();
                larger(gradient.x.abs(), gradient.y.abs())
            });
            corners.push(Corner { depth, slope, half_edge });
        }
        corners.sort_unstable_by(|one, other| {
            let point = plan.origin(one.half_edge).cmp(&plan.origin(other.half_edge));
            point.then(one.depth.total_cmp(&other.depth)).then(one.half_edge.cmp(&other.half_edge))
        });
        let mut levels = vec![0; corners.len()];
        let mut starts = vec![NONE; plan.points.len()];
        let mut depths = Vec::with_capacity(2 * plan.points.len());
        for column in
            corners.chunk_by(|one, next| plan.origin(one.half_edge) == plan.origin(next.half_edge))
        {
            starts[plan.origin(column[0].half_edge) as usize] = index_of(depths.len());
            stack(column, &mut depths, &mut levels);
        }
        let mut holds = vec![false; owners.len()];
        for half_edge in plan.half_edges() {
            let region = plan.region[half_edge as usize];
            if region != NONE && levels[half_edge as usize] > 0 {
                holds[region as usize] = true;
            }
        }
        let mesh = Mesh {
            points: Vec::with_capacity(depths.len()),
            faces: Vec::with_capacity(2 * plan.next.len()),
        };
        Self { plan, starts, numbers: vec![NONE; depths.len()], depths, levels, holds, mesh }
    }

    fn build(mut self) -> Envelope {
        let mut floor = Vec::with_capacity(self.plan.triangles.len());
        for (region, holds) in self.plan.regions.iter().zip(self.holds.clone()) {
            if !holds {
                continue;
            }
            for &[a, b, c] in &self.plan.triangles[region.triangles.clone()] {
                let face = [a, c, b].map(|corner| self.ground(corner));
                self.mesh.faces.push(face);
                floor.push(face.map(|at| self.mesh.points[at as usize]));
            }
        }
        for half_edge in self.plan.half_edges().step_by(2) {
            self.wall(half_edge);
        }
        self.lid();
        Envelope { mesh: self.mesh, floor }
    }

    fn holds(&self, half_edge: u32) -> bool {
        let region = self.plan.region[half_edge as usize];
        region != NONE && self.holds[region as usize]
    }

    /// The point of the mesh where a region's ground stands at one of its corners.
    fn ground(&mut self, corner: u32) -> u32 {
        self.point(self.plan.origin(corner), self.levels[corner as usize])
    }

    fn point(&mut self, point: u32, level: u32) -> u32 {
        let place = (self.starts[point as usize] + level) as usize;
        if self.numbers[place] == NONE {
            self.numbers[place] = index_of(self.mesh.points.len());
            let plan = self.plan.points[point as usize];
            // Not −0.0 at the rail, which would print as a sign.
            self.mesh.points.push(plan.extend(0.0 - self.depths[place]));
        }
        self.numbers[place]
    }

    /// The vertical wall between the two regions along an edge.
    fn wall(&mut self, half_edge: u32) {
        let (left, right) = (half_edge, half_edge ^ 1);
        let after = |half_edge: u32| self.plan.next[half_edge as usize];
        let level = |corner: u32| self.levels[corner as usize];
        let (u, v) = (self.plan.origin(left), self.plan.origin(right));
        let (mut at_u, mut at_v) = (level(left), level(after(left)));
        let (to_u, to_v) = (level(after(right)), level(right));
        // The loop runs along the left ground from u to v, and back along the right one: a zigzag between two
        // columns, from the left levels to the right ones, up or down.
        let step = |from: u32, to: u32| if to > from { from + 1 } else { from - 1 };
        while at_u != to_u || at_v != to_v {
            let (from_u, from_v) = (self.point(u, at_u), self.point(v, at_v));
            let next = if at_u.abs_diff(to_u) >= at_v.abs_diff(to_v) {
                at_u = step(at_u, to_u);
                self.point(u, at_u)
            } else {
                at_v = step(at_v, to_v);
                self.point(v, at_v)
            };
            self.mesh.faces.push([from_u, from_v, next]);
        }
    }

    /// The lid at the rail: a convex one from its rim alone, any other over the triangles of the plan.
    fn lid(&mut self) {
        if let Some(rim) = self.convex_rim() {
            for triangle in halving(rim.len()) {
                let face = triangle.map(|at| self.point(rim[at as usize], 0));
                self.mesh.faces.push(face);
            }
            return;
        }
        for (region, holds) in self.plan.regions.iter().zip(self.holds.clone()) {
            if !holds {
                continue;
            }
            for triangle in &self.plan.triangles[region.triangles.clone()] {
                let face = triangle.map(|corner| self.point(self.plan.origin(corner), 0));
                self.mesh.faces.push(face);
            }
        }
    }

    /// The points around all that lies below the rail if they make one strictly convex loop.
    fn convex_rim(&self) -> Option<Vec<u32>> {
        let mut next = vec![NONE; self.plan.points.len()];
        let (mut count, mut start) = (0, None);
        for half_edge in self.plan.half_edges() {
            if !self.holds(half_edge) || self.holds(half_edge ^ 1) {
                continue;
            }
            let from = self.plan.origin(half_edge);
            if next[from as usize] != NONE {
                return None;
            }
            next[from as usize] = self.plan.origin(half_edge ^ 1);
            start = start.or(Some(from));
            count += 1;
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

/// Merges the depths of one column, from the rail down, into levels and tells each corner its level.
fn stack(column: &[Corner], depths: &mut Vec<f64>, levels: &mut [u32]) {
    // The level is taken from the flattest of the merged: a floor's depth is exact. The rail is flat and first.
    let (mut level, mut last, mut flattest, mut steepest) = (0, 0.0, 0.0, 0.0);
    depths.push(0.0);
    for &Corner { depth, slope, half_edge } in column {
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
        levels[half_edge as usize] = level;
    }
}
