//! The outline as a closed chain of points in which the soundings that lie on it take part.
#![expect(
    clippy::indexing_slicing,
    reason = "sides, corners and soundings are numbered by the lists they come from"
)]

use super::soundings::{SoundingFault, between};
use super::{Outline, tin};
use crate::mesh::larger;
use glam::DVec2;
use uom::si::f64::Length;
use uom::si::length::meter;

/// Soundings nearer than this, in metres, are at one place: no gauge is set down more exactly.
pub(super) const SAME_PLACE: f64 = 1e-6;
/// A sounding this near to the outline, in metres, is on it: what a tape is read to.
pub(super) const ON_OUTLINE: f64 = 1e-4;
/// The most points that a side without soundings of its own is given.
const MOST_PARTS: f64 = 200.0;

/// The chain, and where every sounding now lies.
pub(super) struct Rim {
    /// The places of the soundings, then those of the other points of the chain.
    pub(super) places: Vec<DVec2>,
    /// How many of them are soundings.
    pub(super) soundings: usize,
    /// The chain, counter-clockwise, as positions in `places`.
    pub(super) chain: Vec<u32>,
    pub(super) faults: Vec<(usize, SoundingFault)>,
}

/// A sounding on a side: how far along, and which.
type OnSide = (f64, usize);

impl Rim {
    pub(super) fn of(outline: &Outline, soundings: &[DVec2], stands_for: &[usize]) -> Self {
        let corners = outline.points();
        let mut places = soundings.to_vec();
        let mut faults = Vec::new();
        let mut on_side: Vec<Vec<OnSide>> = vec![Vec::new(); corners.len()];
        let mut at_corner: Vec<Option<usize>> = vec![None; corners.len()];
        for (position, &place) in soundings.iter().enumerate() {
            let (side, along, distance) = nearest_side(corners, place);
            if distance > ON_OUTLINE {
                if !outline.contains(place) {
                    let by = Length::new::<meter>(distance);
                    faults.push((position, SoundingFault::Outside { by }));
                }
                continue;
            }
            if stands_for[position] != position {
                continue;
            }
            let next = (side + 1) % corners.len();
            let length = corners[side].distance(corners[next]);
            let corner = if along <= SAME_PLACE {
                Some(side)
            } else if length - along <= SAME_PLACE {
                Some(next)
            } else {
                None
            };
            match corner {
                Some(corner) if at_corner[corner].is_none() => {
                    at_corner[corner] = Some(position);
                    places[position] = corners[corner];
                }
                // A second one at the corner stays where it is.
                Some(_) => {}
                None => on_side[side].push((along, position)),
            }
        }
        let spacing = (outline.area().value / larger(soundings.len() as f64, 1.0)).sqrt();
        let mut rim = Self { places, soundings: soundings.len(), chain: Vec::new(), faults };
        for (side, mut stops) in on_side.into_iter().enumerate() {
            let next = (side + 1) % corners.len();
            stops.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)));
            // As at a corner, a second one at the same place of the side stays where it is.
            stops.dedup_by(|second, first| second.0 - first.0 <= SAME_PLACE);
            let way = (corners[next] - corners[side]).normalize_or_zero();
            for &(along, position) in &stops {
                rim.places[position] = corners[side] + way * along;
            }
            let first = at_corner[side].unwrap_or_else(|| rim.add(corners[side]));
            rim.add_side([corners[side], corners[next]], first, &stops, spacing);
        }
        rim
    }

    fn add(&mut self, place: DVec2) -> usize {
        self.places.push(place);
        self.places.len() - 1
    }

    /// Adds the points of one side but its last: its soundings, and others where they are far apart.
    fn add_side(&mut self, [from, to]: [DVec2; 2], first: usize, stops: &[OnSide], spacing: f64) {
        let length = from.distance(to);
        let mut at = (0.0, first);
        let ends = stops.iter().copied().map(Some).chain([None]);
        for end in ends {
            self.chain.push(tin::number(at.1));
            let until = end.map_or(length, |(along, _)| along);
            let parts = between(((until - at.0) / spacing).floor(), 1.0, MOST_PARTS);
            let step = (until - at.0) / parts;
            let mut along = at.0 + step;
            while along < until - step / 2.0 {
                let point = self.add(from + (to - from) * (along / length));
                self.chain.push(tin::number(point));
                along += step;
            }
            if let Some(end) = end {
                at = end;
            }
        }
    }
}

/// The side nearest to a place, how far along it the nearest point lies, and how far away it is.
fn nearest_side(corners: &[DVec2], place: DVec2) -> (usize, f64, f64) {
    let mut best = (0, 0.0, f64::INFINITY);
    for side in 0..corners.len() {
        let (from, to) = (corners[side], corners[(side + 1) % corners.len()]);
        let length = from.distance(to);
        let way = (to - from) / length;
        let along = between((place - from).dot(way), 0.0, length);
        let distance = (from + way * along).distance(place);
        if distance < best.2 {
            best = (side, along, distance);
        }
    }
    best
}
