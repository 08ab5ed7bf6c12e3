//! Meshes cut at the rail plane z = 0, and closed there.
//!
//! What lies below the plane is kept, faces that cross it are cut, faces in it are left out; what is then open is
//! open along the plane alone, and a lid is laid over the region to the left of the rim. The lid's corners are those
//! of the rim, so nothing is left ajar.

#![expect(
    clippy::indexing_slicing,
    reason = "corners are numbered by the cut itself, over a mesh whose faces were found to have theirs"
)]

use super::weld::{find, join, weld};
use super::{Halves, Mesh, index_of};
use glam::{DVec2, DVec3};
use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};
use std::collections::BTreeMap;
use uom::si::f64::{Length, Volume};
use uom::si::length::meter;
use uom::si::volume::cubic_meter;

/// Why a mesh cannot be closed at the rail plane.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum CutError {
    /// It is open elsewhere than at the plane.
    Open {
        /// A place on the edge that is open, in metres.
        at: DVec3,
    },
    /// The rim crosses itself, or lies on itself, in the plane.
    RimTangled {
        /// Where, in metres.
        at: DVec3,
    },
    /// No part of it hollows out a room that the plane closes.
    NoHollow,
}

/// A room that a part and the rail plane close between them.
#[derive(Debug, Clone, PartialEq)]
pub struct Hollow {
    /// The largest such room, as a closed mesh turned outward.
    pub body: Mesh,
    /// The volumes of the others, in the order of the mesh.
    pub others: Vec<Volume>,
}

/// The parts of a closed mesh below and above the rail plane, each closed.
///
/// # Errors
/// A mesh that is not closed, or whose section with the plane crosses itself.
pub fn split_at_rail(mesh: &Mesh) -> Result<Halves, CutError> {
    let below = closed_below(mesh)?;
    let above = closed_below(&upside_down(mesh))?;
    Ok(Halves { below, above: above.as_ref().map(upside_down) })
}

/// Turned over the rail plane; its faces still look outward.
fn upside_down(mesh: &Mesh) -> Mesh {
    Mesh {
        points: mesh.points.iter().map(|p| DVec3::new(p.x, p.y, 0.0 - p.z)).collect(),
        faces: mesh.faces.iter().map(|&[a, b, c]| [a, c, b]).collect(),
    }
}

fn closed_below(mesh: &Mesh) -> Result<Option<Mesh>, CutError> {
    let mut kept = below(mesh);
    if kept.faces.is_empty() {
        return Ok(None);
    }
    close(&mut kept)?;
    Ok((kept.volume().value > 0.0).then_some(kept))
}

/// The room for oil that a whole part holds below the rail plane: the largest hollow whose surface, with the plane
/// as a lid, is closed and apart from the part's outside.
///
/// # Method
/// The surface below the plane falls into pieces that hang together over edges. Turned round and closed by the
/// plane, the skin of a hollow encloses a positive volume, the outer skin a negative one.
///
/// # Valid for
/// A closed part, metal inside. A hole from the hollow to the outside below the plane joins the two skins, and no
/// hollow is found.
///
/// # Errors
/// No hollow, a part that is open, a rim that crosses itself.
pub fn hollow_below_rail(part: &Mesh) -> Result<Hollow, CutError> {
    let surface = below(part);
    let mut leader: Vec<u32> = (0..index_of(surface.points.len())).collect();
    // Along an edge in the plane two skins may touch that do not hang together below it, so corners in the plane
    // join nothing.
    let is_below = |corner: u32| surface.points[corner as usize].z < 0.0;
    for face in &surface.faces {
        let mut deep = face.iter().filter(|corner| is_below(**corner));
        if let Some(&first) = deep.next() {
            deep.for_each(|&corner| join(&mut leader, first, corner));
        }
    }
    let mut skins: BTreeMap<u32, Mesh> = BTreeMap::new();
    for face in &surface.faces {
        let Some(&deep) = face.iter().find(|corner| is_below(**corner)) else { continue };
        let skin = skins.entry(find(&mut leader, deep)).or_default();
        // Turned round, so that the room and not the metal is inside.
        skin.faces.push([face[0], face[2], face[1]]);
    }
    let mut rooms: Vec<(f64, Mesh)> = Vec::new();
    for skin in skins.into_values() {
        let mut skin =
            Mesh { points: surface.points.clone(), faces: skin.faces }.with_shared_corners();
        let held = held_below_plane(&skin);
        let reaches_rail = skin.points.iter().any(|p| p.z >= 0.0);
        if held > 0.0 && reaches_rail {
            close(&mut skin)?;
            rooms.push((held, skin));
        }
    }
    let largest =
        rooms.iter().enumerate().fold(None, |best: Option<(usize, f64)>, (at, (held, _))| {
            if best.is_none_or(|(_, most)| *held > most) { Some((at, *held)) } else { best }
        });
    let Some((largest, _)) = largest else { return Err(CutError::NoHollow) };
    let (_, body) = rooms.remove(largest);
    let others = rooms.iter().map(|(held, _)| Volume::new::<cubic_meter>(*held)).collect();
    Ok(Hollow { body, others })
}

/// Volume between a surface and the plane above it: the plane adds nothing to the integral of z over the faces.
fn held_below_plane(skin: &Mesh) -> f64 {
    (0..skin.faces.len())
        .filter_map(|face| skin.corners(face))
        .map(|[a, b, c]| (b - a).cross(c - a).z * (a.z + b.z + c.z) / 6.0)
        .sum()
}

/// The surface below the plane; faces across it are cut, faces in it are left out.
fn below(mesh: &Mesh) -> Mesh {
    let mut kept =
        Mesh { points: mesh.points.iter().map(|p| *p + DVec3::ZERO).collect(), faces: Vec::new() };
    let mut cuts: BTreeMap<[u32; 2], u32> = BTreeMap::new();
    for face in &mesh.faces {
        let side = face.map(|corner| mesh.points[corner as usize].z);
        if side.iter().all(|z| *z >= 0.0) {
            continue;
        }
        let mut part: Vec<u32> = Vec::with_capacity(4);
        for (at, next) in [(0, 1), (1, 2), (2, 0)] {
            if side[at] <= 0.0 {
                part.push(face[at]);
            }
            if side[at] < 0.0 && side[next] > 0.0 || side[at] > 0.0 && side[next] < 0.0 {
                part.push(cut(&mut kept, &mut cuts, [face[at], face[next]]));
            }
        }
        // A corner of a cut may fall on a corner of the face.
        part.dedup();
        for pair in part.windows(2).skip(1) {
            kept.faces.push([part[0], pair[0], pair[1]]);
        }
    }
    let mut shared = kept.with_shared_corners();
    shared.faces.retain(|[a, b, c]| a != b && b != c && c != a);
    shared
}

/// The corner where an edge goes through the plane, the same for both faces of the edge.
fn cut(kept: &mut Mesh, cuts: &mut BTreeMap<[u32; 2], u32>, ends: [u32; 2]) -> u32 {
    let ends = if ends[0] < ends[1] { ends } else { [ends[1], ends[0]] };
    *cuts.entry(ends).or_insert_with(|| {
        let [a, b] = ends.map(|corner| kept.points[corner as usize]);
        let at = a.lerp(b, a.z / (a.z - b.z));
        kept.points.push(DVec3::new(at.x, at.y, 0.0));
        index_of(kept.points.len() - 1)
    })
}

/// The edges run one way and not as often the other, as the missing faces would run them.
pub(super) fn rims(faces: &[[u32; 3]]) -> Vec<[u32; 2]> {
    let mut runs: BTreeMap<[u32; 2], i32> = BTreeMap::new();
    for &[a, b, c] in faces {
        for [from, to] in [[a, b], [b, c], [c, a]] {
            if from < to {
                *runs.entry([from, to]).or_default() += 1;
            } else {
                *runs.entry([to, from]).or_default() -= 1;
            }
        }
    }
    let mut rims = Vec::new();
    for ([low, high], count) in runs {
        let edge = if count > 0 { [high, low] } else { [low, high] };
        rims.extend((0..count.unsigned_abs()).map(|_| edge));
    }
    rims
}

/// Of two corners nearer than this share of the size of a mesh, rounding alone may have made two.
const ROUNDING: f64 = 1e-12;

/// Closes a surface that is open along the plane z = 0 alone.
///
/// A needle across the plane is cut in two places that rounding alone tells apart, and the rim there may turn over;
/// where the rim is tangled, such places become one before it is called so.
fn close(surface: &mut Mesh) -> Result<(), CutError> {
    let lid = lay_lid(surface);
    if matches!(lid, Err(CutError::RimTangled { .. })) {
        let size = surface.bounds().map_or(0.0, |[low, high]| (high - low).max_element());
        *surface = weld(surface, Length::new::<meter>(ROUNDING * size)).mesh;
        return lay_lid(surface);
    }
    lid
}

/// Closes a surface that is open along the plane z = 0 alone by triangles in that plane.
fn lay_lid(surface: &mut Mesh) -> Result<(), CutError> {
    let rims = rims(&surface.faces);
    let place = |corner: u32| surface.points[corner as usize];
    for &[from, to] in &rims {
        if place(from).z.abs() > 0.0 || place(to).z.abs() > 0.0 {
            return Err(CutError::Open { at: (place(from) + place(to)) / 2.0 });
        }
    }
    if rims.is_empty() {
        return Ok(());
    }
    let lid = cover(&surface.points, &rims)?;
    surface.faces.extend(lid);
    Ok(())
}

/// Triangles over the region to the left of the rims, seen from above.
///
/// Points are put in one by one in their order, so that equal triangulations are told apart the same way each time.
fn cover(points: &[DVec3], rims: &[[u32; 2]]) -> Result<Vec<[u32; 3]>, CutError> {
    let tangled = |corner: u32| CutError::RimTangled { at: points[corner as usize] };
    let mut plane = ConstrainedDelaunayTriangulation::<Point2<f64>>::new();
    let mut handle_of = BTreeMap::new();
    let mut corner_of = Vec::new();
    for &corner in rims.iter().flatten() {
        if let std::collections::btree_map::Entry::Vacant(vacant) = handle_of.entry(corner) {
            let at = points[corner as usize];
            // The triangulation does not take numbers so small that their products vanish.
            let clean = |value: f64| if value.abs() < 1e-30 { 0.0 } else { value };
            let point = Point2::new(clean(at.x), clean(at.y));
            vacant.insert(plane.insert(point).map_err(|_| tangled(corner))?);
            corner_of.push(corner);
        }
    }
    if plane.num_vertices() != corner_of.len() {
        return Err(tangled(rims[0][0]));
    }
    for [from, to] in rims {
        let ends = [handle_of[from], handle_of[to]];
        if !plane.exists_constraint(ends[0], ends[1])
            && plane.try_add_constraint(ends[0], ends[1]).is_empty()
        {
            return Err(tangled(*from));
        }
    }
    let mut inside = vec![false; plane.num_all_faces()];
    let mut waiting = Vec::new();
    for [from, to] in rims {
        let side = plane
            .get_edge_from_neighbors(handle_of[from], handle_of[to])
            .ok_or_else(|| tangled(*from))?;
        let left = side.face().as_inner().ok_or_else(|| tangled(*from))?;
        if !core::mem::replace(&mut inside[left.fix().index()], true) {
            waiting.push(left);
        }
    }
    let mut triangles = Vec::new();
    while let Some(face) = waiting.pop() {
        let sides = face.adjacent_edges();
        triangles.push(sides.map(|side| corner_of[side.from().fix().index()]));
        for side in sides.iter().filter(|side| !side.is_constraint_edge()) {
            let Some(across) = side.rev().face().as_inner() else { continue };
            if !core::mem::replace(&mut inside[across.fix().index()], true) {
                waiting.push(across);
            }
        }
    }
    triangles.sort_unstable();
    Ok(triangles)
}

/// The closed lines round the faces that lie in the plane z = 0 and look up: counter-clockwise round the outside,
/// clockwise round what stands up to the plane, in metres.
pub fn rail_loops(mesh: &Mesh) -> Vec<Vec<DVec2>> {
    let lid: Vec<[u32; 3]> = mesh
        .faces
        .iter()
        .filter(|face| {
            let [a, b, c] = face.map(|corner| mesh.points[corner as usize]);
            let flat = [a, b, c].iter().all(|p| p.z.abs() <= 0.0);
            flat && (b - a).cross(c - a).z > 0.0
        })
        .copied()
        .collect();
    let mut onward: BTreeMap<u32, Vec<u32>> = BTreeMap::new();
    // The rims run as the faces beyond them would; round the lid itself they run the other way.
    for [to, from] in rims(&lid) {
        onward.entry(from).or_default().push(to);
    }
    let plan = |corner: u32| mesh.points[corner as usize].truncate();
    let mut loops = Vec::new();
    while let Some((&start, _)) = onward.iter().find(|(_, ways)| !ways.is_empty()) {
        let mut line = Vec::new();
        let (mut here, mut before) = (start, None);
        while let Some(ways) = onward.get_mut(&here).filter(|ways| !ways.is_empty()) {
            let taken =
                before.map_or(0, |before| sharpest_left(plan(before), plan(here), ways, plan));
            let next = ways.remove(taken);
            line.push(plan(here));
            before = Some(here);
            here = next;
            if here == start {
                break;
            }
        }
        onward.retain(|_, ways| !ways.is_empty());
        loops.push(line);
    }
    loops
}

/// Where loops touch at a corner, each keeps to itself by turning left as sharply as it can.
fn sharpest_left(before: DVec2, here: DVec2, ways: &[u32], plan: impl Fn(u32) -> DVec2) -> usize {
    let came = (here - before).normalize_or_zero();
    let turn = |to: u32| {
        let goes = (plan(to) - here).normalize_or_zero();
        libm::atan2(came.perp_dot(goes), came.dot(goes))
    };
    let mut best = 0;
    for at in 1..ways.len() {
        if turn(ways[at]) > turn(ways[best]) {
            best = at;
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mesh::{Solid, check};

    fn block(min: [f64; 3], max: [f64; 3]) -> Mesh {
        Solid::Block { min: DVec3::from_array(min), max: DVec3::from_array(max) }.mesh().unwrap()
    }

    /// A tray: the outer block with the inner one taken out of its top, both ending at z = `top`.
    fn tray(top: f64) -> Mesh {
        let outer = block([-0.22, -0.15, -0.1], [0.22, 0.15, top]);
        let inner = block([-0.2, -0.13, -0.09], [0.2, 0.13, top]);
        let mut sides = Mesh::default();
        let lidless = |mesh: &Mesh, turn: bool| {
            let faces = mesh
                .faces
                .iter()
                .filter(|face| face.iter().any(|c| mesh.points[*c as usize].z < top));
            let faces = faces.map(|&[a, b, c]| if turn { [a, c, b] } else { [a, b, c] }).collect();
            Mesh { points: mesh.points.clone(), faces }
        };
        sides.append(&lidless(&outer, false));
        sides.append(&lidless(&inner, true));
        let mut flat = sides.clone();
        for point in &mut flat.points {
            if point.z >= top {
                point.z = 0.0;
            }
        }
        let rims = rims(&flat.faces);
        let lid = cover(&flat.points, &rims).unwrap();
        sides.faces.extend(lid);
        sides
    }

    #[test]
    fn a_block_across_the_plane_falls_into_two_closed_parts() {
        let block = block([0.1, 0.2, -0.3], [0.4, 0.6, 0.2]);
        let halves = split_at_rail(&block).unwrap();
        let (below, above) = (halves.below.unwrap(), halves.above.unwrap());
        assert_eq!((check(&below), check(&above)), (Ok(()), Ok(())));
        assert!((below.volume().value - 0.3 * 0.4 * 0.3).abs() < 1e-15);
        assert!((above.volume().value - 0.3 * 0.4 * 0.2).abs() < 1e-15);
    }

    /// A corner in the middle of an upright edge of a turned block, a needle closing the gap: the plane cuts the edge
    /// and the needle's sides in places that rounding alone tells apart.
    #[test]
    fn a_needle_across_the_plane_is_cut_as_what_it_closes() {
        let mut tangled = 0;
        for step in 0..400_u32 {
            let angle = f64::from(step);
            let turn = glam::DQuat::from_euler(glam::EulerRot::XYZ, 0.3, 0.002 * angle, angle);
            let mut block = block([-0.2, -0.1, -0.1], [0.2, 0.1, 0.1]);
            for point in &mut block.points {
                *point = turn * *point;
            }
            let volume_below = split_at_rail(&block).unwrap().below.unwrap().volume().value;
            let sides = |[a, b, c]: [u32; 3]| [[a, b, c], [b, c, a], [c, a, b]];
            let height = |corner: u32| block.points[corner as usize].z;
            let faces = block.faces.iter().enumerate();
            let (number, [a, b, c]) = faces
                .flat_map(|(number, face)| sides(*face).map(|face| (number, face)))
                .find(|(_, [a, b, _])| height(*a) < 0.0 && height(*b) > 0.0)
                .unwrap();
            let middle = index_of(block.points.len());
            let [at, beside] = [a, b].map(|corner| block.points[corner as usize]);
            block.points.push(at.lerp(beside, 0.3));
            block.faces.remove(number);
            block.faces.extend([[a, middle, c], [middle, b, c], [a, b, middle]]);
            let mut bare = below(&block);
            tangled += usize::from(lay_lid(&mut bare).is_err());
            let halves = split_at_rail(&block).unwrap();
            let below = halves.below.unwrap().volume().value;
            assert!((below - volume_below).abs() < 1e-15, "{step}: {below} {volume_below}");
        }
        assert!(tangled > 0, "no rim was tangled");
    }

    #[test]
    fn a_block_that_ends_at_the_plane_has_one_half() {
        let halves = split_at_rail(&block([0.0, 0.0, -0.3], [0.4, 0.6, 0.0])).unwrap();
        assert!((halves.below.unwrap().volume().value - 0.072).abs() < 1e-15);
        assert_eq!(halves.above, None);
    }

    #[test]
    fn a_tray_holds_what_its_inner_block_holds() {
        for top in [0.0, 0.005] {
            let part = tray(top);
            assert_eq!(check(&part), Ok(()));
            let hollow = hollow_below_rail(&part).unwrap();
            assert_eq!(check(&hollow.body), Ok(()));
            assert!((hollow.body.volume().value - 0.4 * 0.26 * 0.09).abs() < 1e-15);
            assert!(hollow.others.is_empty());
        }
    }

    #[test]
    fn a_block_without_a_hollow_holds_nothing() {
        let solid = block([-0.2, -0.1, -0.1], [0.2, 0.1, 0.0]);
        assert_eq!(hollow_below_rail(&solid), Err(CutError::NoHollow));
    }

    #[test]
    fn a_tray_with_a_hole_in_its_floor_holds_nothing() {
        let mut part = tray(0.0);
        // A well from the inner floor to the outer one: both floors lose a square, and four walls join them.
        let hole = block([-0.05, -0.05, -0.1], [0.05, 0.05, -0.09]);
        let shared = |mesh: &mut Mesh, z: f64, up: bool| {
            mesh.faces.retain(|face| {
                !face.iter().all(|c| (mesh.points[*c as usize].z - z).abs() < 1e-12)
            });
            let mut flat = mesh.clone();
            for point in &mut flat.points {
                point.z -= z;
            }
            let mut rims = rims(&flat.faces);
            rims.retain(|edge| edge.iter().all(|c| flat.points[*c as usize].z.abs() < 1e-12));
            // Seen from above the region is to the left only for a face that looks up.
            if !up {
                for edge in &mut rims {
                    edge.swap(0, 1);
                }
            }
            let lid = cover(&flat.points, &rims).unwrap();
            mesh.faces
                .extend(lid.into_iter().map(|[a, b, c]| if up { [a, b, c] } else { [a, c, b] }));
        };
        let walls = hole.faces.iter().filter(|face| {
            let z = face.map(|c| hole.points[c as usize].z);
            (z[0] - z[1]).abs() > 1e-12 || (z[1] - z[2]).abs() > 1e-12
        });
        let walls = walls.map(|&[a, b, c]| [a, c, b]).collect();
        part.append(&Mesh { points: hole.points.clone(), faces: walls });
        shared(&mut part, -0.09, true);
        shared(&mut part, -0.1, false);
        let part = part.with_shared_corners();
        assert_eq!(check(&part), Ok(()));
        assert_eq!(hollow_below_rail(&part), Err(CutError::NoHollow));
    }

    #[test]
    fn the_rail_is_the_line_round_the_lid_and_posts_turn_the_other_way() {
        let mut body = block([-0.2, -0.1, -0.1], [0.2, 0.1, 0.0]);
        let post = block([-0.02, -0.02, -0.1], [0.02, 0.02, 0.0]);
        body.append(&upside_down(&upside_down(&post)));
        let loops = rail_loops(&body);
        assert_eq!(loops.len(), 2);
        let hollow = hollow_below_rail(&tray(0.0)).unwrap();
        let loops = rail_loops(&hollow.body);
        assert_eq!(loops.len(), 1);
        assert_eq!(loops[0].len(), 4);
    }
}
