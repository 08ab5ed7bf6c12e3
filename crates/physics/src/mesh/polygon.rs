//! Triangles of a plane polygon.
#![expect(
    clippy::indexing_slicing,
    reason = "every index comes from a list of positions of the same polygon"
)]

use super::index_of;
use glam::DVec2;

/// Triangles, as positions in the polygon, that cover a simple counter-clockwise polygon; each keeps its turn.
///
/// Convex polygons are cut by halving, others ear by ear. Every edge of the polygon is an edge of exactly one
/// triangle, so the result closes whatever is joined along them.
pub(crate) fn triangulate(points: &[DVec2]) -> Vec<[u32; 3]> {
    if is_strictly_convex(points) { halving(points.len()) } else { clip_ears(points) }
}

/// A corner nearer than this to the line through its neighbours, in metres, may be a place on a side that was
/// rounded. The angle would not tell: beside a very short side rounding turns it by a lot.
const STRAIGHT: f64 = 1e-12;

/// Whether every corner turns left, and by more than rounding.
pub(crate) fn is_strictly_convex(points: &[DVec2]) -> bool {
    let count = points.len();
    // A star turns left everywhere too, so the whole turn is counted: one change of the sign of x each way.
    let mut changes = 0;
    for at in 0..count {
        let side = points[(at + 1) % count] - points[at];
        let next = points[(at + 2) % count] - points[(at + 1) % count];
        if side.perp_dot(next) <= STRAIGHT * (side + next).length() {
            return false;
        }
        if (side.x > 0.0) != (next.x > 0.0) {
            changes += 1;
        }
    }
    count >= 3 && changes == 2
}

/// The triangles of a strictly convex polygon of so many corners: every second corner is cut off, again and again.
///
/// A line across the polygon then meets few triangles, about two for each halving, which makes cuts quick.
pub(crate) fn halving(count: usize) -> Vec<[u32; 3]> {
    let mut left: Vec<u32> = (0..index_of(count)).collect();
    let mut triangles = Vec::with_capacity(count.saturating_sub(2));
    while left.len() >= 3 {
        let count = left.len();
        for at in (0..count - 1).step_by(2) {
            let face = [left[at], left[at + 1], left[(at + 2) % count]];
            triangles.push(face);
        }
        left = left.into_iter().step_by(2).collect();
    }
    triangles
}

fn clip_ears(points: &[DVec2]) -> Vec<[u32; 3]> {
    let mut left: Vec<usize> = (0..points.len()).collect();
    let mut triangles = Vec::with_capacity(points.len());
    while left.len() > 3 {
        let count = left.len();
        let corner = |at: usize| [left[(at + count - 1) % count], left[at], left[(at + 1) % count]];
        // A simple polygon always has two ears; should rounding hide them, the fattest corner is taken, which
        // keeps the cover closed.
        let at = (0..count).find(|&at| is_ear(points, &left, corner(at))).unwrap_or_else(|| {
            let mut best = (0, f64::NEG_INFINITY);
            for at in 0..count {
                let area = doubled_area(points, corner(at));
                if area > best.1 {
                    best = (at, area);
                }
            }
            best.0
        });
        triangles.push(corner(at).map(index_of));
        left.remove(at);
    }
    if let [a, b, c] = *left.as_slice() {
        triangles.push([a, b, c].map(index_of));
    }
    triangles
}

fn doubled_area(points: &[DVec2], [a, b, c]: [usize; 3]) -> f64 {
    (points[b] - points[a]).perp_dot(points[c] - points[a])
}

fn is_ear(points: &[DVec2], left: &[usize], ear: [usize; 3]) -> bool {
    if doubled_area(points, ear) <= 0.0 {
        return false;
    }
    let [a, b, c] = ear;
    !left.iter().any(|&p| {
        !ear.contains(&p)
            && doubled_area(points, [a, b, p]) >= 0.0
            && doubled_area(points, [b, c, p]) >= 0.0
            && doubled_area(points, [c, a, p]) >= 0.0
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area_of(points: &[DVec2], triangles: &[[u32; 3]]) -> f64 {
        triangles.iter().map(|t| doubled_area(points, t.map(|i| i as usize)) / 2.0).sum()
    }

    #[test]
    fn a_star_is_not_convex_though_it_always_turns_left() {
        let star: Vec<DVec2> = (0..5)
            .map(|k| {
                let angle = f64::from(k) * 4.0 * core::f64::consts::PI / 5.0;
                DVec2::new(libm::cos(angle), libm::sin(angle))
            })
            .collect();
        assert!(!is_strictly_convex(&star));
    }

    #[test]
    fn a_rounded_place_beside_a_very_short_side_is_no_corner() {
        let (from, to) = (DVec2::new(0.1, 0.2), DVec2::new(0.4, 0.3));
        let way = (to - from).normalize();
        // A billionth of a metre from the end, and off the side by the last digit.
        let rounded = to - way * 1e-9 - way.perp() * 1e-16;
        assert!(!is_strictly_convex(&[from, rounded, to, DVec2::new(0.1, 0.5)]));
        assert!(is_strictly_convex(&[
            from,
            to - way * 1e-9 - way.perp() * 1e-11,
            to,
            DVec2::new(0.1, 0.5)
        ]));
    }

    #[test]
    fn triangles_cover_a_concave_polygon_once() {
        let points: Vec<DVec2> =
            [(0., 0.), (4., 0.), (4., 3.), (3., 3.), (3., 1.), (1., 1.), (1., 3.), (0., 3.)]
                .map(|(x, y)| DVec2::new(x, y))
                .to_vec();
        let triangles = triangulate(&points);
        assert_eq!(triangles.len(), 6);
        assert!((area_of(&points, &triangles) - 8.0).abs() < 1e-14);
    }

    #[test]
    fn triangles_cover_a_regular_polygon_once() {
        for count in 3..30 {
            let points: Vec<DVec2> = (0..count)
                .map(|k| {
                    let angle = f64::from(k) * 2.0 * core::f64::consts::PI / f64::from(count);
                    DVec2::new(libm::cos(angle), libm::sin(angle))
                })
                .collect();
            let triangles = triangulate(&points);
            let exact =
                f64::from(count) / 2.0 * libm::sin(2.0 * core::f64::consts::PI / f64::from(count));
            assert_eq!(triangles.len(), points.len() - 2);
            assert!((area_of(&points, &triangles) - exact).abs() < 1e-13);
        }
    }
}
