//! What is found in a body with a rail, whatever it was made from.

use crate::model::{Scene, body_of};
use crate::quantity::si;
use crate::reading::Unknown;
use glam::{DVec2, DVec3};
use std::sync::Arc;
use sumpwright_physics::level::OilSpace;
use sumpwright_physics::terrain::{Outline, Terrain};

/// Facets this near in depth are one floor, in metres: what a casting is uneven by.
const ONE_FLOOR: f64 = 3e-4;
/// The height of the unit normal of a facet that counts as level: within half a degree.
const LEVEL: f64 = 0.999_96;
/// A floor smaller than this share of the rail's area is not told.
const LEAST_SHARE: f64 = 0.02;
/// Rows of the table of volume over depth.
const ROWS: u32 = 8;
/// How far a corner of the rail may lie off the line that is written, in metres.
const OFF_THE_LINE: f64 = 5e-5;
/// How far below a floor the mouth of the zone below it is looked at, in metres.
const BELOW: f64 = 5e-4;

/// What was found; lengths in metres, areas in square metres, volumes in cubic metres.
#[derive(Debug)]
pub(super) struct Found {
    pub(super) rail: Vec<DVec2>,
    pub(super) rail_area: f64,
    pub(super) rail_bounds: [DVec2; 2],
    pub(super) deepest: DVec3,
    pub(super) volume: f64,
    /// From the shallowest down.
    pub(super) floors: Vec<Floor>,
    /// Depth, and what lies below it.
    pub(super) volumes: Vec<(f64, f64)>,
    pub(super) overhangs: bool,
    /// How far the floor may lie from the truth between soundings, on the average; 0 for a mesh.
    pub(super) doubt: f64,
}

/// A level floor.
#[derive(Debug, Clone)]
pub(super) struct Floor {
    pub(super) depth: f64,
    pub(super) area: f64,
    pub(super) bounds: [DVec2; 2],
    /// The rectangle round the level section just below the floor above it: where a zone with this floor opens.
    pub(super) mouth: [DVec2; 2],
    /// The depth of that mouth.
    pub(super) opens_at: f64,
}

pub(super) fn find(scene: &Scene) -> Result<Found, Unknown> {
    let rail = scene.rail()?;
    scene.with_terrain(|terrain| in_body(terrain, rail))
}

fn in_body(terrain: &Terrain, rail: &Outline) -> Result<Found, Unknown> {
    let corners = terrain.mesh().points.iter().copied();
    let deepest = corners.reduce(|a, b| if b.z < a.z { b } else { a }).unwrap_or_default();
    let space = OilSpace { parts: vec![(1.0, Arc::new(body_of(terrain.mesh())?))] };
    let volumes = (0..ROWS)
        .map(|row| {
            let depth = -deepest.z * f64::from(row) / f64::from(ROWS);
            (depth, space.below(DVec3::Z, si(-depth)).volume.value)
        })
        .collect();
    Ok(Found {
        rail: simplified(rail.points()),
        rail_area: rail.area().value,
        rail_bounds: rail.bounds(),
        deepest,
        volume: terrain.mesh().volume().value,
        floors: floors(terrain, rail),
        volumes,
        overhangs: terrain.has_undercuts(),
        doubt: terrain.doubt().value,
    })
}

fn floors(terrain: &Terrain, rail: &Outline) -> Vec<Floor> {
    let mut level: Vec<(f64, f64, [DVec2; 2])> = terrain
        .floor_faces()
        .iter()
        .filter_map(|&[a, b, c]| {
            let across = (b - a).cross(c - a);
            let plan = [a, b, c].map(DVec3::truncate);
            let bounds = [plan[0].min(plan[1]).min(plan[2]), plan[0].max(plan[1]).max(plan[2])];
            let flat = across.z <= -LEVEL * across.length() && across.z < 0.0;
            flat.then(|| (-(a.z + b.z + c.z) / 3.0, -across.z / 2.0, bounds))
        })
        .collect();
    level.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut floors: Vec<Floor> = Vec::new();
    for (depth, area, [low, high]) in level {
        match floors.last_mut() {
            Some(floor) if depth - floor.depth <= ONE_FLOOR => {
                // The mean depth by area.
                floor.depth += (depth - floor.depth) * area / (floor.area + area);
                floor.area += area;
                floor.bounds = [floor.bounds[0].min(low), floor.bounds[1].max(high)];
            }
            _ => floors.push(Floor {
                depth,
                area,
                bounds: [low, high],
                mouth: rail.bounds(),
                opens_at: 0.0,
            }),
        }
    }
    floors.retain(|floor| floor.area >= LEAST_SHARE * rail.area().value);
    let mut above = 0.0;
    for floor in &mut floors {
        if above > 0.0
            && let Some(mouth) = section_bounds(terrain, above + BELOW)
        {
            floor.mouth = mouth;
        }
        floor.opens_at = above;
        above = floor.depth;
    }
    floors
}

/// The rectangle round the level section at a depth.
fn section_bounds(terrain: &Terrain, depth: f64) -> Option<[DVec2; 2]> {
    let mesh = terrain.mesh();
    let faces = (0..mesh.faces.len()).filter_map(|face| mesh.corners(face));
    let ends = faces.flat_map(|[a, b, c]| {
        [[a, b], [b, c], [c, a]].into_iter().filter_map(move |[from, to]| {
            let (start, end) = (from.z + depth, to.z + depth);
            let crosses = (start > 0.0) != (end > 0.0);
            crosses.then(|| from.lerp(to, start / (start - end)).truncate())
        })
    });
    ends.map(|end| [end, end]).reduce(|[low, high], [end, _]| [low.min(end), high.max(end)])
}

/// A closed line with fewer corners, none of those left out farther off it than can be measured (Douglas and
/// Peucker 1973).
fn simplified(points: &[DVec2]) -> Vec<DVec2> {
    let Some(&first) = points.first() else { return Vec::new() };
    let far = points.iter().enumerate().fold((0, 0.0), |best, (at, point)| {
        let away = first.distance(*point);
        if away > best.1 { (at, away) } else { best }
    });
    let mut closed = points.to_vec();
    closed.push(first);
    let (one, other) = (closed.get(..=far.0), closed.get(far.0..));
    let mut kept = Vec::new();
    for half in [one, other].into_iter().flatten() {
        thin(half, &mut kept);
    }
    kept
}

/// Keeps the first corner of a stretch and those that the straight line to its end would miss.
fn thin(stretch: &[DVec2], kept: &mut Vec<DVec2>) {
    let ([first, .., last], true) = (stretch, stretch.len() > 2) else {
        kept.extend(stretch.first());
        return;
    };
    let along = (*last - *first).normalize_or_zero();
    let off = |point: &DVec2| along.perp_dot(*point - *first).abs();
    let worst = stretch.iter().enumerate().fold((0, 0.0), |best, (at, point)| {
        if off(point) > best.1 { (at, off(point)) } else { best }
    });
    if worst.1 <= OFF_THE_LINE {
        kept.push(*first);
    } else {
        thin(stretch.get(..=worst.0).unwrap_or_default(), kept);
        thin(stretch.get(worst.0..).unwrap_or_default(), kept);
    }
}
