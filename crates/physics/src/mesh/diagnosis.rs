//! Everything that is wrong with a mesh that somebody brings, with counts and places.
//!
//! A mesh that a drawing program wrote is checked by [`check`](super::check()), which stops at the gravest fault;
//! whoever has to mend a mesh wants to know them all at once.

#![expect(
    clippy::indexing_slicing,
    reason = "edges and pieces are numbered over the faces of a mesh whose corners were all found to exist"
)]

use super::boxes::BoxTree;
use super::crossing::{Clash, clashes};
use super::weld::{find, join};
use super::{Mesh, index_of};
use glam::DVec3;
use uom::si::f64::Volume;
use uom::si::volume::cubic_meter;

/// How many places of one fault are kept.
const PLACES: usize = 3;

/// How deep more pieces lie in one another is not told: a body with so many voids is none that holds oil.
const MOST_PIECES: usize = 1000;

/// How often a fault was found, and where first.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Faults {
    /// How often.
    pub count: usize,
    /// The first places, in metres.
    pub places: Vec<DVec3>,
}

impl Faults {
    fn note(&mut self, at: DVec3) {
        self.count += 1;
        if self.places.len() < PLACES {
            self.places.push(at);
        }
    }
}

/// A connected piece of a mesh.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// How many faces it has.
    pub faces: usize,
    /// What it encloses, negative where it is turned inside out.
    pub volume: Volume,
    /// A corner of it, in metres.
    pub at: DVec3,
    /// How many other pieces it lies in.
    pub depth: usize,
}

impl Piece {
    /// Whether its outside is where that of a piece so deep should be: a body outward, a void in a body inward.
    pub fn is_turned_right(&self) -> bool {
        if self.depth.is_multiple_of(2) { self.volume.value > 0.0 } else { self.volume.value < 0.0 }
    }
}

/// What is wrong with a mesh. Sound are closed meshes of which every count is nought and every piece turned right.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Diagnosis {
    /// Faces without area; those with two equal corners count here, and their edges nowhere.
    pub degenerate: Faults,
    /// Faces that name the same three corners as one before.
    pub duplicate: Faults,
    /// Edges of one face alone; places are their middles.
    pub open: Faults,
    /// Edges of more than two faces.
    pub crowded: Faults,
    /// Faces turned against the larger number of those that they hang together with.
    pub turned: Faults,
    /// Pairs of faces that pass through each other.
    pub crossing: Faults,
    /// Pairs of faces in one plane that cover a part of it twice.
    pub overlap: Faults,
    /// Whether the search for crossings was given up because there was too much to compare: the counts are then the
    /// least that there are.
    pub cut_short: bool,
    /// The pieces, in the order of their first faces; how deep they lie in one another is told of meshes without
    /// any of the faults above and of a thousand pieces at most, and 0 of others.
    pub pieces: Vec<Piece>,
}

impl Diagnosis {
    /// Whether every edge has two faces, one each way, and no face is in another's way.
    pub fn is_closed_and_clean(&self) -> bool {
        let all = [
            &self.degenerate,
            &self.duplicate,
            &self.open,
            &self.crowded,
            &self.turned,
            &self.crossing,
            &self.overlap,
        ];
        !self.cut_short && all.iter().all(|faults| faults.count == 0)
    }
}

/// Finds everything that is wrong with a mesh.
///
/// # Method
/// Edges by one sort; turned faces by a flood over edges of two faces, the smaller side being the one to turn;
/// crossings by a tree of boxes and exact predicates; how deep pieces lie by counting what a ray meets.
///
/// # Valid for
/// Meshes whose faces name corners that exist, at finite positions, with corners at one position shared: see
/// [`Mesh::with_shared_corners`].
pub fn diagnose(mesh: &Mesh) -> Diagnosis {
    let mut found = Diagnosis::default();
    faces_by_themselves(mesh, &mut found);
    let edges = sorted_edges(mesh);
    let mut leader: Vec<u32> = (0..index_of(mesh.faces.len())).collect();
    for one in edges.chunk_by(|a, b| a.ends == b.ends) {
        let middle =
            (mesh.points[one[0].ends[0] as usize] + mesh.points[one[0].ends[1] as usize]) / 2.0;
        match one.len() {
            1 => found.open.note(middle),
            2 => {}
            _ => found.crowded.note(middle),
        }
        for next in &one[1..] {
            join(&mut leader, one[0].face, next.face);
        }
    }
    let piece_of: Vec<u32> =
        (0..index_of(mesh.faces.len())).map(|face| find(&mut leader, face)).collect();
    turned_faces(mesh, &edges, &mut found);
    let (clashing, whole) = clashes(mesh);
    found.cut_short = !whole;
    for clash in clashing {
        match clash.clash {
            Clash::Crossing => found.crossing.note(clash.at),
            Clash::Overlap => found.overlap.note(clash.at),
        }
    }
    found.pieces = pieces(mesh, &piece_of, found.is_closed_and_clean());
    found
}

fn faces_by_themselves(mesh: &Mesh, found: &mut Diagnosis) {
    let mut by_corners: Vec<([u32; 3], u32)> = Vec::with_capacity(mesh.faces.len());
    for (number, face) in mesh.faces.iter().enumerate() {
        let [a, b, c] = face.map(|corner| mesh.points[corner as usize]);
        if (b - a).cross(c - a) == DVec3::ZERO {
            found.degenerate.note(a);
        }
        let mut corners = *face;
        corners.sort_unstable();
        by_corners.push((corners, index_of(number)));
    }
    by_corners.sort_unstable();
    let mut again: Vec<u32> =
        by_corners.windows(2).filter(|pair| pair[0].0 == pair[1].0).map(|pair| pair[1].1).collect();
    again.sort_unstable();
    for face in again {
        found.duplicate.note(middle_of(mesh, face));
    }
}

fn middle_of(mesh: &Mesh, face: u32) -> DVec3 {
    let [a, b, c] = mesh.corners(face as usize).unwrap_or_default();
    (a + b + c) / 3.0
}

struct Edge {
    ends: [u32; 2],
    face: u32,
    /// Run from the lower to the higher corner.
    onward: bool,
}

fn sorted_edges(mesh: &Mesh) -> Vec<Edge> {
    let mut edges = Vec::with_capacity(3 * mesh.faces.len());
    for (number, &[a, b, c]) in mesh.faces.iter().enumerate() {
        // With two equal corners a face has no sides that could be open, or be in the way of others.
        if a == b || b == c || c == a {
            continue;
        }
        for (from, to) in [(a, b), (b, c), (c, a)] {
            let ends = if from < to { [from, to] } else { [to, from] };
            edges.push(Edge { ends, face: index_of(number), onward: from < to });
        }
    }
    edges.sort_unstable_by_key(|edge| (edge.ends, edge.face, edge.onward));
    edges
}

/// Goes from face to face over edges of two faces; of each stretch the smaller side is the one to turn.
fn turned_faces(mesh: &Mesh, edges: &[Edge], found: &mut Diagnosis) {
    // Neighbours over edges of two faces, and whether the two disagree.
    let mut next: Vec<[Option<(u32, bool)>; 3]> = vec![[None; 3]; mesh.faces.len()];
    let mut link = |face: u32, to: u32, disagree: bool| {
        let free = next[face as usize].iter_mut().find(|slot| slot.is_none());
        if let Some(slot) = free {
            *slot = Some((to, disagree));
        }
    };
    let mut disagreements = 0_usize;
    for pair in edges.chunk_by(|a, b| a.ends == b.ends) {
        if let [one, other] = pair {
            let disagree = one.onward == other.onward;
            disagreements += usize::from(disagree);
            link(one.face, other.face, disagree);
            link(other.face, one.face, disagree);
        }
    }
    if disagreements == 0 {
        return;
    }
    let mut side: Vec<Option<bool>> = vec![None; mesh.faces.len()];
    let mut to_turn: Vec<u32> = Vec::new();
    for start in 0..index_of(mesh.faces.len()) {
        if side[start as usize].is_some() {
            continue;
        }
        side[start as usize] = Some(false);
        let (mut walked, mut waiting) = ([vec![start], Vec::new()], vec![start]);
        while let Some(face) = waiting.pop() {
            let own = side[face as usize].unwrap_or(false);
            for (to, disagree) in next[face as usize].iter().flatten() {
                if side[*to as usize].is_none() {
                    side[*to as usize] = Some(own != *disagree);
                    walked[usize::from(own != *disagree)].push(*to);
                    waiting.push(*to);
                }
            }
        }
        let smaller = usize::from(walked[1].len() <= walked[0].len());
        to_turn.append(&mut walked[smaller]);
    }
    // A strip that joins itself the wrong way round has no two sides: its seam is what is told.
    if to_turn.is_empty() {
        for pair in edges.chunk_by(|a, b| a.ends == b.ends) {
            if let [one, other] = pair
                && one.onward == other.onward
            {
                to_turn.push(other.face);
            }
        }
    }
    to_turn.sort_unstable();
    for face in to_turn {
        found.turned.note(middle_of(mesh, face));
    }
}

fn pieces(mesh: &Mesh, piece_of: &[u32], nest: bool) -> Vec<Piece> {
    let [low, high] = mesh.bounds().unwrap_or_default();
    let middle = (low + high) / 2.0;
    let mut roots: Vec<u32> = piece_of.to_vec();
    roots.sort_unstable();
    roots.dedup();
    let number = |face: usize| roots.binary_search(&piece_of[face]).unwrap_or(0);
    let mut pieces: Vec<Piece> = roots
        .iter()
        .map(|&root| Piece {
            faces: 0,
            volume: Volume::new::<cubic_meter>(0.0),
            at: mesh.corners(root as usize).map_or(DVec3::ZERO, |[a, _, _]| a),
            depth: 0,
        })
        .collect();
    for face in 0..mesh.faces.len() {
        let [a, b, c] = mesh.corners(face).unwrap_or_default().map(|p| p - middle);
        let piece = &mut pieces[number(face)];
        piece.faces += 1;
        piece.volume += Volume::new::<cubic_meter>(a.dot(b.cross(c)) / 6.0);
    }
    if nest && (2..=MOST_PIECES).contains(&pieces.len()) {
        let tree = BoxTree::new(mesh);
        for (own, root) in roots.iter().enumerate() {
            let inside = pieces_around(mesh, &tree, middle_of(mesh, *root), pieces.len(), number);
            pieces[own].depth =
                inside.iter().enumerate().filter(|(other, odd)| *other != own && **odd).count();
        }
    }
    pieces
}

/// Directions that no drawing has its edges along; the first that passes no edge of the mesh closely is taken.
const RAYS: [[f64; 3]; 4] = [
    [0.301_511, 0.557_086, 0.773_957],
    [-0.612_731, 0.353_187, 0.706_983],
    [0.455_842, -0.683_763, 0.569_803],
    [-0.371_391, -0.742_781, 0.557_086],
];

/// Of each piece, whether a point lies inside it: whether a ray from there meets it an odd number of times.
fn pieces_around(
    mesh: &Mesh,
    tree: &BoxTree,
    from: DVec3,
    count: usize,
    number: impl Fn(usize) -> usize,
) -> Vec<bool> {
    let mut odd = vec![false; count];
    for ray in RAYS {
        odd = vec![false; count];
        let mut close = false;
        tree.along(from, DVec3::from_array(ray), 0.0, |face| {
            let corners = mesh.corners(face as usize).unwrap_or_default();
            match ray_meets(corners, from, DVec3::from_array(ray)) {
                RayMeeting::Inside => odd[number(face as usize)] ^= true,
                RayMeeting::Close => close = true,
                RayMeeting::Not => {}
            }
        });
        if !close {
            break;
        }
    }
    odd
}

pub(crate) enum RayMeeting {
    Not,
    Inside,
    /// So near to a side or to its start that rounding may decide.
    Close,
}

pub(crate) fn ray_meets([a, b, c]: [DVec3; 3], from: DVec3, direction: DVec3) -> RayMeeting {
    const NEAR: f64 = 1e-9;
    let (ab, ac) = (b - a, c - a);
    let across = direction.cross(ac);
    let determinant = ab.dot(across);
    if determinant.abs() <= 1e-14 * ab.length() * ac.length() * direction.length() {
        return RayMeeting::Not;
    }
    let off = from - a;
    let u = off.dot(across) / determinant;
    let v = direction.dot(off.cross(ab)) / determinant;
    let distance = ac.dot(off.cross(ab)) / determinant;
    let least = [u, v, 1.0 - u - v].into_iter().fold(f64::INFINITY, super::smaller);
    if least < -NEAR || distance < -NEAR * ab.length() {
        RayMeeting::Not
    } else if least > NEAR && distance > NEAR * ab.length() {
        RayMeeting::Inside
    } else if least > NEAR && distance.abs() <= NEAR * ab.length() {
        // The face that the point itself lies on.
        RayMeeting::Not
    } else {
        RayMeeting::Close
    }
}

/// Whether a point lies inside a closed mesh.
///
/// # Valid for
/// Closed meshes; a point on the surface itself may be told either way.
pub fn contains(mesh: &Mesh, point: DVec3) -> bool {
    is_inside(mesh, &BoxTree::new(mesh), point)
}

/// As [`contains`], with a tree at hand.
pub(crate) fn is_inside(mesh: &Mesh, tree: &BoxTree, point: DVec3) -> bool {
    pieces_around(mesh, tree, point, 1, |_| 0).first().copied().unwrap_or(false)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mesh::Solid;

    fn block() -> Mesh {
        Solid::Block { min: DVec3::ZERO, max: DVec3::new(3.0, 2.0, 1.0) }.mesh().unwrap()
    }

    #[test]
    fn a_face_with_two_equal_corners_is_without_area_and_opens_nothing() {
        // On its own, and left over from an edge that fell together.
        let mut one = block();
        one.faces.push([0, 1, 1]);
        let mut two = block();
        let [a, b, _] = two.faces[0];
        for face in &mut two.faces {
            *face = face.map(|corner| if corner == b { a } else { corner });
        }
        for (mesh, count) in [(one, 1), (two, 2)] {
            let found = diagnose(&mesh);
            assert_eq!((found.degenerate.count, found.degenerate.places.len()), (count, count));
            let others = [&found.open, &found.crowded, &found.turned];
            assert!(others.iter().all(|faults| faults.count == 0), "{found:?}");
            assert!(!found.is_closed_and_clean());
        }
    }
}
