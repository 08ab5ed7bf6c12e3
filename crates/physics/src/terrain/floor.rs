//! The floor as oil leaves it bare: how much of it, and which of it first.

use super::Terrain;
use glam::{DVec2, DVec3};
use uom::si::f64::{Length, Ratio};
use uom::si::ratio::ratio;

/// Cosine of the slope up to which ground is floor and not wall: 45°.
const FLOOR: f64 = core::f64::consts::FRAC_1_SQRT_2;

impl Terrain {
    /// The share of the ground, seen in plan, that stands out of the oil.
    ///
    /// # Formula
    /// Σ plan area of each face that looks down above the plane up·p = height / Σ plan area; 0 without a floor.
    ///
    /// # Valid for
    /// Floors and leaning walls alike, so that it does not hang on where the one ends; what hangs in the oil takes nothing
    /// away. One surface for all oil.
    ///
    /// # Source
    /// Plane geometry; tested against the wetted length of a tilted box.
    pub fn dry_floor_share(&self, up: DVec3, height: Length) -> Ratio {
        let (mut dry, mut all) = (0.0, 0.0);
        for face in self.floor_faces() {
            all += plan_area(face);
            dry += plan_area(&above(face, up, height.value));
        }
        Ratio::new::<ratio>(if all > 0.0 { dry / all } else { 0.0 })
    }

    /// Corners of the floor that lie within a step of the deepest point.
    pub fn lowest_floor(&self, within: Length) -> Vec<DVec3> {
        let from = within.value - self.deepest;
        let floors = self.floor_faces().iter().filter(|face| is_floor(face));
        let corners = floors.flatten().filter(|corner| corner.z <= from);
        let mut lowest: Vec<DVec3> = corners.copied().collect();
        lowest.sort_by(|a, b| {
            a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)).then(a.z.total_cmp(&b.z))
        });
        lowest.dedup();
        lowest
    }
}

fn is_floor(face: &[DVec3; 3]) -> bool {
    let [a, b, c] = *face;
    let normal = (b - a).cross(c - a);
    normal.z.abs() >= FLOOR * normal.length()
}

/// The part of a face above a plane, as a polygon.
fn above(face: &[DVec3; 3], up: DVec3, height: f64) -> Vec<DVec3> {
    let [a, b, c] = *face;
    let over = |corner: DVec3| up.dot(corner) - height;
    let mut polygon = Vec::with_capacity(4);
    for (from, to) in [(a, b), (b, c), (c, a)] {
        let (at_from, at_to) = (over(from), over(to));
        if at_from > 0.0 {
            polygon.push(from);
        }
        if (at_from > 0.0) != (at_to > 0.0) {
            polygon.push(from + (to - from) * (at_from / (at_from - at_to)));
        }
    }
    polygon
}

/// Area of a polygon seen in plan.
fn plan_area(polygon: &[DVec3]) -> f64 {
    let first = polygon.first().map_or(DVec2::ZERO, |corner| corner.truncate());
    let from_first = polygon.iter().map(|corner| corner.truncate() - first);
    let next = from_first.clone().skip(1);
    from_first.zip(next).map(|(a, b)| a.perp_dot(b) / 2.0).sum::<f64>().abs()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terrain::{Outline, Zone};
    use uom::si::length::{meter, millimeter};

    fn boxed() -> Terrain {
        let mm = Length::new::<millimeter>;
        let outline = Outline::rectangle(DVec2::ZERO, mm(400.0), mm(270.0), mm(0.0)).unwrap();
        let draft = uom::si::f64::Angle::new::<uom::si::angle::degree>(0.0);
        let zone = Zone { outline, opens_at: mm(0.0), floor: mm(200.0), slope: None, draft };
        Terrain::build(&[zone]).unwrap()
    }

    // Elementary solid geometry (Bronshtein/Semendyayev, Handbook of Mathematics, stereometry): 4.0 L in a box of 0.400 m by
    // 0.270 m pitched 20 deg wet 285.31866 mm of the floor from the low end, where they stand 103.8475 mm deep.
    #[test]
    fn a_tilted_box_bares_the_worked_share_of_its_floor() {
        let tilt = 20.0 * core::f64::consts::PI / 180.0;
        let up = DVec3::new(libm::sin(tilt), 0.0, libm::cos(tilt));
        let surface = up.dot(DVec3::new(-0.2, 0.0, -0.2 + 0.103_847_5));
        let share = boxed().dry_floor_share(up, Length::new::<meter>(surface)).value;
        assert!((share - (1.0 - 0.285_318_66 / 0.4)).abs() < 1e-6, "{share}");
        let level =
            |height: f64| boxed().dry_floor_share(DVec3::Z, Length::new::<meter>(height)).value;
        assert!(level(-0.1).abs() <= 0.0 && (level(-0.3) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn the_lowest_floor_of_a_box_is_its_four_corners() {
        let lowest = boxed().lowest_floor(Length::new::<millimeter>(1.0));
        assert_eq!(lowest.len(), 4);
        assert!(
            lowest.iter().all(|p| (p.x.abs() - 0.2).abs() < 1e-12 && (p.z + 0.2).abs() < 1e-12)
        );
    }
}
