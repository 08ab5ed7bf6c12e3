//! Faces that pass through each other, told exactly.
//!
//! An edge passes through a face when its ends lie strictly on either side of the face's plane and the three
//! corners of the face turn one way round the edge. Each of these is the sign of a determinant that is computed as
//! exactly as it takes (Shewchuk 1997), so that touching is told from crossing whatever the rounding.

#![expect(
    clippy::indexing_slicing,
    reason = "faces were checked to have their corners, and arrays of three are walked by numbers below three"
)]

use super::boxes::{BoxTree, Next};
use super::{Mesh, index_of, larger, smaller};
use glam::{DVec2, DVec3};
use robust::{Coord, Coord3D, orient2d, orient3d};
use std::collections::BTreeMap;

/// How two faces of one mesh are in each other's way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Clash {
    /// One passes through the other.
    Crossing,
    /// They lie in one plane and cover a part of it twice.
    Overlap,
}

/// Two faces that are in each other's way, and a place of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Clashing {
    pub(crate) faces: [u32; 2],
    pub(crate) clash: Clash,
    pub(crate) at: DVec3,
}

/// More pairs of faces are not compared, and more that clash are not counted: a sound mesh of millions of faces
/// needs a tenth of it, and a heap of faces on one place would never end.
const MOST_PAIRS: u64 = 500_000_000;
const MOST_CLASHES: usize = 100_000;

/// What a coordinate in single precision, as most files hold it, leaves in doubt, as a share of the mesh's size.
const SINGLE: f64 = 1.0 / 8_388_608.0;

/// All pairs of faces of a mesh that cross or overlap, in the order of their faces, and whether all pairs were looked
/// at. Faces of the same three corners are left to whoever counts duplicates. Faces of one plane that overlap in no
/// more than a strip of the width that single precision leaves in doubt are passed over: rounding turns a needle in a
/// flat wall over, the sound meshes of drawing programs have such, and no volume comes of it.
pub(crate) fn clashes(mesh: &Mesh) -> (Vec<Clashing>, bool) {
    let tree = BoxTree::new(mesh);
    let mut found = Vec::new();
    let mut on_edges = EdgeHits::new();
    let size = mesh.bounds().map_or(0.0, |[low, high]| (high - low).max_element());
    let thin = SINGLE * size;
    let mut compared = 0_u64;
    let whole = tree.own_pairs(|one, other| {
        compared += 1;
        let pair = [mesh.faces[one as usize], mesh.faces[other as usize]];
        let corners = pair.map(|face| face.map(|corner| mesh.points[corner as usize]));
        if !apart(corners) {
            found.extend(clash(pair, corners, [one, other], thin, &mut on_edges));
        }
        if compared >= MOST_PAIRS || found.len() >= MOST_CLASHES {
            Next::Break(())
        } else {
            Next::Continue(())
        }
    });
    found.extend(through_edges(on_edges));
    for one in &mut found {
        one.faces.sort_unstable();
    }
    found.sort_by_key(|one| one.faces);
    found.dedup_by_key(|one| one.faces);
    (found, whole)
}

fn clash(
    pair: [[u32; 3]; 2],
    corners: [[DVec3; 3]; 2],
    faces: [u32; 2],
    thin: f64,
    on_edges: &mut EdgeHits,
) -> Option<Clashing> {
    let shared = pair[0].iter().filter(|corner| pair[1].contains(corner)).count();
    if shared < 2
        && let Some(at) = crossing(pair, corners, faces, on_edges)
    {
        return Some(Clashing { faces, clash: Clash::Crossing, at });
    }
    if shared == 3 || !overlap(corners) {
        return None;
    }
    let part = part_of_both(corners);
    // That of one of the faces may lie far from the other.
    let at = middle(&part);
    (width(&part) > thin).then_some(Clashing { faces, clash: Clash::Overlap, at })
}

fn middle(part: &[DVec3]) -> DVec3 {
    part.iter().fold(DVec3::ZERO, |sum, &p| sum + p) / f64::from(index_of(part.len()))
}

/// About how wide a flat, convex polygon is where it is narrow: twice its area over the longest way across it.
fn width(part: &[DVec3]) -> f64 {
    let Some(&first) = part.first() else { return 0.0 };
    let fan = part.windows(2).map(|two| (two[0] - first).cross(two[1] - first));
    let area = fan.fold(DVec3::ZERO, |sum, each| sum + each).length();
    let across = part.iter().flat_map(|a| part.iter().map(|b| a.distance(*b)));
    let longest = across.fold(0.0, larger);
    if longest > 0.0 { area / longest } else { 0.0 }
}

/// What two faces in one plane have in common.
fn part_of_both([one, other]: [[DVec3; 3]; 2]) -> Vec<DVec3> {
    let normal = |[a, b, c]: [DVec3; 3]| (b - a).cross(c - a);
    let size = |face| normal(face).length_squared();
    // The larger cuts the smaller: rounding may leave a needle no normal.
    let (small, large) = if size(one) < size(other) { (one, other) } else { (other, one) };
    let mut part = small.to_vec();
    for [from, to] in [[0, 1], [1, 2], [2, 0]] {
        let inward = normal(large).cross(large[to] - large[from]);
        let height = |point: DVec3| inward.dot(point - large[from]);
        let before = core::mem::take(&mut part);
        for (number, &here) in before.iter().enumerate() {
            let next = before[(number + 1) % before.len()];
            let (of_here, of_next) = (height(here), height(next));
            if of_here >= 0.0 {
                part.push(here);
            }
            if of_here > 0.0 && of_next < 0.0 || of_here < 0.0 && of_next > 0.0 {
                part.push(here.lerp(next, of_here / (of_here - of_next)));
            }
        }
    }
    // Rounding may leave nothing of a sliver.
    if part.is_empty() { small.to_vec() } else { part }
}

/// A place where the surfaces of two bodies pass through each other; none where they are apart or only touch.
///
/// # Valid for
/// Faces whose corners exist.
pub fn surfaces_cross(one: &Mesh, other: &Mesh) -> Option<DVec3> {
    let (first, second) = (BoxTree::new(one), BoxTree::new(other));
    let mut best: Option<([u32; 2], DVec3)> = None;
    let mut on_edges = EdgeHits::new();
    let shift = index_of(one.points.len());
    first.pairs(&second, |a, b| {
        let (Some(mine), Some(its)) = (one.corners(a as usize), other.corners(b as usize)) else {
            return;
        };
        if apart([mine, its]) || best.is_some_and(|(pair, _)| pair <= [a, b]) {
            return;
        }
        // Numbered apart, since the two meshes share no corner.
        let pair = [one.faces[a as usize], other.faces[b as usize].map(|corner| corner + shift)];
        let numbers = [a, b + index_of(one.faces.len())];
        if let Some(at) = crossing(pair, [mine, its], numbers, &mut on_edges) {
            best = Some(([a, b], at));
        }
    });
    best.map(|(_, at)| at).or_else(|| through_edges(on_edges).first().map(|clash| clash.at))
}

/// Where an edge meets the rim of a face, by the two edges that meet: the sign of the side that it comes from, the
/// faces, and the place. Told only when the face on the other side of that rim is known too.
type EdgeHits = BTreeMap<[[u32; 2]; 2], Vec<(bool, [u32; 2], DVec3)>>;

/// An edge that meets the common rim of two faces goes through the surface if it enters both from outside or both
/// from inside; else it only touches a ridge.
fn through_edges(hits: EdgeHits) -> Vec<Clashing> {
    let mut found = Vec::new();
    for meetings in hits.into_values() {
        for (number, &(side, faces, at)) in meetings.iter().enumerate() {
            let other = |&(its_side, its_faces, _): &(bool, [u32; 2], DVec3)| {
                its_side == side && its_faces[1] != faces[1]
            };
            if meetings[..number].iter().any(other) {
                found.push(Clashing { faces, clash: Clash::Crossing, at });
            }
        }
    }
    found
}

fn apart([one, other]: [[DVec3; 3]; 2]) -> bool {
    let low = |[a, b, c]: [DVec3; 3]| a.min(b).min(c);
    let high = |[a, b, c]: [DVec3; 3]| a.max(b).max(c);
    low(one).cmpgt(high(other)).any() || low(other).cmpgt(high(one)).any()
}

fn crossing(
    pair: [[u32; 3]; 2],
    corners: [[DVec3; 3]; 2],
    numbers: [u32; 2],
    on_edges: &mut EdgeHits,
) -> Option<DVec3> {
    for (of, against) in [(0, 1), (1, 0)] {
        for [start, end] in [[0, 1], [1, 2], [2, 0]] {
            let ends = [pair[of][start], pair[of][end]];
            if pair[against].contains(&ends[0]) || pair[against].contains(&ends[1]) {
                continue;
            }
            let edge = [corners[of][start], corners[of][end]];
            match meeting(edge, corners[against]) {
                Meeting::Inside(at) => return Some(at),
                Meeting::OnEdge(side, from_outside, at) => {
                    let rim = [pair[against][side], pair[against][(side + 1) % 3]];
                    let sorted = |[a, b]: [u32; 2]| if a < b { [a, b] } else { [b, a] };
                    // Seen from the edge's lower end, whichever of its two faces asks.
                    let from_outside = from_outside == (ends[0] < ends[1]);
                    let hits = on_edges.entry([sorted(ends), sorted(rim)]).or_default();
                    hits.push((from_outside, [numbers[of], numbers[against]], at));
                }
                Meeting::Not => {}
            }
        }
    }
    None
}

enum Meeting {
    Not,
    Inside(DVec3),
    /// On the side of this number; whether the edge starts on the outer side.
    OnEdge(usize, bool, DVec3),
}

fn meeting([from, to]: [DVec3; 2], face: [DVec3; 3]) -> Meeting {
    let [a, b, c] = face;
    let (start, end) = (side_of(face, from), side_of(face, to));
    if !(start > 0.0 && end < 0.0 || start < 0.0 && end > 0.0) {
        return Meeting::Not;
    }
    let turns = [[a, b], [b, c], [c, a]].map(|[p, q]| side_of([from, to, p], q));
    let at = place_on([from, to], face, start / (start - end));
    let positive = turns.iter().filter(|turn| **turn > 0.0).count();
    let negative = turns.iter().filter(|turn| **turn < 0.0).count();
    match (positive, negative) {
        (3, 0) | (0, 3) => Meeting::Inside(at),
        (2, 0) | (0, 2) => {
            let zero = turns.iter().position(|turn| turn.abs() <= 0.0).unwrap_or(0);
            // The determinant is positive for a point that sees the face turn clockwise: below it.
            Meeting::OnEdge(zero, start < 0.0, at)
        }
        _ => Meeting::Not,
    }
}

/// The place on an edge at a share of its length. Where edge and face lie nearly in one plane the signs at the ends are
/// right and their sizes are not, so that the share is held to the part of the edge over the face.
fn place_on([from, to]: [DVec3; 2], face: [DVec3; 3], share: f64) -> DVec3 {
    let (mut least, mut most) = (0.0, 1.0);
    let normal = (face[1] - face[0]).cross(face[2] - face[0]);
    for side in [[0, 1], [1, 2], [2, 0]] {
        let [a, b] = side.map(|corner| face[corner]);
        let inward = normal.cross(b - a);
        let (start, end) = (inward.dot(from - a), inward.dot(to - a));
        if start < 0.0 && end > 0.0 {
            least = larger(start / (start - end), least);
        } else if start > 0.0 && end < 0.0 {
            most = smaller(start / (start - end), most);
        }
    }
    let held = if least <= most { smaller(larger(share, least), most) } else { share };
    from.lerp(to, held)
}

/// Positive where `point` lies below the plane that sees the corners counter-clockwise from above.
fn side_of([a, b, c]: [DVec3; 3], point: DVec3) -> f64 {
    let plain = |p: DVec3| Coord3D { x: p.x, y: p.y, z: p.z };
    orient3d(plain(a), plain(b), plain(c), plain(point))
}

/// Whether two faces lie in one plane and share area of it.
fn overlap(corners: [[DVec3; 3]; 2]) -> bool {
    let [one, other] = corners;
    let flat = |face: [DVec3; 3], of: [DVec3; 3]| of.iter().all(|p| side_of(face, *p).abs() <= 0.0);
    if !flat(one, other) || !flat(other, one) {
        return false;
    }
    let normal = (one[1] - one[0]).cross(one[2] - one[0]).abs();
    let plane = |p: DVec3| {
        if normal.z >= normal.x && normal.z >= normal.y {
            DVec2::new(p.x, p.y)
        } else if normal.y >= normal.x {
            DVec2::new(p.z, p.x)
        } else {
            DVec2::new(p.y, p.z)
        }
    };
    let [one, other] = [one.map(plane), other.map(plane)];
    !separated(one, other) && !separated(other, one)
}

/// Whether a side of one has the whole other on its outer side or on itself.
fn separated(one: [DVec2; 3], other: [DVec2; 3]) -> bool {
    let turn = |a: DVec2, b: DVec2, c: DVec2| {
        let plain = |p: DVec2| Coord { x: p.x, y: p.y };
        orient2d(plain(a), plain(b), plain(c))
    };
    let way = turn(one[0], one[1], one[2]);
    [[0, 1], [1, 2], [2, 0]].iter().any(|[start, end]| {
        other.iter().all(|p| {
            let side = turn(one[*start], one[*end], *p);
            if way > 0.0 { side <= 0.0 } else { side >= 0.0 }
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mesh::Solid;

    fn block(min: [f64; 3], max: [f64; 3]) -> Mesh {
        Solid::Block { min: DVec3::from_array(min), max: DVec3::from_array(max) }.mesh().unwrap()
    }

    /// A corner on the diagonal of a square that rounding has put across it: the needle there is turned over, and its
    /// neighbours lie on each other in a strip. As wide as 0.01 mm it is told.
    #[test]
    fn a_strip_that_rounding_has_turned_over_is_no_fault() {
        let strips = |across: f64| {
            let mut mesh = block([0.0; 3], [0.3, 0.3, 0.1]);
            let top = |x: f64, y: f64| DVec3::new(x, y, 0.1);
            let number = |at: DVec3| index_of(mesh.points.iter().position(|p| *p == at).unwrap());
            let [a, b, c, d] =
                [top(0.0, 0.0), top(0.3, 0.0), top(0.3, 0.3), top(0.0, 0.3)].map(number);
            let is_top = |face: &[u32; 3]| face.iter().all(|corner| [a, b, c, d].contains(corner));
            mesh.faces.retain(|face| !is_top(face));
            mesh.points.push(top(0.15 - across, 0.15 + across));
            let m = index_of(mesh.points.len()) - 1;
            mesh.faces.extend([[a, b, m], [b, c, m], [a, m, c], [a, c, d]]);
            assert_eq!(crate::mesh::check(&mesh), Ok(()));
            clashes(&mesh).0.len()
        };
        assert_eq!(strips(1e-9), 0);
        assert!(strips(1e-5) > 0);
    }

    #[test]
    fn a_block_does_not_cross_itself() {
        assert!(clashes(&block([0.0; 3], [0.3, 0.2, 0.1])).0.is_empty());
    }

    #[test]
    fn blocks_that_pass_through_each_other_are_found_wherever_their_diagonals_run() {
        let one = block([0.0; 3], [2.0, 2.0, 2.0]);
        for other in [
            block([1.0, 0.5, 0.7], [3.0, 1.4, 1.5]),
            // Edges of the one run exactly through the diagonals of the other's faces.
            block([0.5, 1.0, 1.0], [2.5, 1.5, 1.5]),
            block([1.0, 1.0, 1.0], [3.0, 3.0, 3.0]),
        ] {
            assert!(surfaces_cross(&one, &other).is_some(), "{other:?}");
            let mut both = one.clone();
            both.append(&other);
            assert!(!clashes(&both).0.is_empty(), "{other:?}");
        }
    }

    #[test]
    fn blocks_that_touch_do_not_cross() {
        let one = block([0.0; 3], [2.0, 2.0, 2.0]);
        for other in [
            block([2.0, 0.5, 0.5], [3.0, 1.5, 1.5]),
            block([0.5, 0.5, 0.0], [1.5, 1.5, 1.0]),
            block([2.0, 2.0, 0.5], [3.0, 3.0, 1.5]),
            block([2.0, 0.0, 1.0], [3.0, 1.0, 3.0]),
            block([0.5, 0.5, 0.5], [1.5, 1.5, 1.5]),
        ] {
            assert_eq!(surfaces_cross(&one, &other), None, "{other:?}");
        }
    }

    #[test]
    fn faces_that_cover_one_place_twice_overlap() {
        let one = block([0.0; 3], [2.0, 2.0, 2.0]);
        let mut both = one.clone();
        both.append(&block([2.0, 0.5, 0.5], [3.0, 1.5, 1.5]));
        let (found, whole) = clashes(&both);
        assert!(whole);
        assert!(!found.is_empty());
        assert!(found.iter().all(|clash| clash.clash == Clash::Overlap));
    }

    #[test]
    fn an_overlap_stands_where_both_faces_are() {
        // A chip in the far corner of a large face, whichever of the two comes first.
        let large = [DVec3::ZERO, DVec3::X, DVec3::Y];
        let chip = [[0.75, 0.0], [1.0, 0.0], [0.75, 0.125]].map(|[x, y]| DVec3::new(x, y, 0.0));
        for points in [[large, chip].concat(), [chip, large].concat()] {
            let (found, _) = clashes(&Mesh { points, faces: vec![[0, 1, 2], [3, 4, 5]] });
            let [Clashing { clash: Clash::Overlap, at, .. }] = found[..] else {
                panic!("{found:?}")
            };
            assert!(at.x > 0.75 && at.x < 1.0 && at.y > 0.0 && at.y < 0.125, "{at}");
        }
        // A needle that overlaps by rounding: its place is on its line, whichever comes first.
        let large = [
            [0.121_247_455_477_714_54, 0.0, -0.044_059_865_176_677_704],
            [0.252_371_393_144_130_7, 0.0, -0.044_059_865_176_677_704],
            [0.252_371_393_144_130_7, 0.0, 0.0],
        ]
        .map(DVec3::from_array);
        let needle = [
            large[0],
            large[2],
            DVec3::new(0.217_362_772_317_204_6, 0.0, -0.011_763_489_879_169_933),
        ];
        for pair in [[large, needle], [needle, large]] {
            let at = middle(&part_of_both(pair));
            let off = (at - large[0]).cross(large[2] - large[0]).length() / 0.14;
            assert!(off < 1e-12, "{at} is {off} from the line");
        }
    }
    /// The numbers are those of a face moved in its own plane, as `tests/outside/broken.py` found them.
    #[test]
    fn a_crossing_of_faces_nearly_in_one_plane_stands_where_both_are() {
        let points = [
            [1.142_085_446_281_309, 1.020_552_587_205_249_7, 1.377_337_340_777_727_4],
            [1.227_654_215_454_988_5, 2.116_687_323_295_934, -0.406_253_651_045_219_8],
            [1.677_635_403_579_080_1, 0.391_334_248_647_852_05, 0.752_298_203_385_783_8],
            [1.634_851_018_992_240_3, -0.156_733_119_397_490_02, 1.644_093_699_297_257_5],
            [1.184_869_830_868_149, 1.568_619_955_250_591_7, 0.485_541_844_866_253_85],
            [1.702_061_322_224_123, 0.704_229_924_795_924_4, 0.243_165_620_516_990_73],
        ];
        let points = points.map(DVec3::from_array).to_vec();
        let mesh = Mesh { points, faces: vec![[0, 1, 2], [3, 4, 5]] };
        let (found, _) = clashes(&mesh);
        let [Clashing { clash: Clash::Crossing, at, .. }] = found[..] else { panic!("{found:?}") };
        for face in 0..2 {
            let [a, b, c] = mesh.corners(face).unwrap();
            let area = |p: DVec3, q: DVec3, r: DVec3| (q - p).cross(r - p).length();
            let parts = area(a, b, at) + area(b, c, at) + area(c, a, at);
            assert!((parts / area(a, b, c) - 1.0).abs() < 1e-9, "{at} in face {face}");
        }
    }
}
