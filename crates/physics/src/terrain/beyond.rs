//! The depth at places of the outline that lie beyond all soundings.
#![expect(
    clippy::indexing_slicing,
    reason = "soundings are numbered by the lists they come from, and lines are looked up with care"
)]

use crate::mesh::smaller;
use glam::DVec2;

/// Neighbours among which the nearest place between soundings is looked for.
const NEIGHBOURS: usize = 12;

/// What is known of a floor: its soundings, and the lines along which it is known to run straight.
pub(super) struct Known<'a> {
    /// The places of the soundings, and others after them that have no depth.
    pub(super) places: &'a [DVec2],
    pub(super) depths: &'a [f64],
    /// The soundings that count: one at each place.
    pub(super) used: &'a [usize],
    /// For each sounding the one that counts at its place.
    pub(super) stands_for: &'a [usize],
    pub(super) lines: &'a [[usize; 2]],
}

/// A depth, and how far away it was taken from.
#[derive(Clone, Copy)]
pub(super) struct Led {
    pub(super) depth: f64,
    pub(super) distance: f64,
}

impl Known<'_> {
    /// The depth at a point of the outline that has no sounding.
    ///
    /// Of all places on lines between soundings around it, that one counts which is nearest. Where nobody said that the
    /// floor runs straight between the two, half of what the place lies away from the nearer of them is added: between
    /// two that lie far apart little is known. A line that was traced is known all along, and as what lies behind it is
    /// farther away than it is, no depth is led on across an edge.
    pub(super) fn led_on_to(&self, point: DVec2) -> Led {
        let near = self.nearest(point);
        let first = near.first().copied().unwrap_or(0);
        let distance = self.places[first].distance(point);
        let (mut best, mut cost) = (Led { depth: self.depths[first], distance }, distance);
        let traced = self.lines.iter().filter_map(|ends| {
            let [Some(from), Some(to)] = ends.map(|end| self.stands_for.get(end).copied()) else {
                return None;
            };
            Some(([from, to], 0.0))
        });
        let pairs = near.iter().enumerate();
        let between = pairs.flat_map(|(at, &to)| near[..at].iter().map(move |&from| [to, from]));
        for (ends, doubted) in traced.chain(between.map(|ends| (ends, 0.5))) {
            let Some((led, off)) = self.beside(point, ends) else { continue };
            if led.distance + off * doubted < cost {
                cost = led.distance + off * doubted;
                best = led;
            }
        }
        best
    }

    /// The depth at the foot of the plumb line on the way between two soundings, and how far the foot lies from the
    /// nearer of them; none where it lies past either.
    fn beside(&self, point: DVec2, [a, b]: [usize; 2]) -> Option<(Led, f64)> {
        let along = self.places[b] - self.places[a];
        let share = (point - self.places[a]).dot(along) / along.length_squared();
        if !(share > 0.0 && share < 1.0) {
            return None;
        }
        let distance = (self.places[a] + along * share).distance(point);
        let depth = self.depths[a] + (self.depths[b] - self.depths[a]) * share;
        Some((Led { depth, distance }, along.length() * smaller(share, 1.0 - share)))
    }

    /// The soundings nearest to a point, the nearest first.
    fn nearest(&self, point: DVec2) -> Vec<usize> {
        let mut near: Vec<(f64, usize)> = Vec::with_capacity(NEIGHBOURS + 1);
        for &at in self.used {
            let square = self.places[at].distance_squared(point);
            if near.len() == NEIGHBOURS && near.last().is_some_and(|last| square >= last.0) {
                continue;
            }
            let place = near.partition_point(|other| other.0 <= square);
            near.insert(place, (square, at));
            near.truncate(NEIGHBOURS);
        }
        near.into_iter().map(|(_, at)| at).collect()
    }
}
