//! Simple polygons in plan, and how arcs become chords.
#![expect(
    clippy::indexing_slicing,
    reason = "every index comes from the length of the same list of points"
)]

use crate::mesh::{larger, smaller};
use glam::DVec2;
use uom::si::area::square_meter;
use uom::si::f64::{Area, Length};
use uom::si::length::meter;

/// The largest share of an outline's area that chords may take away: of the volume it shall be 1e-5, and a zone
/// that narrows downward loses a larger share of its volume than of its outline.
const LARGEST_CHORD_SHARE: f64 = 8e-6;
/// Fewest and most chords a quarter circle.
const CHORDS: [f64; 2] = [4.0, 512.0];
/// Chords are not made shorter than this, in metres: a hundred times what the arrangement merges.
const SHORTEST_CHORD: f64 = 1e-7;
/// Points nearer than this, in metres, are the same; ten times what the arrangement merges.
const SAME_POINT: f64 = 1e-8;
/// A point nearer than this to the line through its neighbours, in metres, is no corner.
const ON_THE_LINE: f64 = 1e-10;
/// Nothing under a vehicle is farther away than this, in metres.
const FARTHEST: f64 = 1e3;

/// A simple polygon in plan, counter-clockwise, in metres.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    points: Vec<DVec2>,
    chord_share: f64,
}

/// Why there is no outline; positions count the given points from 0.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum OutlineError {
    /// A size that is not a positive, finite number.
    NotPositive(Length),
    /// A corner radius below zero or not a number.
    NotARadius(Length),
    /// A corner radius larger than half the shorter side.
    CornerTooLarge {
        /// The radius asked for.
        corner: Length,
        /// Half the shorter side.
        largest: Length,
    },
    /// A place that is not finite or more than a kilometre away.
    OutOfReach {
        /// Which point; 0 for a middle.
        point: usize,
    },
    /// Fewer than three points.
    TooFewPoints {
        /// How many there are.
        count: usize,
    },
    /// Two neighbouring points in one place.
    Repeated {
        /// The first of the two.
        first: usize,
        /// The second.
        second: usize,
    },
    /// At this point the outline goes back along the side it came from.
    TurnsBack {
        /// Which point.
        point: usize,
    },
    /// Two sides cross or touch.
    Crossing {
        /// The points where the first side starts and ends.
        first: [usize; 2],
        /// The points where the second side starts and ends.
        second: [usize; 2],
        /// Where they meet.
        at: DVec2,
    },
    /// All points lie on one line.
    NoArea,
}

impl Outline {
    /// A rectangle along the axes, with rounded corners unless `corner` is zero.
    ///
    /// # Formula
    /// Each quarter arc of radius r is n inscribed chords, n the least with
    /// r²·(π − 2n·sin(π/2n)) ≤ 8e-6 of the area, at least 4 and at most 512.
    ///
    /// # Errors
    /// Sides that are not positive, a corner that is negative or larger than half the shorter side.
    pub fn rectangle(
        centre: DVec2,
        x: Length,
        y: Length,
        corner: Length,
    ) -> Result<Self, OutlineError> {
        Self::rectangle_with_chords(centre, x, y, corner, 1.0)
    }

    /// As [`Outline::rectangle`], with so many times the chords: their error falls with the square of it.
    ///
    /// # Errors
    /// As [`Outline::rectangle`].
    pub fn rectangle_with_chords(
        centre: DVec2,
        x: Length,
        y: Length,
        corner: Length,
        times: f64,
    ) -> Result<Self, OutlineError> {
        size(x)?;
        size(y)?;
        place(centre, 0)?;
        let radius = corner.value;
        if !(radius >= 0.0 && radius.is_finite()) {
            return Err(OutlineError::NotARadius(corner));
        }
        let largest = smaller(x.value, y.value) / 2.0;
        if radius > largest {
            return Err(OutlineError::CornerTooLarge {
                corner,
                largest: Length::new::<meter>(largest),
            });
        }
        let half = DVec2::new(x.value, y.value) / 2.0;
        if radius < SHORTEST_CHORD {
            let corner = |sign_x: f64, sign_y: f64| centre + half * DVec2::new(sign_x, sign_y);
            let points = vec![corner(1., 1.), corner(-1., 1.), corner(-1., -1.), corner(1., -1.)];
            return Ok(Self { points, chord_share: 0.0 });
        }
        let lost_by_corners = (4.0 - core::f64::consts::PI) * radius * radius;
        let area = x.value * y.value - lost_by_corners;
        Ok(rounded(centre, half, radius, area, times))
    }

    /// A circle, drawn in inscribed chords as [`Outline::rectangle`] draws its corners.
    ///
    /// # Errors
    /// A diameter that is not positive.
    pub fn circle(centre: DVec2, diameter: Length) -> Result<Self, OutlineError> {
        Self::circle_with_chords(centre, diameter, 1.0)
    }

    /// As [`Outline::circle`], with so many times the chords.
    ///
    /// # Errors
    /// As [`Outline::circle`].
    pub fn circle_with_chords(
        centre: DVec2,
        diameter: Length,
        times: f64,
    ) -> Result<Self, OutlineError> {
        size(diameter)?;
        place(centre, 0)?;
        let radius = diameter.value / 2.0;
        let area = core::f64::consts::PI * radius * radius;
        Ok(rounded(centre, DVec2::splat(radius), radius, area, times))
    }

    /// A polygon given by its corners, either turn; points on a straight side are dropped.
    ///
    /// # Errors
    /// Fewer than three points, a repeated one, sides that cross, touch or run back, no area.
    pub fn polygon(points: &[DVec2]) -> Result<Self, OutlineError> {
        for (at, &point) in points.iter().enumerate() {
            place(point, at)?;
        }
        let count = points.len();
        if count < 3 {
            return Err(OutlineError::TooFewPoints { count });
        }
        for at in 0..count {
            let next = (at + 1) % count;
            if points[at].distance(points[next]) < SAME_POINT {
                return Err(OutlineError::Repeated { first: at, second: next });
            }
        }
        let first = points[0];
        let line = points.iter().map(|p| (*p - first).perp_dot(farthest(points) - first).abs());
        if line.fold(0.0, larger) <= SAME_POINT * (farthest(points) - first).length() {
            return Err(OutlineError::NoArea);
        }
        refuse_crossings(points)?;
        let mut kept = corners(points)?;
        if doubled_area(&kept) < 0.0 {
            kept.reverse();
        }
        Ok(Self { points: kept, chord_share: 0.0 })
    }

    /// The corners, counter-clockwise, in metres.
    pub fn points(&self) -> &[DVec2] {
        &self.points
    }

    /// The share of the true area that chords in place of arcs take away; 0 without arcs.
    pub fn chord_share(&self) -> f64 {
        self.chord_share
    }

    /// The area of the polygon.
    pub fn area(&self) -> Area {
        Area::new::<square_meter>(doubled_area(&self.points) / 2.0)
    }

    /// The lowest and the highest corner of the rectangle around it, in metres.
    pub fn bounds(&self) -> [DVec2; 2] {
        bounds(&self.points)
    }

    /// Whether a point lies inside; on the outline itself either answer may come.
    pub fn contains(&self, point: DVec2) -> bool {
        is_inside(&self.points, point)
    }

    /// The sides, each from its start to its end.
    pub fn edges(&self) -> impl Iterator<Item = [DVec2; 2]> + '_ {
        let next = self.points.iter().cycle().skip(1);
        self.points.iter().zip(next).map(|(&from, &to)| [from, to])
    }
}

fn size(length: Length) -> Result<(), OutlineError> {
    if length.value > SHORTEST_CHORD && length.value <= FARTHEST {
        Ok(())
    } else {
        Err(OutlineError::NotPositive(length))
    }
}

fn place(point: DVec2, position: usize) -> Result<(), OutlineError> {
    if point.x.abs() <= FARTHEST && point.y.abs() <= FARTHEST {
        Ok(())
    } else {
        Err(OutlineError::OutOfReach { point: position })
    }
}

/// Four quarter arcs joined by straight sides, each arc in inscribed chords.
fn rounded(centre: DVec2, half: DVec2, radius: f64, area: f64, times: f64) -> Outline {
    let chords = chords_a_quarter(radius, area, times);
    let step = core::f64::consts::FRAC_PI_2 / f64::from(chords);
    let inner = half - DVec2::splat(radius);
    let mut points: Vec<DVec2> = Vec::with_capacity(4 * (chords as usize + 1));
    for (quarter, side) in [(1., 1.), (-1., 1.), (-1., -1.), (1., -1.)].into_iter().enumerate() {
        for chord in 0..=chords {
            let (sine, cosine) = if chord == chords {
                (1.0, 0.0)
            } else {
                (libm::sin(step * f64::from(chord)), libm::cos(step * f64::from(chord)))
            };
            // The first quarter's figures turned by whole right angles, so that the outline is symmetric.
            let turned = match quarter {
                0 => DVec2::new(cosine, sine),
                1 => DVec2::new(-sine, cosine),
                2 => DVec2::new(-cosine, -sine),
                _ => DVec2::new(sine, -cosine),
            };
            let point = centre + inner * DVec2::new(side.0, side.1) + turned * radius;
            if points.last().is_none_or(|last| last.distance(point) > SAME_POINT) {
                points.push(point);
            }
        }
    }
    while points.len() > 1 && points[0].distance(points[points.len() - 1]) <= SAME_POINT {
        points.pop();
    }
    let lost =
        radius * radius * (core::f64::consts::PI - 2.0 * f64::from(chords) * libm::sin(step));
    Outline { points, chord_share: lost / area }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the figure is clamped between 1 and a few thousand"
)]
fn chords_a_quarter(radius: f64, area: f64, times: f64) -> u32 {
    // π − 2n sin(π/2n) ≤ π³/(24 n²), so this many are enough.
    let pi = core::f64::consts::PI;
    let wanted =
        (radius * radius * pi * pi * pi / (24.0 * area * LARGEST_CHORD_SHARE)).sqrt().ceil();
    let wanted = wanted.clamp(CHORDS[0], CHORDS[1]) * times;
    let longest = (radius * core::f64::consts::FRAC_PI_2 / SHORTEST_CHORD).floor();
    smaller(wanted.ceil(), longest).clamp(1.0, 1e5) as u32
}

fn farthest(points: &[DVec2]) -> DVec2 {
    let first = points[0];
    let mut best = first;
    for &point in points {
        if point.distance_squared(first) > best.distance_squared(first) {
            best = point;
        }
    }
    best
}

/// The points without those on a straight side; a spike is refused.
fn corners(points: &[DVec2]) -> Result<Vec<DVec2>, OutlineError> {
    let count = points.len();
    let mut kept = Vec::with_capacity(count);
    for at in 0..count {
        let (before, here, after) =
            (points[(at + count - 1) % count], points[at], points[(at + 1) % count]);
        let (back, onward) = (here - before, after - here);
        let off = back.perp_dot(onward).abs() / (after - before).length();
        if back.perp_dot(onward).abs() <= ON_THE_LINE * back.length() && back.dot(onward) < 0.0 {
            return Err(OutlineError::TurnsBack { point: at });
        }
        if off > ON_THE_LINE {
            kept.push(here);
        }
    }
    if kept.len() < 3 { Err(OutlineError::NoArea) } else { Ok(kept) }
}

fn refuse_crossings(points: &[DVec2]) -> Result<(), OutlineError> {
    let count = points.len();
    for first in 0..count {
        let one = [points[first], points[(first + 1) % count]];
        for second in first + 2..count {
            if first == 0 && second == count - 1 {
                continue;
            }
            let other = [points[second], points[(second + 1) % count]];
            if let Some(at) = meeting(one, other, SAME_POINT) {
                return Err(OutlineError::Crossing {
                    first: [first, (first + 1) % count],
                    second: [second, (second + 1) % count],
                    at,
                });
            }
        }
    }
    Ok(())
}

/// A point common to two segments, where an end within `near` of the other segment counts as on it.
pub(super) fn meeting([a, b]: [DVec2; 2], [c, d]: [DVec2; 2], near: f64) -> Option<DVec2> {
    let gap = DVec2::splat(near);
    let apart = |[p, q]: [DVec2; 2], [r, s]: [DVec2; 2]| {
        (p.min(q) - gap).cmpgt(r.max(s)).any() || (r.min(s) - gap).cmpgt(p.max(q)).any()
    };
    if apart([a, b], [c, d]) {
        return None;
    }
    for (point, [from, to]) in [(a, [c, d]), (b, [c, d]), (c, [a, b]), (d, [a, b])] {
        let along = to - from;
        let share = ((point - from).dot(along) / along.length_squared()).clamp(0.0, 1.0);
        if point.distance(from + along * share) <= near {
            return Some(point);
        }
    }
    let (of_c, of_d) = ((b - a).perp_dot(c - a), (b - a).perp_dot(d - a));
    let (of_a, of_b) = ((d - c).perp_dot(a - c), (d - c).perp_dot(b - c));
    let crosses = (of_c > 0.0) != (of_d > 0.0) && (of_a > 0.0) != (of_b > 0.0);
    crosses.then(|| a + (b - a) * (of_a / (of_a - of_b)))
}

/// Twice the area of a polygon, positive when counter-clockwise.
pub(super) fn doubled_area(points: &[DVec2]) -> f64 {
    let Some(&first) = points.first() else { return 0.0 };
    points.windows(2).map(|side| (side[0] - first).perp_dot(side[1] - first)).sum()
}

/// Whether a point lies inside a polygon, by counting the sides a ray along x crosses.
pub(super) fn is_inside(points: &[DVec2], point: DVec2) -> bool {
    let mut inside = false;
    let Some(&last) = points.last() else { return false };
    let mut from = last;
    for &to in points {
        if (from.y > point.y) != (to.y > point.y) {
            let left = (to - from).perp_dot(point - from);
            if (left > 0.0) == (to.y > from.y) {
                inside = !inside;
            }
        }
        from = to;
    }
    inside
}

/// The rectangle around points.
pub(super) fn bounds(points: &[DVec2]) -> [DVec2; 2] {
    let first = points.first().copied().unwrap_or_default();
    points.iter().fold([first, first], |[low, high], &p| [low.min(p), high.max(p)])
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::f64::consts::PI;
    use uom::si::length::millimeter;

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn plan(points: &[(f64, f64)]) -> Vec<DVec2> {
        points.iter().map(|&(x, y)| DVec2::new(x, y)).collect()
    }

    #[test]
    fn chords_lose_no_more_than_they_say() {
        for (x, y, corner) in
            [(412., 268., 25.), (230., 236., 20.), (50., 50., 25.), (80., 50., 25.), (9., 9., 1e-3)]
        {
            let outline =
                Outline::rectangle(DVec2::new(0.02, 0.01), mm(x), mm(y), mm(corner)).unwrap();
            let exact = (x * y - (4.0 - PI) * corner * corner) * 1e-6;
            let share = 1.0 - outline.area().value / exact;
            assert!((share - outline.chord_share()).abs() < 1e-13, "{share}");
            assert!(share < 8e-6 && share > -1e-14);
        }
        let circle = Outline::circle(DVec2::ZERO, mm(32.0)).unwrap();
        let share = 1.0 - circle.area().value / (PI * 0.016 * 0.016);
        assert!(share < 8e-6 && (share - circle.chord_share()).abs() < 1e-13);
    }

    #[test]
    fn the_chord_error_is_of_second_order() {
        let circle = |times| Outline::circle_with_chords(DVec2::ZERO, mm(90.0), times).unwrap();
        for times in [0.05, 0.1, 0.5, 1.0] {
            let (coarse, fine) = (circle(times), circle(2.0 * times));
            // The counts are whole, so the ratio is that of the points, not quite 2.
            let ratio = fine.points().len() as f64 / coarse.points().len() as f64;
            let order = libm::log(coarse.chord_share() / fine.chord_share()) / libm::log(ratio);
            assert!((order - 2.0).abs() < 0.01, "{times}: {order}");
        }
    }

    #[test]
    fn a_corner_of_half_a_side_leaves_no_repeated_points() {
        let stadium = Outline::rectangle(DVec2::ZERO, mm(80.0), mm(40.0), mm(20.0)).unwrap();
        assert!(stadium.edges().all(|[a, b]| a.distance(b) > 1e-4));
        let refused = Outline::rectangle(DVec2::ZERO, mm(80.0), mm(40.0), mm(20.1));
        assert!(matches!(refused, Err(OutlineError::CornerTooLarge { .. })));
        assert!(matches!(
            Outline::rectangle(DVec2::ZERO, mm(80.0), mm(40.0), mm(-1.0)),
            Err(OutlineError::NotARadius(_))
        ));
        assert!(matches!(
            Outline::circle(DVec2::ZERO, mm(f64::NAN)),
            Err(OutlineError::NotPositive(_))
        ));
    }

    #[test]
    fn a_polygon_may_turn_either_way_and_drops_points_on_a_side() {
        let mut points = plan(&[(0., 0.), (1., 0.), (2., 0.), (2., 1.), (0., 1.)]);
        let one = Outline::polygon(&points).unwrap();
        points.reverse();
        let other = Outline::polygon(&points).unwrap();
        assert_eq!(one.points().len(), 4);
        assert!((one.area().value - 2.0).abs() < 1e-15 && (other.area().value - 2.0).abs() < 1e-15);
        assert!(one.contains(DVec2::new(1.9, 0.9)) && !one.contains(DVec2::new(2.1, 0.9)));
    }

    #[test]
    fn faults_of_a_polygon_name_their_points() {
        let refused = |points: &[(f64, f64)]| Outline::polygon(&plan(points)).unwrap_err();
        assert_eq!(refused(&[(0., 0.), (1., 0.)]), OutlineError::TooFewPoints { count: 2 });
        assert_eq!(
            refused(&[(0., 0.), (1., 0.), (1., 0.), (0., 1.)]),
            OutlineError::Repeated { first: 1, second: 2 }
        );
        assert_eq!(refused(&[(0., 0.), (1., 0.), (2., 0.)]), OutlineError::NoArea);
        let bow = refused(&[(0., 0.), (1., 1.), (1., 0.), (0., 1.)]);
        let at = DVec2::new(0.5, 0.5);
        assert_eq!(bow, OutlineError::Crossing { first: [0, 1], second: [2, 3], at });
        let spike = refused(&[(0., 0.), (2., 0.), (1., 0.), (1., 1.)]);
        assert!(
            matches!(spike, OutlineError::TurnsBack { point: 1 } | OutlineError::Crossing { .. }),
            "{spike:?}"
        );
        assert_eq!(
            refused(&[(0., 0.), (1., f64::NAN), (1., 1.)]),
            OutlineError::OutOfReach { point: 1 }
        );
    }
}
