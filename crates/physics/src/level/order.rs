//! An order of faces in which neighbours are near in space.

use super::lanes::WIDE;
use glam::DVec3;

/// The middle of a face's box, and which face it is.
#[derive(Debug, Clone, Copy)]
struct Place {
    at: DVec3,
    face: u32,
}

/// The faces in an order in which every eight in a row, and every eight of these, and so on, lie close together.
pub(super) fn in_order(faces: &[[DVec3; 3]]) -> Vec<[DVec3; 3]> {
    let mut places: Vec<Place> = faces
        .iter()
        .zip(0..)
        .map(|([a, b, c], face)| Place { at: a.min(*b).min(*c) + a.max(*b).max(*c), face })
        .collect();
    let mut size = WIDE;
    while size * WIDE < places.len() {
        size *= WIDE;
    }
    split(&mut places, size);
    places.iter().filter_map(|place| faces.get(place.face as usize).copied()).collect()
}

/// Halves the places across their longest side, on a whole number of parts of a size, until each part stands alone;
/// then the same within each part.
fn split(places: &mut [Place], size: usize) {
    if places.len() <= WIDE {
        return;
    }
    if places.len() <= size {
        return split(places, size / WIDE);
    }
    let (mut low, mut high) = (DVec3::INFINITY, DVec3::NEG_INFINITY);
    for place in &*places {
        low = low.min(place.at);
        high = high.max(place.at);
    }
    let axis = (high - low).max_position();
    let half = places.len().div_ceil(size).div_ceil(2) * size;
    places.select_nth_unstable_by(half, |one, other| {
        one.at[axis].total_cmp(&other.at[axis]).then(one.face.cmp(&other.face))
    });
    let (one, other) = places.split_at_mut(half);
    split(one, size);
    split(other, size);
}
