//! Whether a mesh bounds a body, and if not, how many places are at fault and where the first one is.

#![expect(
    clippy::indexing_slicing,
    reason = "edges are looked at only after every face was found to have its points"
)]

use super::Mesh;
use glam::DVec3;
use uom::si::f64::Volume;

/// Why a mesh does not bound a body.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum MeshProblem {
    /// It has no faces.
    Empty,
    /// Points with a coordinate that is not a finite number.
    NotFinite {
        /// How many.
        count: usize,
        /// Index of the first.
        first: usize,
    },
    /// Faces that name a point which does not exist.
    MissingPoints {
        /// How many.
        count: usize,
        /// Index of the first.
        first: usize,
    },
    /// Faces without area.
    Degenerate {
        /// How many.
        count: usize,
        /// Index of the first.
        first: usize,
        /// Its first corner.
        at: DVec3,
    },
    /// Edges that are not run through as often one way as the other, so that there is a gap.
    OpenEdges {
        /// How many.
        count: usize,
        /// The ends of the first, in the order of the points.
        first: [DVec3; 2],
    },
    /// Edges that two faces run through the same way: one of the two is turned over.
    TurnedFaces {
        /// How many edges.
        count: usize,
        /// The ends of the first, in the order of the points.
        first: [DVec3; 2],
    },
    /// Closed, with the outside where the inside should be, or without volume.
    InsideOut {
        /// The enclosed volume, zero or negative.
        volume: Volume,
    },
}

/// Checks that a mesh is closed, consistently turned and outward, with finite points and faces that have area.
///
/// An edge of four faces, two each way, is accepted: bodies may touch along an edge. Crossing faces are not
/// looked for.
///
/// # Errors
/// The gravest fault found, in the order of [`MeshProblem`]; degenerate faces come before open edges because
/// they often are their cause.
pub fn check(mesh: &Mesh) -> Result<(), MeshProblem> {
    points_are_there(mesh)?;
    faces_have_area(mesh)?;
    bounds_a_body(mesh)
}

/// As [`check`], but faces without area are let through: they hold nothing, and a mesh that is moved may come to have
/// some by rounding.
pub(crate) fn check_but_for_needles(mesh: &Mesh) -> Result<(), MeshProblem> {
    points_are_there(mesh)?;
    bounds_a_body(mesh)
}

fn bounds_a_body(mesh: &Mesh) -> Result<(), MeshProblem> {
    edges_are_matched(mesh)?;
    let volume = mesh.volume();
    if volume.value > 0.0 { Ok(()) } else { Err(MeshProblem::InsideOut { volume }) }
}

fn points_are_there(mesh: &Mesh) -> Result<(), MeshProblem> {
    if mesh.faces.is_empty() {
        return Err(MeshProblem::Empty);
    }
    points_are_finite(mesh)?;
    match found(mesh, |corners| corners.is_none()) {
        Some((count, first)) => Err(MeshProblem::MissingPoints { count, first }),
        None => Ok(()),
    }
}

fn points_are_finite(mesh: &Mesh) -> Result<(), MeshProblem> {
    let mut wrong = mesh.points.iter().enumerate().filter(|(_, point)| !point.is_finite());
    match wrong.next() {
        Some((first, _)) => Err(MeshProblem::NotFinite { count: 1 + wrong.count(), first }),
        None => Ok(()),
    }
}

fn faces_have_area(mesh: &Mesh) -> Result<(), MeshProblem> {
    let is_flat = |[a, b, c]: [DVec3; 3]| (b - a).cross(c - a) == DVec3::ZERO;
    match found(mesh, |corners| corners.is_some_and(is_flat)) {
        Some((count, first)) => {
            let at = mesh.corners(first).map_or(DVec3::ZERO, |[a, _, _]| a);
            Err(MeshProblem::Degenerate { count, first, at })
        }
        None => Ok(()),
    }
}

/// How many faces are so, and the first of them.
fn found(mesh: &Mesh, is_so: impl Fn(Option<[DVec3; 3]>) -> bool) -> Option<(usize, usize)> {
    let mut faces = (0..mesh.faces.len()).filter(|face| is_so(mesh.corners(*face)));
    let first = faces.next()?;
    Some((1 + faces.count(), first))
}

fn edges_are_matched(mesh: &Mesh) -> Result<(), MeshProblem> {
    // Edges by the smaller of their two points, each with the larger one and the way it was run.
    let mut starts = vec![0_usize; mesh.points.len() + 1];
    for edge in edges(mesh) {
        starts[edge.low as usize + 1] += 1;
    }
    for at in 1..starts.len() {
        starts[at] += starts[at - 1];
    }
    let mut runs = vec![(0, false); 3 * mesh.faces.len()];
    let mut fill = starts.clone();
    for edge in edges(mesh) {
        let place = &mut fill[edge.low as usize];
        runs[*place] = (edge.high, edge.onward);
        *place += 1;
    }
    let (mut open, mut turned) = (0, 0);
    let (mut first_open, mut first_turned) = (None, None);
    for low in 0..mesh.points.len() {
        let here = &mut runs[starts[low]..starts[low + 1]];
        here.sort_unstable();
        for edge in here.chunk_by(|one, next| one.0 == next.0) {
            let onward = edge.iter().filter(|(_, onward)| *onward).count();
            if 2 * onward == edge.len() {
                continue;
            }
            let ends = [mesh.points[low], mesh.points[edge[0].0 as usize]];
            let (count, first) = if edge.len() % 2 == 0 {
                (&mut turned, &mut first_turned)
            } else {
                (&mut open, &mut first_open)
            };
            *count += 1;
            first.get_or_insert(ends);
        }
    }
    if let Some(first) = first_open {
        return Err(MeshProblem::OpenEdges { count: open, first });
    }
    match first_turned {
        Some(first) => Err(MeshProblem::TurnedFaces { count: turned, first }),
        None => Ok(()),
    }
}

struct Edge {
    low: u32,
    high: u32,
    /// Run from the lower to the higher index.
    onward: bool,
}

fn edges(mesh: &Mesh) -> impl Iterator<Item = Edge> + '_ {
    mesh.faces.iter().flat_map(|&[a, b, c]| [(a, b), (b, c), (c, a)]).map(|(from, to)| Edge {
        low: if from < to { from } else { to },
        high: if from < to { to } else { from },
        onward: from < to,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mesh::Solid;

    fn block() -> Mesh {
        Solid::Block { min: DVec3::new(-1.0, -2.0, -3.0), max: DVec3::new(3.0, 2.0, 1.0) }
            .mesh()
            .unwrap()
    }

    #[test]
    fn a_block_bounds_its_body() {
        let mesh = block();
        assert_eq!(check(&mesh), Ok(()));
        assert!((mesh.volume().value - 64.0).abs() < 1e-12);
    }

    #[test]
    fn a_missing_face_leaves_three_open_edges() {
        let mut mesh = block();
        mesh.faces.pop();
        assert!(matches!(check(&mesh), Err(MeshProblem::OpenEdges { count: 3, .. })));
    }

    #[test]
    fn a_face_turned_over_disagrees_with_its_three_neighbours() {
        let mut mesh = block();
        mesh.faces[4].swap(0, 1);
        assert!(matches!(check(&mesh), Err(MeshProblem::TurnedFaces { count: 3, .. })));
    }

    #[test]
    fn a_mesh_turned_inside_out_has_a_negative_volume() {
        let mut mesh = block();
        for face in &mut mesh.faces {
            face.swap(0, 1);
        }
        let Err(MeshProblem::InsideOut { volume }) = check(&mesh) else { panic!("not seen") };
        assert!((volume.value + 64.0).abs() < 1e-12);
    }

    #[test]
    fn a_point_that_is_not_a_number_is_named() {
        let mut mesh = block();
        mesh.points[3].y = f64::NAN;
        assert_eq!(check(&mesh), Err(MeshProblem::NotFinite { count: 1, first: 3 }));
    }

    #[test]
    fn faces_without_area_or_without_points_are_named() {
        let mut mesh = block();
        mesh.faces.push([0, 1, 1]);
        assert!(matches!(check(&mesh), Err(MeshProblem::Degenerate { count: 1, first: 12, .. })));
        mesh.faces.push([0, 1, 99]);
        assert_eq!(check(&mesh), Err(MeshProblem::MissingPoints { count: 1, first: 13 }));
        assert_eq!(check(&Mesh::default()), Err(MeshProblem::Empty));
    }
}
