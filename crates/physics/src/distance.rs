//! How far two convex bodies stand apart.

use glam::DVec3;
use uom::si::f64::Length;
use uom::si::length::meter;

/// Passes after which the search gives its best: a dozen suffice as a rule.
const PASSES: u32 = 100;
/// The distance is settled when nothing lies nearer by more than this share of it.
const SETTLED: f64 = 1e-9;
/// Bodies nearer than this, in metres, touch.
const TOUCHING: f64 = 1e-9;

/// A convex body.
#[derive(Debug, Clone, PartialEq)]
pub enum Convex {
    /// The hull of points.
    Points(Vec<DVec3>),
    /// A round bar between the middles of its two ends; without length a disc needs its `axis`.
    Cylinder {
        /// The middle.
        middle: DVec3,
        /// Unit vector along it.
        axis: DVec3,
        /// Half of its length.
        half: Length,
        /// Its radius.
        radius: Length,
    },
}

impl Convex {
    /// A box between two corners.
    pub fn block(min: DVec3, max: DVec3) -> Self {
        let corner = |i: u32| {
            let pick = |bit: u32, low: f64, high: f64| if i & bit == 0 { low } else { high };
            DVec3::new(pick(1, min.x, max.x), pick(2, min.y, max.y), pick(4, min.z, max.z))
        };
        Self::Points((0..8).map(corner).collect())
    }

    /// The least and greatest corner of the box round it.
    pub fn bounds(&self) -> [DVec3; 2] {
        if let Self::Points(points) = self {
            let first = points.first().copied().unwrap_or(DVec3::ZERO);
            let round = |[low, high]: [DVec3; 2], p: &DVec3| [low.min(*p), high.max(*p)];
            return points.iter().fold([first; 2], round);
        }
        let reach = |along: DVec3| self.farthest(along).dot(along);
        let high = DVec3::new(reach(DVec3::X), reach(DVec3::Y), reach(DVec3::Z));
        let low = DVec3::new(reach(-DVec3::X), reach(-DVec3::Y), reach(-DVec3::Z));
        [-low, high]
    }

    /// The point that lies farthest along a direction.
    fn farthest(&self, along: DVec3) -> DVec3 {
        match self {
            Self::Points(points) => {
                let reaches = points.iter().map(|point| (*point, point.dot(along)));
                let farthest = reaches.reduce(|a, b| if b.1 > a.1 { b } else { a });
                farthest.map_or(DVec3::ZERO, |(point, _)| point)
            }
            Self::Cylinder { middle, axis, half, radius } => {
                let end = if axis.dot(along) < 0.0 { -*axis } else { *axis };
                let across = (along - *axis * axis.dot(along)).normalize_or_zero();
                *middle + end * half.value + across * radius.value
            }
        }
    }
}

/// The distance of two boxes, each by its least and greatest corner: no more than that of the bodies in them.
pub fn boxes_apart([low, high]: [DVec3; 2], [from, to]: [DVec3; 2]) -> Length {
    Length::new::<meter>((from - high).max(low - to).max(DVec3::ZERO).length())
}

/// The distance between two bodies, and the unit vector from the first to the second; nothing where they touch.
///
/// # Valid for
/// Bodies that are not empty.
/// # Source
/// Gilbert, Johnson and Keerthi, IEEE Journal of Robotics and Automation 4 (1988), from memory.
pub fn distance(one: &Convex, other: &Convex) -> Option<(Length, DVec3)> {
    let difference = |along: DVec3| other.farthest(-along) - one.farthest(along);
    let mut nearest = difference(DVec3::X);
    let mut corners = vec![nearest];
    for _ in 0..PASSES {
        let square = nearest.length_squared();
        if square <= TOUCHING * TOUCHING {
            return None;
        }
        let corner = difference(nearest);
        if square - nearest.dot(corner) <= SETTLED * square || corners.contains(&corner) {
            break;
        }
        corners.push(corner);
        let (point, kept) = nearest_of(&corners)?;
        // Rounding alone brings it no nearer.
        if point.length_squared() >= square {
            break;
        }
        (nearest, corners) = (point, kept);
    }
    let length = nearest.length();
    Some((Length::new::<meter>(length), nearest / length))
}

/// The point of a corner, edge, triangle or tetrahedron that is nearest to the origin, and the corners that hold it;
/// none where the origin lies inside.
fn nearest_of(corners: &[DVec3]) -> Option<(DVec3, Vec<DVec3>)> {
    match *corners {
        [a, b] => Some(on_edge(a, b)),
        [a, b, c] => Some(on_triangle(a, b, c)),
        [a, b, c, d] => {
            let faces = [(a, b, c, d), (a, b, d, c), (a, c, d, b), (b, c, d, a)];
            let outside = faces.into_iter().filter(|(p, q, r, inner)| {
                let normal = (*q - *p).cross(*r - *p);
                // The origin and the inner corner stand on two sides, or the tetrahedron is flat.
                -p.dot(normal) * (*inner - *p).dot(normal) <= 0.0
            });
            outside
                .map(|(p, q, r, _)| on_triangle(p, q, r))
                .reduce(|x, y| if y.0.length_squared() < x.0.length_squared() { y } else { x })
        }
        _ => corners.first().map(|a| (*a, vec![*a])),
    }
}

fn on_edge(a: DVec3, b: DVec3) -> (DVec3, Vec<DVec3>) {
    let along = b - a;
    let share = -a.dot(along) / along.length_squared();
    if share > 0.0 && share < 1.0 {
        (a + along * share, vec![a, b])
    } else if share >= 1.0 {
        (b, vec![b])
    } else {
        (a, vec![a])
    }
}

fn on_triangle(a: DVec3, b: DVec3, c: DVec3) -> (DVec3, Vec<DVec3>) {
    let normal = (b - a).cross(c - a);
    let size = normal.length_squared();
    let inside = |p: DVec3, q: DVec3| (q - p).cross(-p).dot(normal) > 0.0;
    if size > 0.0 && inside(a, b) && inside(b, c) && inside(c, a) {
        return (normal * (a.dot(normal) / size), vec![a, b, c]);
    }
    [on_edge(a, b), on_edge(b, c), on_edge(c, a)]
        .into_iter()
        .reduce(|x, y| if y.0.length_squared() < x.0.length_squared() { y } else { x })
        .unwrap_or_else(|| (a, vec![a]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn cube(middle: DVec3, half: f64) -> Convex {
        Convex::block(middle - DVec3::splat(half), middle + DVec3::splat(half))
    }

    fn apart(one: &Convex, other: &Convex) -> f64 {
        distance(one, other).map_or(0.0, |(length, _)| length.value)
    }

    fn bar(middle: DVec3, axis: DVec3, half: f64, radius: f64) -> Convex {
        let m = Length::new::<meter>;
        Convex::Cylinder { middle, axis, half: m(half), radius: m(radius) }
    }

    // Elementary geometry: face to face 1 m, edge to edge √2, corner to corner √3 of the gap; a bar beside a cube.
    #[test]
    fn cubes_and_bars_stand_apart_as_geometry_has_it() {
        let one = cube(DVec3::ZERO, 1.0);
        for (at, meant) in [
            (DVec3::new(3.0, 0.3, -0.2), 1.0),
            (DVec3::new(3.0, 3.0, 0.0), 2.0_f64.sqrt()),
            (DVec3::new(3.0, -3.0, 3.0), 3.0_f64.sqrt()),
        ] {
            assert!((apart(&one, &cube(at, 1.0)) - meant).abs() < 1e-9, "{at}");
        }
        assert!(
            (apart(&one, &bar(DVec3::new(0.0, 0.0, 4.0), DVec3::X, 5.0, 0.5)) - 2.5).abs() < 1e-8
        );
        let leaning = bar(DVec3::new(3.0, 3.0, 0.0), DVec3::Z, 5.0, 0.5);
        assert!((apart(&one, &leaning) - (8.0_f64.sqrt() - 0.5)).abs() < 1e-7);
        assert_eq!(distance(&one, &cube(DVec3::splat(1.5), 1.0)), None);
    }

    proptest! {
        // The distance of two boxes in closed form: the root of the squares of the gaps along the axes.
        #[test]
        fn boxes_stand_apart_by_the_root_of_the_squares_of_their_gaps(
            at in prop::array::uniform3(-5.0_f64..5.0),
            half in prop::array::uniform3(0.1_f64..2.0),
        ) {
            let (at, half) = (DVec3::from_array(at), DVec3::from_array(half));
            let other = Convex::block(at - half, at + half);
            let gaps = (at.abs() - half - DVec3::ONE).max(DVec3::ZERO);
            let found = apart(&cube(DVec3::ZERO, 1.0), &other);
            prop_assert!((found - gaps.length()).abs() < 1e-7, "{found} {}", gaps.length());
        }

        // A round bar along z and a box: in plan the distance of the box from the middle less the radius.
        #[test]
        fn a_bar_stands_apart_from_a_box_as_in_plan(
            x in -5.0_f64..5.0,
            y in -5.0_f64..5.0,
            radius in 0.1_f64..1.0,
        ) {
            let found = apart(&cube(DVec3::ZERO, 1.0), &bar(DVec3::new(x, y, 0.0), DVec3::Z, 0.5, radius));
            let none_below = |gap: f64| if gap > 0.0 { gap } else { 0.0 };
            let (gap_x, gap_y) = (none_below(x.abs() - 1.0), none_below(y.abs() - 1.0));
            let meant = (gap_x * gap_x + gap_y * gap_y).sqrt() - radius;
            prop_assert!((found - none_below(meant)).abs() < 1e-5, "{found} {meant}");
        }
    }
}
