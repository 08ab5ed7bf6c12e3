//! The bodies below a plane, against bodies of cubes counted cube by cube.

use super::*;
use crate::drain::tests::shapes::{SIDES, places, reached, step, without_pinches};
use crate::mesh::{larger, smaller};
use proptest::prelude::*;
use std::collections::BTreeMap;

const SIZE: i32 = 5;

/// Random cubes in one piece, voids and hanging bosses among them.
fn cubes() -> impl Strategy<Value = Cubes> {
    prop::collection::vec(prop::bool::weighted(0.62), 125).prop_map(|chosen| {
        let all = places(SIZE).zip(chosen).filter(|(_, there)| *there).map(|(place, _)| place);
        let all = without_pinches(all.collect(), SIZE);
        let largest = all.iter().map(|start| reached(&all, *start)).max_by_key(Cubes::len);
        largest.unwrap_or_else(|| Cubes::from([[0, 0, 0]]))
    })
}

/// Any direction, upright and level ones among them.
fn directions() -> impl Strategy<Value = DVec3> {
    let part = prop_oneof![2 => Just(0.0), 5 => -1.0..1.0_f64];
    (part.clone(), part.clone(), part)
        .prop_filter_map("no direction", |(x, y, z)| DVec3::new(x, y, z).try_normalize())
}

/// The part of a unit cube below a plane, from its lowest corner's depth below it: Σ ± (depth at the corner)₊³ over the
/// corners, over 6 |x y z| (the volume of a cut simplex, by inclusion and exclusion); a slab or a wedge where parts of
/// the direction are none.
fn cube_below(up: DVec3, depth: f64) -> f64 {
    let parts: Vec<f64> =
        up.to_array().map(f64::abs).into_iter().filter(|part| *part > 0.0).collect();
    // A cube that is wholly below is one: its terms would cancel, all the more the deeper it lies.
    if depth >= parts.iter().sum() {
        return 1.0;
    }
    let mut sum = 0.0;
    let mut factors = 1.0;
    for (number, part) in parts.iter().enumerate() {
        factors *= part * (number as f64 + 1.0);
    }
    for corner in 0..1_u32 << parts.len() {
        let lifted: f64 = parts
            .iter()
            .enumerate()
            .filter(|(bit, _)| corner >> bit & 1 == 1)
            .map(|(_, p)| p)
            .sum();
        let under = if depth > lifted { depth - lifted } else { 0.0 };
        let sign = if corner.count_ones() % 2 == 0 { 1.0 } else { -1.0 };
        sum += sign * (0..parts.len()).map(|_| under).product::<f64>();
    }
    sum / factors
}

/// The height of the lowest corner of what two lattice places span.
fn lowest(up: DVec3, low: [i32; 3], high: [i32; 3]) -> f64 {
    let (low, high) = (DVec3::from(low.map(f64::from)), DVec3::from(high.map(f64::from)));
    let pick = |up: f64, low: f64, high: f64| if up > 0.0 { up * low } else { up * high };
    pick(up.x, low.x, high.x) + pick(up.y, low.y, high.y) + pick(up.z, low.z, high.z)
}

/// Volumes of the bodies: what is below the plane in a cube is convex, and in two beside each other it is joined where
/// their common side reaches below it.
fn bodies(cubes: &Cubes, up: DVec3, height: f64) -> Vec<f64> {
    let wet: Cubes = cubes
        .iter()
        .copied()
        .filter(|&cube| lowest(up, cube, step(cube, [1; 3])) < height)
        .collect();
    let mut body: BTreeMap<[i32; 3], usize> = BTreeMap::new();
    let mut volumes = Vec::new();
    for &start in &wet {
        if body.contains_key(&start) {
            continue;
        }
        let mut volume = 0.0;
        let mut open = vec![start];
        body.insert(start, volumes.len());
        while let Some(cube) = open.pop() {
            volume += cube_below(up, height - lowest(up, cube, step(cube, [1; 3])));
            for side in SIDES {
                let next = step(cube, side);
                let shared = [0, 1, 2].map(|at| cube[at].max(next[at]));
                let far = [0, 1, 2].map(|at| cube[at].min(next[at]) + 1);
                let joins = wet.contains(&next) && lowest(up, shared, far) < height;
                if joins && !body.contains_key(&next) {
                    body.insert(next, volumes.len());
                    open.push(next);
                }
            }
        }
        volumes.push(volume);
    }
    volumes
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn bodies_below_a_plane_are_those_that_cubes_make(
        cubes in cubes(), up in directions(), share in 0.02..0.98_f64,
    ) {
        let mesh = surface_of(&cubes);
        let heights = || mesh.points.iter().map(|point| up.dot(*point));
        let (low, high) = heights().fold((f64::MAX, f64::MIN), |(low, high), h| (smaller(low, h), larger(high, h)));
        let height = low + share * (high - low);
        // A plane through a corner within rounding is a question of the last digit.
        prop_assume!(heights().all(|corner| (corner - height).abs() > 1e-6));
        let basins = vessel(mesh.clone()).basins(up).unwrap();
        let mut found: Vec<f64> =
            basins.below(metres(height)).iter().map(|pool| pool.volume.value).collect();
        let mut expected = bodies(&cubes, up, height);
        found.sort_by(f64::total_cmp);
        expected.sort_by(f64::total_cmp);
        prop_assert_eq!(found.len(), expected.len(), "{:?} {:?}", found, expected);
        for (one, other) in found.iter().zip(&expected) {
            prop_assert!((one - other).abs() < 1e-9, "{:?} {:?}", found, expected);
        }
    }

    #[test]
    fn one_body_is_left_above_the_highest_lip(cubes in cubes(), up in directions()) {
        let joined = vessel(surface_of(&cubes)).joined_above(up).unwrap().value;
        let lows = cubes.iter().map(|&cube| lowest(up, cube, step(cube, [1; 3])));
        let is_last = lows.clone().all(|low| (low - joined).abs() > 1e-6 || low < joined);
        prop_assert!(is_last || !bodies(&cubes, up, joined + 1e-7).is_empty());
        prop_assert_eq!(bodies(&cubes, up, joined + 1e-7).len(), 1);
        let all = vessel(surface_of(&cubes)).basins(up).unwrap().all();
        if all.len() > 1 {
            prop_assert!(bodies(&cubes, up, joined - 1e-7).len() > 1);
        }
    }
}
