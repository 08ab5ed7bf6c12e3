//! The ground inside a closed mesh of any shape, undercuts and all.
//!
//! Where no face but the lid looks up, every plumb line through the body runs through it once, from the rail down to
//! the floor, and all that is asked of zones has the same one answer. Where a face below the rail looks up, a
//! question about a place in plan can have several answers; then what is asked must say from which depth it is
//! looked, or the answer is withheld.

#![expect(
    clippy::indexing_slicing,
    reason = "corners of a face are three, and pairs of a line are two"
)]

use super::query::{Under, clip, plan_bounds};
use super::{Terrain, outline};
use crate::mesh::{BoxTree, Mesh, is_inside, larger, smaller};
use glam::{DVec2, DVec3};
use uom::si::f64::{Area, Length};
use uom::si::length::meter;

/// The sine under which a face's slope against the plumb line is a wall's, not a floor's or a ceiling's.
const UPRIGHT: f64 = 1e-9;

/// What is kept of a mesh of any shape beside what is kept of zones.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct General {
    tree: BoxTree,
    /// The faces below the rail that look up.
    ceilings: Vec<[DVec3; 3]>,
}

impl Terrain {
    /// The ground of a closed body that ends at the rail, of any shape.
    ///
    /// # Valid for
    /// Closed meshes turned outward, without faces that cross, the lid at z = 0.
    pub fn of_mesh(mesh: Mesh) -> Self {
        let faces = || (0..mesh.faces.len()).filter_map(|face| mesh.corners(face));
        let floor: Vec<[DVec3; 3]> = faces().filter(|face| leans(face) < -UPRIGHT).collect();
        let below_rail = |face: &[DVec3; 3]| face.iter().any(|corner| corner.z < 0.0);
        let ceilings = faces().filter(|face| leans(face) > UPRIGHT && below_rail(face)).collect();
        let bounds = floor.iter().map(plan_bounds).collect();
        let deepest = mesh.points.iter().fold(0.0, |depth, corner| larger(depth, -corner.z));
        let general = Some(General { tree: BoxTree::new(&mesh), ceilings });
        Self { mesh, floor, bounds, deepest, chord_share: 0.0, doubt: 0.0, general }
    }

    /// Whether a face below the rail looks up, so that a place in plan may have several depths.
    pub fn has_undercuts(&self) -> bool {
        self.general.as_ref().is_some_and(|general| !general.ceilings.is_empty())
    }

    /// Whether a straight line in plan passes under no face that looks up, so that it has one profile.
    pub fn is_plain_along(&self, from: DVec2, to: DVec2) -> bool {
        let Some(general) = &self.general else { return true };
        !general.ceilings.iter().any(|face| line_meets(&face.map(DVec3::truncate), from, to))
    }

    /// As [`Terrain::under`], for a footprint that lies at some depth: what hangs above it does not count.
    ///
    /// Where the footprint at that depth is not wholly inside, everything over it counts.
    pub fn under_from(&self, footprint: &[DVec2], depth: Length) -> Under {
        let all = self.under(footprint);
        if !self.has_undercuts() || footprint.len() < 3 {
            return all;
        }
        let mut turned = footprint.to_vec();
        if outline::doubled_area(&turned) < 0.0 {
            turned.reverse();
        }
        let height = -depth.value;
        let middle = turned.iter().copied().sum::<DVec2>() / turned.len() as f64;
        if !self.holds(middle.extend(height)) {
            return all;
        }
        let [low, high] = outline::bounds(&turned);
        let mut least = f64::INFINITY;
        for number in 0..self.mesh.faces.len() {
            let Some(face) = self.mesh.corners(number) else { continue };
            let [from, to] = plan_bounds(&face);
            if from.cmpgt(high).any() || to.cmplt(low).any() {
                continue;
            }
            let part = clip(&face, &turned);
            let bottom = part.iter().fold(f64::INFINITY, |z, p| smaller(p.z, z));
            let top = part.iter().fold(f64::NEG_INFINITY, |z, p| larger(p.z, z));
            if bottom < height && height < top && part.len() > 2 {
                return all;
            }
            if top <= height && leans(&face) < -UPRIGHT {
                least = smaller(-top, least);
            }
        }
        if least.is_finite() {
            Under { least_depth: Length::new::<meter>(least), outside: Area::default(), ..all }
        } else {
            all
        }
    }

    /// Whether a point lies inside the body.
    pub fn holds(&self, point: DVec3) -> bool {
        match &self.general {
            Some(general) => is_inside(&self.mesh, &general.tree, point),
            None => self
                .depth_at(point.truncate())
                .is_some_and(|depth| point.z <= 0.0 && -point.z <= depth.value),
        }
    }

    /// Calls with the corners of every face of the body that may stand nearer to a box, given by its least and greatest
    /// corner, than the reach (m); each answer is how far to reach from there on.
    pub fn faces_near(
        &self,
        round: [DVec3; 2],
        reach: f64,
        mut each: impl FnMut([DVec3; 3]) -> f64,
    ) {
        let mut look = |face: usize| self.mesh.corners(face).map_or(reach, &mut each);
        match &self.general {
            Some(general) => general.tree.near(round, reach, |face| look(face as usize)),
            None => (0..self.mesh.faces.len()).for_each(|face| _ = look(face)),
        }
    }

    /// The depth of the first floor straight below a point; none where there is none.
    pub fn floor_below(&self, point: DVec3) -> Option<Length> {
        if !self.has_undercuts() {
            return self.depth_at(point.truncate());
        }
        self.nearest_wall(point, DVec3::NEG_Z).map(|down| down - Length::new::<meter>(point.z))
    }

    /// Calls with every face that a ray may meet.
    pub(super) fn faces_along(&self, point: DVec3, direction: DVec3, mut each: impl FnMut(usize)) {
        match &self.general {
            Some(general) => {
                general.tree.along(point, direction, 1e-9, |face| each(face as usize));
            }
            None => (0..self.mesh.faces.len()).for_each(each),
        }
    }
}

/// How far a face looks up: the upward part of its unit normal.
fn leans([a, b, c]: &[DVec3; 3]) -> f64 {
    (*b - *a).cross(*c - *a).normalize_or_zero().z
}

fn line_meets(face: &[DVec2; 3], from: DVec2, to: DVec2) -> bool {
    let inside = |p: DVec2| {
        let turns =
            [[0, 1], [1, 2], [2, 0]].map(|[a, b]| (face[b] - face[a]).perp_dot(p - face[a]));
        turns.iter().all(|turn| *turn >= 0.0) || turns.iter().all(|turn| *turn <= 0.0)
    };
    let crosses = |a: DVec2, b: DVec2| {
        let side = |o: DVec2, d: DVec2, t: DVec2| (d - o).perp_dot(t - o);
        side(a, b, from) * side(a, b, to) <= 0.0 && side(from, to, a) * side(from, to, b) <= 0.0
    };
    inside(from)
        || inside(to)
        || [[0, 1], [1, 2], [2, 0]].iter().any(|[a, b]| crosses(face[*a], face[*b]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mesh::Solid;
    use crate::terrain::{Outline, Zone};
    use uom::si::angle::degree;
    use uom::si::f64::Angle;
    use uom::si::length::millimeter;

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn pan() -> Terrain {
        let rail = Outline::rectangle(DVec2::ZERO, mm(400.0), mm(260.0), mm(25.0)).unwrap();
        let sump =
            Outline::rectangle(DVec2::new(0.02, 0.0), mm(200.0), mm(200.0), mm(10.0)).unwrap();
        let zone = |outline, opens_at, floor| Zone {
            outline,
            opens_at: mm(opens_at),
            floor: mm(floor),
            slope: None,
            draft: Angle::new::<degree>(5.0),
        };
        Terrain::build(&[zone(rail, 0.0, 40.0), zone(sump, 40.0, 90.0)]).unwrap()
    }

    #[test]
    fn a_mesh_of_zones_answers_as_the_zones_do() {
        let zones = pan();
        let mesh = Terrain::of_mesh(zones.mesh().clone());
        assert!(!mesh.has_undercuts());
        assert_eq!(zones.deepest(), mesh.deepest());
        for (x, y) in [(0.0, 0.0), (0.1, 0.05), (0.15, 0.1), (-0.18, 0.02), (0.5, 0.5)] {
            let place = DVec2::new(x, y);
            assert_eq!(zones.depth_at(place), mesh.depth_at(place));
            let disc = Outline::circle(place, mm(32.0)).unwrap();
            assert_eq!(zones.under(disc.points()), mesh.under_from(disc.points(), mm(20.0)));
            assert_eq!(zones.room(place, mm(30.0)), mesh.room(place, mm(30.0)));
            let inside = place.extend(-0.01);
            assert_eq!(
                zones.nearest_wall(inside, DVec3::NEG_Y),
                mesh.nearest_wall(inside, DVec3::NEG_Y)
            );
        }
        let line = [DVec2::new(-0.1, -0.2), DVec2::new(0.1, 0.2)];
        assert_eq!(zones.profile(line[0], line[1]), mesh.profile(line[0], line[1]));
    }

    /// A room with a slab hung in it: 100 mm deep, the slab from depth 30 to 40 over x from 0 to 100.
    fn with_a_slab() -> Terrain {
        let block = |min: [f64; 3], max: [f64; 3]| {
            Solid::Block { min: DVec3::from_array(min), max: DVec3::from_array(max) }
                .mesh()
                .unwrap()
        };
        let mut body = block([-0.2, -0.1, -0.1], [0.2, 0.1, 0.0]);
        let mut slab = block([0.0, -0.05, -0.04], [0.1, 0.05, -0.03]);
        for face in &mut slab.faces {
            face.swap(0, 1);
        }
        body.append(&slab);
        Terrain::of_mesh(body)
    }

    #[test]
    fn under_a_slab_the_floor_counts_and_above_it_the_slab() {
        let terrain = with_a_slab();
        assert!(terrain.has_undercuts());
        let disc = Outline::circle(DVec2::new(0.05, 0.0), mm(20.0)).unwrap();
        let from = |depth: f64| {
            terrain.under_from(disc.points(), mm(depth)).least_depth.get::<millimeter>()
        };
        assert!((from(60.0) - 100.0).abs() < 1e-9);
        assert!((from(10.0) - 30.0).abs() < 1e-9);
        // In the slab itself the place is not inside, and everything counts.
        assert!((from(35.0) - 30.0).abs() < 1e-9);
        let below = |depth: f64| terrain.floor_below(DVec3::new(0.05, 0.0, -depth / 1e3)).unwrap();
        assert!((below(60.0).get::<millimeter>() - 100.0).abs() < 1e-9);
        assert!((below(10.0).get::<millimeter>() - 30.0).abs() < 1e-9);
    }

    #[test]
    fn room_at_a_depth_is_that_of_the_section_there() {
        let terrain = with_a_slab();
        let room =
            |x: f64, depth: f64| terrain.room(DVec2::new(x, 0.0), mm(depth)).get::<millimeter>();
        assert!((room(-0.03, 35.0) - 30.0).abs() < 1e-9);
        // Under the slab it is no wall.
        assert!((room(-0.03, 60.0) - 100.0).abs() < 1e-9);
        assert!(room(0.05, 35.0).abs() < 1e-9);
    }

    #[test]
    fn a_line_under_the_slab_is_not_plain() {
        let terrain = with_a_slab();
        let line = |x: f64| terrain.is_plain_along(DVec2::new(x, -0.1), DVec2::new(x, 0.1));
        assert!(line(-0.1));
        assert!(!line(0.05));
    }
}
