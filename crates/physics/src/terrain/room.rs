//! How much room there is round a place at some depth.

use super::Terrain;
use crate::mesh::smaller;
use glam::{DVec2, DVec3};
use uom::si::f64::Length;
use uom::si::length::meter;

impl Terrain {
    /// The distance in plan from a place to the nearest floor or wall that reaches above `depth`; 0 where the
    /// ground at the place itself does.
    ///
    /// # Valid for
    /// Any place; outside the terrain it is the distance to its walls from without.
    ///
    /// # Source
    /// Plain geometry: every face is cut at that depth, and what lies above is measured to.
    pub fn room(&self, place: DVec2, depth: Length) -> Length {
        if self.has_undercuts() {
            return self.room_in_section(place, depth);
        }
        let mut nearest = f64::INFINITY;
        for number in 0..self.mesh.faces.len() {
            let Some(corners) = self.mesh.corners(number) else { continue };
            // The lid is no wall: it is where the pan is open.
            if corners.iter().all(|corner| corner.z >= 0.0) || far(&corners, place, nearest) {
                continue;
            }
            let above = part_above(&corners, -depth.value);
            nearest = smaller(distance(&above, place), nearest);
        }
        Length::new::<meter>(nearest)
    }

    /// The distance in plan from a place to the edge of the level section that it lies in: under a ceiling what
    /// reaches above `depth` is not what stands in the way at it.
    fn room_in_section(&self, place: DVec2, depth: Length) -> Length {
        if !self.holds(place.extend(-depth.value)) {
            return Length::new::<meter>(0.0);
        }
        let mut nearest = f64::INFINITY;
        for number in 0..self.mesh.faces.len() {
            let Some(corners) = self.mesh.corners(number) else { continue };
            if far(&corners, place, nearest) {
                continue;
            }
            let cut = section(&corners, -depth.value);
            if let [from, to] = cut.as_slice() {
                nearest = smaller(to_segment(*from, *to, place), nearest);
            }
        }
        Length::new::<meter>(nearest)
    }
}

/// Where a face meets a level plane, seen in plan: two ends, or nothing.
fn section(corners: &[DVec3; 3], height: f64) -> Vec<DVec2> {
    let mut ends = Vec::with_capacity(2);
    for (corner, next) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let (here, there) = (corner.z - height, next.z - height);
        if (here > 0.0) != (there > 0.0) {
            ends.push(corner.lerp(*next, here / (here - there)).truncate());
        }
    }
    ends
}

/// Whether a face lies farther in plan than what was found already.
fn far(corners: &[DVec3; 3], place: DVec2, nearest: f64) -> bool {
    let [a, b, c] = corners.map(DVec3::truncate);
    let (low, high) = (a.min(b).min(c), a.max(b).max(c));
    place.distance_squared(place.clamp(low, high)) > nearest * nearest
}

/// The part of a face above a height, seen in plan.
fn part_above(corners: &[DVec3; 3], height: f64) -> Vec<DVec2> {
    let mut part = Vec::with_capacity(4);
    for (corner, next) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let (here, there) = (corner.z - height, next.z - height);
        if here > 0.0 {
            part.push(corner.truncate());
        }
        if (here > 0.0) != (there > 0.0) {
            part.push(corner.lerp(*next, here / (here - there)).truncate());
        }
    }
    part
}

/// From a place to a convex polygon, which may be a mere segment; infinite where there is none.
fn distance(polygon: &[DVec2], place: DVec2) -> f64 {
    let sides = || polygon.iter().zip(polygon.iter().cycle().skip(1));
    let turns = || sides().map(|(a, b)| (*b - *a).perp_dot(place - *a));
    let flat = sides().map(|(a, b)| a.perp_dot(*b)).sum::<f64>().abs() <= f64::EPSILON;
    if !flat && (turns().all(|turn| turn >= 0.0) || turns().all(|turn| turn <= 0.0)) {
        return 0.0;
    }
    sides().map(|(a, b)| to_segment(*a, *b, place)).fold(f64::INFINITY, smaller)
}

fn to_segment(a: DVec2, b: DVec2, place: DVec2) -> f64 {
    let along = b - a;
    let length = along.length_squared();
    let share = if length > 0.0 { ((place - a).dot(along) / length).clamp(0.0, 1.0) } else { 0.0 };
    (a + along * share).distance(place)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terrain::{Outline, Zone};
    use uom::si::angle::degree;
    use uom::si::f64::Angle;
    use uom::si::length::millimeter;

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn pan(draft: f64) -> Terrain {
        let rail = Outline::rectangle(DVec2::ZERO, mm(400.0), mm(200.0), mm(0.0)).unwrap();
        let sump = Outline::rectangle(DVec2::ZERO, mm(200.0), mm(100.0), mm(0.0)).unwrap();
        let draft = Angle::new::<degree>(draft);
        let zone = |outline, opens_at, floor| Zone {
            outline,
            opens_at: mm(opens_at),
            floor: mm(floor),
            slope: None,
            draft,
        };
        Terrain::build(&[zone(rail, 0.0, 40.0), zone(sump, 40.0, 90.0)]).unwrap()
    }

    fn room(terrain: &Terrain, x: f64, y: f64, depth: f64) -> f64 {
        terrain.room(DVec2::new(x, y) * 1e-3, mm(depth)).get::<millimeter>()
    }

    #[test]
    fn upright_walls_are_as_far_as_they_stand() {
        let pan = pan(0.0);
        // In the sump below the shelf its own walls count, above the shelf those of the rail.
        assert!((room(&pan, 10.0, 0.0, 60.0) - 50.0).abs() < 1e-9);
        assert!((room(&pan, 80.0, 0.0, 60.0) - 20.0).abs() < 1e-9);
        assert!((room(&pan, 10.0, 0.0, 20.0) - 100.0).abs() < 1e-9);
        assert!((room(&pan, 180.0, 70.0, 20.0) - 20.0).abs() < 1e-9);
    }

    #[test]
    fn a_leaning_wall_comes_nearer_with_depth() {
        let lean = libm::tan(10.0 * core::f64::consts::PI / 180.0);
        let found = room(&pan(10.0), 0.0, 0.0, 60.0);
        assert!((found - (50.0 - 20.0 * lean)).abs() < 1e-9, "{found}");
    }

    #[test]
    fn there_is_no_room_under_the_floor() {
        assert!(room(&pan(0.0), 150.0, 0.0, 60.0).abs() < 1e-12);
        assert!(room(&pan(0.0), 0.0, 0.0, 95.0).abs() < 1e-12);
    }
}
