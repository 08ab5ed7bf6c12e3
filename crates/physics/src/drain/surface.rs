//! A closed surface as the flood sees it: heights, neighbours, the nearest point, and what lies straight below.

#![expect(
    clippy::indexing_slicing,
    reason = "every index is a corner or a face number, and `Surface::new` has checked that each face's corners exist"
)]

use glam::{DVec2, DVec3};

use super::DrainError;
use crate::mesh::Mesh;

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
pub(super) enum Below {
    /// This face, with oil above it.
    Floor(usize),
    /// A face with oil below it, so that the line starts outside.
    Ceiling,
    /// Nothing.
    Nothing,
}

/// A closed surface with the height of each corner along `up`.
pub(super) struct Surface {
    pub(super) points: Vec<DVec3>,
    pub(super) faces: Vec<[usize; 3]>,
    pub(super) heights: Vec<f64>,
    pub(super) up: DVec3,
    /// Heights closer than this count as one.
    pub(super) tolerance: f64,
    /// Corner by corner the first of its edges in `edges`, and the end of all.
    starts: Vec<usize>,
    /// Both directions of every edge, in order.
    edges: Vec<(usize, usize)>,
}

impl Surface {
    /// Checks the mesh and lists its edges.
    pub(super) fn new(mesh: &Mesh, up: DVec3) -> Result<Self, DrainError> {
        if !(up.is_finite() && mesh.points.iter().all(|point| point.is_finite())) {
            return Err(DrainError::NotFinite);
        }
        if (up.length() - 1.0).abs() > UNIT_ERROR {
            return Err(DrainError::UpNotUnit);
        }
        let faces = checked_faces(mesh)?;
        let edges = checked_edges(&faces, &mesh.points)?;
        let mut starts = vec![0; mesh.points.len() + 1];
        for &(from, _) in &edges {
            starts[from + 1] += 1;
        }
        for corner in 0..mesh.points.len() {
            starts[corner + 1] += starts[corner];
        }
        let low = mesh.points.iter().copied().fold(DVec3::INFINITY, DVec3::min);
        let high = mesh.points.iter().copied().fold(DVec3::NEG_INFINITY, DVec3::max);
        let surface = Self {
            points: mesh.points.clone(),
            faces,
            heights: mesh.points.iter().map(|point| up.dot(*point)).collect(),
            up,
            tolerance: SAME_HEIGHT * low.distance(high),
            starts,
            edges,
        };
        if surface.volume() > 0.0 { Ok(surface) } else { Err(DrainError::InsideOut) }
    }

    /// The corners at the other ends of a corner's edges.
    pub(super) fn neighbours(&self, corner: usize) -> impl Iterator<Item = usize> + '_ {
        let edges = &self.edges[self.starts[corner]..self.starts[corner + 1]];
        edges.iter().map(|&(_, to)| to)
    }

    /// Whether a corner belongs to any face.
    pub(super) fn is_used(&self, corner: usize) -> bool {
        self.starts[corner] < self.starts[corner + 1]
    }

    /// Lower, or as low and earlier in the list: of any two corners one is lower, level floors included.
    pub(super) fn is_lower(&self, corner: usize, other: usize) -> bool {
        let (height, than) = (self.heights[corner], self.heights[other]);
        height < than || (height <= than && corner < other)
    }

    /// The lowest corner of a face.
    pub(super) fn lowest(&self, face: usize) -> usize {
        let [a, b, c] = self.faces[face];
        let lower = if self.is_lower(b, a) { b } else { a };
        if self.is_lower(c, lower) { c } else { lower }
    }

    /// The corners of a face.
    pub(super) fn corners(&self, face: usize) -> [DVec3; 3] {
        self.faces[face].map(|corner| self.points[corner])
    }

    /// The area of a face as a vector out of the oil.
    pub(super) fn area_vector(&self, face: usize) -> DVec3 {
        let [a, b, c] = self.corners(face);
        (b - a).cross(c - a) * 0.5
    }

    /// What a face adds to the volume below a level.
    pub(super) fn volume_below(&self, face: usize, level: f64) -> f64 {
        let mut z = self.faces[face].map(|corner| self.heights[corner] - level);
        z.sort_by(f64::total_cmp);
        self.area_vector(face).dot(self.up) * mean_depth(z)
    }

    /// The point of the surface nearest to `place`, and its face; the first of several.
    pub(super) fn nearest(&self, place: DVec3) -> (DVec3, usize) {
        let mut found = (place, 0);
        let mut least = f64::INFINITY;
        for (face, corners) in self.faces.iter().enumerate() {
            let point = nearest_on_triangle(place, corners.map(|corner| self.points[corner]));
            let distance = point.distance_squared(place);
            if distance < least {
                least = distance;
                found = (point, face);
            }
        }
        found
    }

    /// What a line straight down from `start` meets first. A floor counts from the start on, a ceiling only clear of it.
    pub(super) fn below(&self, start: DVec3) -> Below {
        let (east, north) = self.up.any_orthonormal_pair();
        let mut found = Below::Nothing;
        let mut highest = f64::NEG_INFINITY;
        for (face, corners) in self.faces.iter().enumerate() {
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

fn checked_faces(mesh: &Mesh) -> Result<Vec<[usize; 3]>, DrainError> {
    let mut faces = Vec::with_capacity(mesh.faces.len());
    for (face, corners) in mesh.faces.iter().enumerate() {
        let corners = corners.map(|corner| corner as usize);
        if corners.iter().any(|&corner| corner >= mesh.points.len()) {
            return Err(DrainError::MissingCorner { face });
        }
        faces.push(corners);
    }
    if faces.is_empty() { Err(DrainError::Empty) } else { Ok(faces) }
}

/// Both directions of every edge, in order. A closed surface runs along each edge as often one way as the other.
fn checked_edges(
    faces: &[[usize; 3]],
    points: &[DVec3],
) -> Result<Vec<(usize, usize)>, DrainError> {
    let mut edges: Vec<_> = faces.iter().flat_map(|&[a, b, c]| [(a, b), (b, c), (c, a)]).collect();
    let mut turned: Vec<_> = edges.iter().map(|&(from, to)| (to, from)).collect();
    edges.sort_unstable();
    turned.sort_unstable();
    match edges.iter().zip(&turned).find(|(edge, other)| edge != other) {
        None => Ok(edges),
        Some((edge, other)) => {
            let &(from, to) = if edge < other { edge } else { other };
            Err(DrainError::OpenEdge { from: points[from], to: points[to] })
        }
    }
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
