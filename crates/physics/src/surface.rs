//! A closed surface as oil sees it: heights, neighbours, the nearest point, and what lies straight below.

#![expect(
    clippy::indexing_slicing,
    reason = "every index is a corner or a face number, and `Surface::new` has checked that each face's corners exist"
)]

use crate::mesh::Mesh;
use core::ops::Range;
use glam::{DVec2, DVec3};
use std::sync::Arc;

/// Heights closer than this share of the interior's extent count as one. Rounding leaves about 1e-15 of it after a
/// rotation; a dent this deep in a pan holds less than a thousandth of a drop.
const SAME_HEIGHT: f64 = 1.0e-9;

/// A face is upright, neither floor nor ceiling, when its slope is within this many radians of the vertical.
const UPRIGHT: f64 = 1.0e-9;

/// How far outside a face, as a share of it, a line may pass and still meet it: no line slips between two faces.
const EDGE_SHARE: f64 = 1.0e-9;

/// How far the length of the direction up may be from one.
const UNIT_ERROR: f64 = 1.0e-9;

/// What a line straight down meets first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Below {
    /// This face, with oil above it.
    Floor(usize),
    /// A face with oil below it, so that the line starts outside.
    Ceiling,
    /// Nothing.
    Nothing,
}

/// Why a mesh is no closed surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum SurfaceError {
    /// There are no faces.
    Empty,
    /// A position or direction is not a finite number.
    NotFinite,
    /// Up is not of length one.
    UpNotUnit,
    /// This face names a corner that is not there.
    MissingCorner { face: usize },
    /// The surface is open, or turned against itself, along this edge.
    OpenEdge { from: DVec3, to: DVec3 },
    /// The faces look inward.
    InsideOut,
}

/// A closed surface with the height of each corner along `up`. What does not turn is shared by its copies.
#[derive(Debug, Clone)]
pub(crate) struct Surface {
    pub(crate) points: Arc<[DVec3]>,
    pub(crate) faces: Arc<[[usize; 3]]>,
    /// The area of each face as a vector out of the oil.
    areas: Arc<[DVec3]>,
    pub(crate) heights: Vec<f64>,
    pub(crate) up: DVec3,
    /// Heights closer than this count as one.
    pub(crate) tolerance: f64,
    /// Corner by corner the first of its neighbours, and the end of all.
    starts: Arc<[usize]>,
    /// The corners at the other ends of each corner's edges, in order.
    ends: Arc<[usize]>,
}

impl Surface {
    /// Checks the mesh and lists its edges.
    pub(crate) fn new(mesh: &Mesh, up: DVec3) -> Result<Self, SurfaceError> {
        if !mesh.points.iter().all(|point| point.is_finite()) {
            return Err(SurfaceError::NotFinite);
        }
        let faces = checked_faces(mesh)?;
        let edges = checked_edges(&faces, &mesh.points)?;
        let mut surface = Self::linked(mesh.points.clone(), faces, edges);
        surface.turn(up)?;
        if surface.volume() > 0.0 { Ok(surface) } else { Err(SurfaceError::InsideOut) }
    }

    /// A surface of faces whose corners exist and which need not be closed; level until it is turned.
    pub(crate) fn of_faces(points: Vec<DVec3>, faces: Vec<[usize; 3]>) -> Self {
        let sides = faces.iter().flat_map(|&[a, b, c]| [(a, b), (b, c), (c, a)]);
        let edges: Vec<_> = sides.flat_map(|(from, to)| [(from, to), (to, from)]).collect();
        let mut edges = in_order(&edges, points.len());
        edges.dedup();
        let mut surface = Self::linked(points, faces, edges);
        surface.heights = surface.points.iter().map(|point| point.z).collect();
        surface
    }

    /// Lists the edges by corner; no heights yet.
    fn linked(points: Vec<DVec3>, faces: Vec<[usize; 3]>, edges: Vec<(usize, usize)>) -> Self {
        let mut starts = vec![0; points.len() + 1];
        for &(from, _) in &edges {
            starts[from + 1] += 1;
        }
        for corner in 0..points.len() {
            starts[corner + 1] += starts[corner];
        }
        let low = points.iter().copied().fold(DVec3::INFINITY, DVec3::min);
        let high = points.iter().copied().fold(DVec3::NEG_INFINITY, DVec3::max);
        let tolerance = SAME_HEIGHT * low.distance(high);
        let area = |corners: &[usize; 3]| {
            let [a, b, c] = corners.map(|corner| points[corner]);
            (b - a).cross(c - a) * 0.5
        };
        Self {
            areas: faces.iter().map(area).collect(),
            points: points.into(),
            faces: faces.into(),
            heights: Vec::new(),
            up: DVec3::Z,
            tolerance,
            starts: starts.into(),
            ends: edges.into_iter().map(|(_, to)| to).collect(),
        }
    }

    /// Takes another direction as up.
    pub(crate) fn turn(&mut self, up: DVec3) -> Result<(), SurfaceError> {
        if !up.is_finite() {
            return Err(SurfaceError::NotFinite);
        }
        if (up.length() - 1.0).abs() > UNIT_ERROR {
            return Err(SurfaceError::UpNotUnit);
        }
        self.up = up;
        self.heights.clear();
        self.heights.extend(self.points.iter().map(|point| up.dot(*point)));
        Ok(())
    }

    /// The corners at the other ends of a corner's edges.
    pub(crate) fn neighbours(&self, corner: usize) -> impl Iterator<Item = usize> + '_ {
        self.ends[self.starts[corner]..self.starts[corner + 1]].iter().copied()
    }

    /// Whether a corner belongs to any face.
    pub(crate) fn is_used(&self, corner: usize) -> bool {
        self.starts[corner] < self.starts[corner + 1]
    }

    /// Lower, or as low and earlier in the list: of any two corners one is lower, level floors included.
    pub(crate) fn is_lower(&self, corner: usize, other: usize) -> bool {
        let (height, than) = (self.heights[corner], self.heights[other]);
        height < than || (height <= than && corner < other)
    }

    /// The lowest corner of a face.
    pub(crate) fn lowest(&self, face: usize) -> usize {
        let [a, b, c] = self.faces[face];
        let lower = if self.is_lower(b, a) { b } else { a };
        if self.is_lower(c, lower) { c } else { lower }
    }

    /// The corners of a face.
    pub(crate) fn corners(&self, face: usize) -> [DVec3; 3] {
        self.faces[face].map(|corner| self.points[corner])
    }

    /// The area of a face as a vector out of the oil.
    pub(crate) fn area_vector(&self, face: usize) -> DVec3 {
        self.areas[face]
    }

    /// The heights of a face's corners, the least first.
    pub(crate) fn heights_of(&self, face: usize) -> [f64; 3] {
        let [a, b, c] = self.faces[face].map(|corner| self.heights[corner]);
        let sorted = |one: f64, other: f64| {
            if other.total_cmp(&one).is_lt() { (other, one) } else { (one, other) }
        };
        let (a, b) = sorted(a, b);
        let (b, c) = sorted(b, c);
        let (a, b) = sorted(a, b);
        [a, b, c]
    }

    /// What a face adds to the volume below a level.
    pub(crate) fn volume_below(&self, face: usize, level: f64) -> f64 {
        let z = self.heights_of(face).map(|height| height - level);
        self.area_vector(face).dot(self.up) * mean_depth(z)
    }

    /// For a corner without lower neighbours: positive where oil lies above it, negative where it hangs into oil.
    ///
    /// Just above the corner, at a rise δ, its faces cut off a volume −δ³/3 Σ s/((z₁ − z)(z₂ − z)): that of the oil, or
    /// minus that of the solid. Equal heights are held apart by the tolerance, so that level faces decide. Looking down
    /// from every such corner would find the same, since one with oil above it stands on its own floor, but a level
    /// floor has thousands of them. Only of the corners asked for.
    pub(crate) fn openings(&self, asked: &[bool]) -> Vec<f64> {
        let mut opening = vec![0.0; self.points.len()];
        for (face, &[a, b, c]) in self.faces.iter().enumerate() {
            if !(asked[a] || asked[b] || asked[c]) {
                continue;
            }
            let slope = self.area_vector(face).dot(self.up);
            for (corner, one, other) in [(a, b, c), (b, c, a), (c, a, b)] {
                opening[corner] -= slope / (self.rise(corner, one) * self.rise(corner, other));
            }
        }
        opening
    }

    /// How much higher another corner lies, and never less than the tolerance.
    pub(crate) fn rise(&self, corner: usize, to: usize) -> f64 {
        let rise = self.heights[to] - self.heights[corner];
        if rise > self.tolerance { rise } else { self.tolerance }
    }

    /// The point of the surface nearest to `place`, and its face; the first of several.
    pub(crate) fn nearest(&self, place: DVec3) -> (DVec3, usize) {
        self.nearest_among(place, 0..self.faces.len())
    }

    /// The same among a stretch of the faces.
    pub(crate) fn nearest_among(&self, place: DVec3, faces: Range<usize>) -> (DVec3, usize) {
        let mut found = (place, faces.start);
        let mut least = f64::INFINITY;
        for (face, corners) in faces.clone().zip(&self.faces[faces]) {
            let corners = corners.map(|corner| self.points[corner]);
            if outside(place, &corners) >= least {
                continue;
            }
            let point = nearest_on_triangle(place, corners);
            let distance = point.distance_squared(place);
            if distance < least {
                least = distance;
                found = (point, face);
            }
        }
        found
    }

    /// What a line straight down from `start` meets first. A floor counts from the start on, a ceiling only clear of it.
    pub(crate) fn below(&self, start: DVec3) -> Below {
        self.below_among(start, 0..self.faces.len())
    }

    /// The same among a stretch of the faces.
    pub(crate) fn below_among(&self, start: DVec3, faces: Range<usize>) -> Below {
        let (east, north) = self.up.any_orthonormal_pair();
        let mut found = Below::Nothing;
        let mut highest = f64::NEG_INFINITY;
        for (face, corners) in faces.clone().zip(&self.faces[faces]) {
            let arms = corners.map(|corner| self.points[corner] - start);
            let flat = arms.map(|arm| DVec2::new(arm.dot(east), arm.dot(north)));
            let Some(weights) = weights_at_origin(flat) else { continue };
            let area = self.area_vector(face);
            let slope = area.dot(self.up);
            if slope.abs() <= UPRIGHT * area.length() {
                continue;
            }
            let climb =
                self.up.dot(arms[0] * weights[0] + arms[1] * weights[1] + arms[2] * weights[2]);
            let is_floor = slope < 0.0;
            let reach = if is_floor { self.tolerance } else { -self.tolerance };
            if climb <= reach && climb > highest {
                highest = climb;
                found = if is_floor { Below::Floor(face) } else { Below::Ceiling };
            }
        }
        found
    }

    /// The enclosed volume, from the first corner so that the place of the origin does not matter.
    fn volume(&self) -> f64 {
        let middle = self.points[self.faces[0][0]];
        let cone = |face: usize| {
            self.area_vector(face).dot(self.points[self.faces[face][0]] - middle) / 3.0
        };
        (0..self.faces.len()).map(cone).sum()
    }
}

/// The mean, over a triangle, of the height of what lies below zero, from its corners' heights in order.
fn mean_depth([a, b, c]: [f64; 3]) -> f64 {
    let mean = (a + b + c) / 3.0;
    if c <= 0.0 {
        mean
    } else if a >= 0.0 {
        0.0
    } else if b >= 0.0 {
        a / (a - b) * a / (a - c) * a / 3.0
    } else {
        mean - c / (c - a) * c / (c - b) * c / 3.0
    }
}

fn checked_faces(mesh: &Mesh) -> Result<Vec<[usize; 3]>, SurfaceError> {
    let mut faces = Vec::with_capacity(mesh.faces.len());
    for (face, corners) in mesh.faces.iter().enumerate() {
        let corners = corners.map(|corner| corner as usize);
        if corners.iter().any(|&corner| corner >= mesh.points.len()) {
            return Err(SurfaceError::MissingCorner { face });
        }
        faces.push(corners);
    }
    if faces.is_empty() { Err(SurfaceError::Empty) } else { Ok(faces) }
}

/// Both directions of every edge, in order. A closed surface runs along each edge as often one way as the other.
fn checked_edges(
    faces: &[[usize; 3]],
    points: &[DVec3],
) -> Result<Vec<(usize, usize)>, SurfaceError> {
    let edges: Vec<_> = faces.iter().flat_map(|&[a, b, c]| [(a, b), (b, c), (c, a)]).collect();
    let turned: Vec<_> = edges.iter().map(|&(from, to)| (to, from)).collect();
    let [edges, turned] = [edges, turned].map(|edges| in_order(&edges, points.len()));
    match edges.iter().zip(&turned).find(|(edge, other)| edge != other) {
        None => Ok(edges),
        Some((edge, other)) => {
            let &(from, to) = if edge < other { edge } else { other };
            Err(SurfaceError::OpenEdge { from: points[from], to: points[to] })
        }
    }
}

/// Edges in order: into one box for each corner that they begin at, and each box by itself, which holds few.
fn in_order(edges: &[(usize, usize)], corners: usize) -> Vec<(usize, usize)> {
    let mut starts = vec![0; corners + 1];
    for &(from, _) in edges {
        starts[from + 1] += 1;
    }
    for corner in 0..corners {
        starts[corner + 1] += starts[corner];
    }
    let (mut next, mut sorted) = (starts.clone(), vec![(0, 0); edges.len()]);
    for &(from, to) in edges {
        sorted[next[from]] = (from, to);
        next[from] += 1;
    }
    for corner in 0..corners {
        sorted[starts[corner]..starts[corner + 1]].sort_unstable();
    }
    sorted
}

/// The squared distance of a place from the box round a triangle: no point of it is nearer.
fn outside(place: DVec3, [a, b, c]: &[DVec3; 3]) -> f64 {
    let (low, high) = (a.min(*b).min(*c), a.max(*b).max(*c));
    place.distance_squared(place.clamp(low, high))
}

/// The weights of a triangle's corners that give the origin, if it lies within.
fn weights_at_origin([a, b, c]: [DVec2; 3]) -> Option<[f64; 3]> {
    let parts = [b.perp_dot(c), c.perp_dot(a), a.perp_dot(b)];
    let whole = parts[0] + parts[1] + parts[2];
    let weights = parts.map(|part| part / whole);
    weights.iter().all(|weight| *weight >= -EDGE_SHARE).then_some(weights)
}

/// The point of a triangle nearest to `place`: the foot of the perpendicular if it falls within, else on an edge.
fn nearest_on_triangle(place: DVec3, [a, b, c]: [DVec3; 3]) -> DVec3 {
    let normal = (b - a).cross(c - a);
    let foot = place - normal * ((place - a).dot(normal) / normal.length_squared());
    let within = [(a, b), (b, c), (c, a)]
        .iter()
        .all(|(from, to)| (to - from).cross(foot - from).dot(normal) >= 0.0);
    if within && foot.is_finite() {
        return foot;
    }
    let ends =
        [nearest_on_edge(place, a, b), nearest_on_edge(place, b, c), nearest_on_edge(place, c, a)];
    ends.into_iter().fold(a, |best, point| {
        if point.distance_squared(place) < best.distance_squared(place) { point } else { best }
    })
}

fn nearest_on_edge(place: DVec3, from: DVec3, to: DVec3) -> DVec3 {
    let along = to - from;
    let length = along.length_squared();
    if length > 0.0 {
        from + along * ((place - from).dot(along) / length).clamp(0.0, 1.0)
    } else {
        from
    }
}
