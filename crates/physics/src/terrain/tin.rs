//! Triangles between soundings, with lines that they may not cross.
#![expect(
    clippy::indexing_slicing,
    reason = "points, handles and faces are numbered by the lists they come from"
)]

use super::beyond::{Known, Led};
use super::patch::{Patch, Plane};
use super::rim::{Rim, SAME_PLACE};
use super::soundings::{LineFault, SoundingsError};
use crate::mesh::{index_of, larger, smaller};
use glam::DVec2;
use spade::handles::FixedVertexHandle;
use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};
use std::collections::BTreeMap;

/// A sounding this near to a line between two others, in metres, lies on it: a tenth of what tells places apart.
const ON_LINE: f64 = SAME_PLACE / 10.0;

/// A triangulated floor.
pub(super) struct Tin {
    /// The soundings, then points of the outline without one.
    pub(super) points: Vec<DVec2>,
    pub(super) depths: Vec<f64>,
    /// How far each point is from the nearest place between soundings: 0 for the soundings.
    pub(super) beyond: Vec<f64>,
    /// Counter-clockwise.
    pub(super) faces: Vec<[u32; 3]>,
    /// Pairs of points, the lower first, in order: outline and lines.
    pub(super) fixed: Vec<[u32; 2]>,
}

pub(super) fn number(position: usize) -> u32 {
    index_of(position)
}

/// For each place the position of the first that lies within `near` of it.
pub(super) fn first_at_place(places: impl Iterator<Item = DVec2>, near: f64) -> Vec<usize> {
    let places: Vec<DVec2> = places.collect();
    let mut order: Vec<usize> = (0..places.len()).collect();
    order.sort_by(|&a, &b| places[a].x.total_cmp(&places[b].x).then(a.cmp(&b)));
    let mut first: Vec<usize> = (0..places.len()).collect();
    for (position, &at) in order.iter().enumerate() {
        for &earlier in order[..position].iter().rev() {
            if places[at].x - places[earlier].x > near {
                break;
            }
            if places[at].distance(places[earlier]) <= near {
                let (one, other) = (first[at], first[earlier]);
                let lower = if one < other { one } else { other };
                (first[at], first[earlier]) = (lower, lower);
            }
        }
    }
    // Each entry names a lower one or itself.
    for at in 0..first.len() {
        first[at] = first[first[at]];
    }
    first
}

/// Triangulates soundings and outline; the lines are pairs of soundings.
pub(super) fn triangulate(
    rim: Rim,
    depths: &[f64],
    stands_for: &[usize],
    lines: &[[usize; 2]],
) -> Result<Tin, SoundingsError> {
    let used: Vec<usize> = (0..rim.soundings).filter(|&at| stands_for[at] == at).collect();
    let (mut all, mut beyond) = (depths.to_vec(), vec![0.0; depths.len()]);
    let known = Known { places: &rim.places, depths, used: &used, stands_for, lines };
    for &place in &rim.places[rim.soundings..] {
        let Led { depth, distance } = known.led_on_to(place);
        all.push(depth);
        beyond.push(distance);
    }
    let points = rim.places;
    let mut mesh = Triangles::of(&points, rim.soundings, &used)?;
    let mut fixed: Vec<[u32; 2]> = Vec::new();
    let next = rim.chain.iter().cycle().skip(1);
    for pair in rim.chain.iter().zip(next).map(|(&from, &to)| [from, to]) {
        if mesh.fix(pair, None).is_err() {
            return Err(SoundingsError::TooTangled { near: points[pair[0] as usize] });
        }
        fixed.push(pair);
    }
    let known: Vec<u32> = used.iter().map(|&at| number(at)).chain(rim.chain.clone()).collect();
    let mut faults = Vec::new();
    for (line, ends) in lines.iter().enumerate() {
        let [Some(from), Some(to)] = ends.map(|end| stands_for.get(end).copied()) else { continue };
        for pair in pieces([number(from), number(to)], &points, &known) {
            match mesh.fix(pair, Some(line)) {
                Err(Crossed { with }) => faults.push(LineFault { line, with }),
                Ok(()) => fixed.push(pair),
            }
        }
    }
    faults.dedup();
    if !faults.is_empty() {
        return Err(SoundingsError::Lines(faults));
    }
    let faces = mesh.inside(&rim.chain).ok_or(SoundingsError::TooTangled { near: points[0] })?;
    for pair in &mut fixed {
        pair.sort_unstable();
    }
    fixed.sort_unstable();
    fixed.dedup();
    Ok(Tin { points, depths: all, beyond, faces, fixed })
}

/// The stretches of a line between the points that lie on it.
fn pieces([from, to]: [u32; 2], points: &[DVec2], known: &[u32]) -> Vec<[u32; 2]> {
    let (start, end) = (points[from as usize], points[to as usize]);
    let length = start.distance(end);
    if from == to || length <= 0.0 {
        return Vec::new();
    }
    let way = (end - start) / length;
    let margin = DVec2::splat(ON_LINE);
    let (low, high) = (start.min(end) - margin, start.max(end) + margin);
    let mut stops: Vec<(f64, u32)> = vec![(0.0, from), (length, to)];
    for &at in known.iter().filter(|&&at| at != from && at != to) {
        let place = points[at as usize];
        if place.cmplt(low).any() || place.cmpgt(high).any() {
            continue;
        }
        let along = (place - start).dot(way);
        if along > 0.0 && along < length && way.perp_dot(place - start).abs() <= ON_LINE {
            stops.push((along, at));
        }
    }
    stops.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)));
    stops.dedup_by_key(|stop| stop.1);
    stops.windows(2).map(|pair| [pair[0].1, pair[1].1]).collect()
}

/// A line that crosses one that is fixed already: whose, or the outline's.
struct Crossed {
    with: Option<usize>,
}

/// A triangulation under way.
struct Triangles {
    mesh: ConstrainedDelaunayTriangulation<Point2<f64>>,
    handles: Vec<Option<FixedVertexHandle>>,
    numbers: Vec<u32>,
    /// The line that each fixed edge belongs to, by its handles; none for the outline.
    owner: BTreeMap<[usize; 2], Option<usize>>,
}

impl Triangles {
    fn of(points: &[DVec2], soundings: usize, used: &[usize]) -> Result<Self, SoundingsError> {
        let mut order: Vec<usize> = used.iter().copied().chain(soundings..points.len()).collect();
        along_strips(&mut order, points);
        let mut made = Self {
            mesh: ConstrainedDelaunayTriangulation::new(),
            handles: vec![None; points.len()],
            numbers: Vec::with_capacity(order.len()),
            owner: BTreeMap::new(),
        };
        for at in order {
            let near = points[at];
            // The triangulation does not take numbers so small that their products vanish.
            let clean = |value: f64| if value.abs() < 1e-30 { 0.0 } else { value };
            let handle = made.mesh.insert(Point2::new(clean(near.x), clean(near.y)));
            let handle = handle.map_err(|_| SoundingsError::TooTangled { near })?;
            if handle.index() != made.numbers.len() {
                return Err(SoundingsError::TooTangled { near });
            }
            made.handles[at] = Some(handle);
            made.numbers.push(number(at));
        }
        Ok(made)
    }

    /// Makes a line an edge, unless it crosses one that is fixed already.
    fn fix(&mut self, pair: [u32; 2], line: Option<usize>) -> Result<(), Crossed> {
        let [Some(from), Some(to)] = pair.map(|at| self.handles[at as usize]) else {
            return Ok(());
        };
        if from == to || self.mesh.exists_constraint(from, to) {
            return Ok(());
        }
        let made = self.mesh.try_add_constraint(from, to);
        if made.is_empty() {
            let crossed = self.mesh.get_conflicting_edges_between_vertices(from, to);
            let keys = crossed.map(|edge| {
                let (one, other) = (edge.from().fix().index(), edge.to().fix().index());
                if one < other { [one, other] } else { [other, one] }
            });
            let mut owners = keys.filter_map(|key| self.owner.get(&key).copied());
            return Err(Crossed { with: owners.next().flatten() });
        }
        for edge in made {
            let edge = self.mesh.directed_edge(edge);
            let (one, other) = (edge.from().fix().index(), edge.to().fix().index());
            self.owner.insert(if one < other { [one, other] } else { [other, one] }, line);
        }
        Ok(())
    }

    /// The faces on the left of a closed chain of fixed edges; none if an edge of it is not there.
    fn inside(&self, chain: &[u32]) -> Option<Vec<[u32; 3]>> {
        let mut seen = vec![false; self.mesh.num_all_faces()];
        let is_outline = |key: &[usize; 2]| self.owner.get(key).is_some_and(Option::is_none);
        let mut waiting = Vec::new();
        for (&from, &to) in chain.iter().zip(chain.iter().cycle().skip(1)) {
            let (from, to) = (self.handles[from as usize]?, self.handles[to as usize]?);
            let face = self.mesh.get_edge_from_neighbors(from, to)?.face().as_inner()?;
            if !seen[face.fix().index()] {
                seen[face.fix().index()] = true;
                waiting.push(face);
            }
        }
        let mut faces = Vec::new();
        while let Some(face) = waiting.pop() {
            let sides = face.adjacent_edges();
            faces.push(sides.map(|side| self.numbers[side.from().fix().index()]));
            for side in sides {
                let (one, other) = (side.from().fix().index(), side.to().fix().index());
                let key = if one < other { [one, other] } else { [other, one] };
                if is_outline(&key) {
                    continue;
                }
                let Some(across) = side.rev().face().as_inner() else { continue };
                if !seen[across.fix().index()] {
                    seen[across.fix().index()] = true;
                    waiting.push(across);
                }
            }
        }
        Some(faces)
    }
}

/// Puts points in an order in which neighbours follow each other: up and down strips.
fn along_strips(order: &mut [usize], points: &[DVec2]) {
    let (mut low, mut high) = (DVec2::splat(f64::INFINITY), DVec2::splat(f64::NEG_INFINITY));
    for &at in order.iter() {
        (low, high) = (low.min(points[at]), high.max(points[at]));
    }
    let count = (order.len() as f64 / 2.0).sqrt().ceil();
    let strip =
        |at: usize| ((points[at].x - low.x) / larger(high.x - low.x, 1e-12) * count).floor();
    order.sort_by(|&one, &other| {
        let (first, second) = (strip(one), strip(other));
        let up = points[one].y.total_cmp(&points[other].y);
        let up = if first % 2.0 >= 1.0 { up.reverse() } else { up };
        first.total_cmp(&second).then(up).then(one.cmp(&other))
    });
}

impl Tin {
    /// The depth gradient over a face, in metres for each metre of plan.
    pub(super) fn gradient(&self, face: [u32; 3]) -> DVec2 {
        let [a, b, c] = face.map(|at| self.points[at as usize]);
        let [of_a, of_b, of_c] = face.map(|at| self.depths[at as usize]);
        let doubled = (b - a).perp_dot(c - a);
        // Each corner's share of the depth grows along the inward normal of the side that faces it; the three normals
        // cancel, so depths are taken from that of one corner.
        ((c - b).perp() * (of_a - of_b) + (b - a).perp() * (of_c - of_b)) / doubled
    }

    pub(super) fn doubled_area(&self, face: [u32; 3]) -> f64 {
        let [a, b, c] = face.map(|at| self.points[at as usize]);
        (b - a).perp_dot(c - a)
    }

    /// A plane piece for each face.
    pub(super) fn patches(&self) -> Vec<Patch> {
        let mut patches = Vec::with_capacity(self.faces.len());
        for &face in &self.faces {
            let depths = face.map(|at| self.depths[at as usize]);
            let polygon: Vec<DVec2> = face.iter().map(|&at| self.points[at as usize]).collect();
            let gradient = self.gradient(face);
            let plane = Plane { anchor: polygon[0], depth: depths[0], gradient };
            let least = depths.iter().copied().fold(f64::INFINITY, smaller);
            let greatest = depths.iter().copied().fold(0.0, larger);
            patches.push(plane.patch(polygon, [least, greatest]));
        }
        patches
    }

    /// Every edge once, the lower point first, in order.
    pub(super) fn edges(&self) -> Vec<[u32; 2]> {
        let mut edges: Vec<[u32; 2]> = self
            .faces
            .iter()
            .flat_map(|&[a, b, c]| [[a, b], [b, c], [c, a]])
            .map(|[from, to]| if from < to { [from, to] } else { [to, from] })
            .collect();
        edges.sort_unstable();
        edges.dedup();
        edges
    }
}
