//! Random bodies against independent floods, and what must hold for any body.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use glam::{DQuat, DVec3};
use proptest::prelude::*;

use super::shapes::{
    Cubes, SIDES, places, reached, step, surface_of, terrain, turned, without_pinches,
};
use crate::drain::{Drained, pools_after_draining};
use crate::mesh::Mesh;

const WIDE: usize = 7;
const DEEP: usize = 6;
/// Above any level that a tilted floor can hold, so that no pool reaches the lid.
const LID: f64 = 6.0;

fn stays(drained: &Drained) -> f64 {
    drained.pools.iter().map(|pool| pool.volume.value).sum()
}

/// Heights in tenths, so that level floors, ridges and saddles of equal height are common.
fn floors() -> impl Strategy<Value = Vec<Vec<f64>>> {
    let height = prop_oneof![(0_u8..5).prop_map(|tenths| f64::from(tenths) / 10.0), 0.0..0.5];
    prop::collection::vec(prop::collection::vec(height, WIDE), DEEP)
}

/// Up, within some 25 degrees of the upright.
fn tilts() -> impl Strategy<Value = DVec3> {
    let lean = prop_oneof![Just(0.0), -0.3..0.3];
    (lean.clone(), lean).prop_map(|(x, y)| DVec3::new(x, y, 1.0).normalize())
}

fn line(count: u32) -> Vec<f64> {
    (0..count).map(f64::from).collect()
}

fn ground(floor: &[Vec<f64>]) -> Mesh {
    terrain(&line(7), &line(6), floor, LID)
}

/// The six corners that share an edge with (i, j) when every cell is cut from its low corner to its high one.
fn around(i: usize, j: usize) -> impl Iterator<Item = (usize, usize)> {
    [(1, 0), (0, 1), (1, 1), (-1, 0), (0, -1), (-1, -1)].into_iter().filter_map(
        move |(di, dj): (isize, isize)| {
            let (i, j) = (i.checked_add_signed(di)?, j.checked_add_signed(dj)?);
            (i < WIDE && j < DEEP).then_some((i, j))
        },
    )
}

/// Priority-Flood of Barnes, Lehman and Mulla 2014 on the grid, from one cell; heights along up by row.
fn flood_of_the_grid(heights: &[Vec<f64>], outlet: (usize, usize)) -> Vec<Vec<f64>> {
    // The bits of positive numbers stand in the numbers' own order, which lets the queue sort them.
    let whole = |height: f64| (height + 10.0).to_bits();
    let mut filled = heights.to_vec();
    let mut closed = vec![vec![false; WIDE]; DEEP];
    let mut open = BinaryHeap::from([Reverse((whole(heights[outlet.1][outlet.0]), outlet))]);
    closed[outlet.1][outlet.0] = true;
    while let Some(Reverse((_, (i, j)))) = open.pop() {
        for (next_i, next_j) in around(i, j) {
            if !closed[next_j][next_i] {
                closed[next_j][next_i] = true;
                if filled[next_j][next_i] < filled[j][i] {
                    filled[next_j][next_i] = filled[j][i];
                }
                open.push(Reverse((whole(filled[next_j][next_i]), (next_i, next_j))));
            }
        }
    }
    filled
}

/// The volume under the linear depth with these values at the corners of a triangle of the given area, where it is
/// positive: the whole prism, or what a plane cuts from it.
fn prism(area: f64, mut depths: [f64; 3]) -> f64 {
    depths.sort_by(f64::total_cmp);
    let [a, b, c] = depths;
    if c <= 0.0 {
        0.0
    } else if b <= 0.0 {
        area * c * c * c / ((c - a) * (c - b)) / 3.0
    } else if a < 0.0 {
        area * ((a + b + c) - a * a * a / ((a - b) * (a - c))) / 3.0
    } else {
        area * (a + b + c) / 3.0
    }
}

/// What stays on the grid: over each half cell, upright columns from the floor to the plane of its level.
fn stays_on_the_grid(floor: &[Vec<f64>], up: DVec3, outlet: (usize, usize)) -> f64 {
    let place = |i: usize, j: usize| DVec3::new(i as f64, j as f64, floor[j][i]);
    let heights: Vec<Vec<f64>> =
        (0..DEEP).map(|j| (0..WIDE).map(|i| up.dot(place(i, j))).collect()).collect();
    let levels = flood_of_the_grid(&heights, outlet);
    let mut sum = 0.0;
    for j in 0..DEEP - 1 {
        for i in 0..WIDE - 1 {
            for middle in [(i + 1, j), (i, j + 1)] {
                let corners = [(i, j), middle, (i + 1, j + 1)];
                let lowest = corners.into_iter().min_by(|one, other| {
                    heights[one.1][one.0].total_cmp(&heights[other.1][other.0])
                });
                let (low_i, low_j) = lowest.unwrap();
                let level = levels[low_j][low_i];
                if level > heights[low_j][low_i] {
                    let depth = |(i, j): (usize, usize)| (level - heights[j][i]) / up.z;
                    sum += prism(0.5, corners.map(depth));
                }
            }
        }
    }
    sum
}

fn turns() -> impl Strategy<Value = (DQuat, DVec3)> {
    let part = -1.0..1.0_f64;
    (part.clone(), part.clone(), part.clone(), part.clone(), -20.0..20.0_f64)
        .prop_filter("no axis", |(x, y, z, w, _)| x * x + y * y + z * z + w * w > 0.01)
        .prop_map(|(x, y, z, w, away)| {
            (DQuat::from_xyzw(x, y, z, w).normalize(), DVec3::new(away, -away, 0.5 * away))
        })
}

proptest! {
    #[test]
    fn random_ground_keeps_what_a_flood_of_the_grid_keeps(
        floor in floors(),
        up in tilts(),
        i in 0..WIDE,
        j in 0..DEEP,
    ) {
        let outlet = DVec3::new(i as f64, j as f64, floor[j][i]);
        let drained = pools_after_draining(&ground(&floor), up, outlet).unwrap();
        let expected = stays_on_the_grid(&floor, up, (i, j));
        // Dents under a billionth of the extent, 1e-8 here, are left out over an area of 30.
        prop_assert!((stays(&drained) - expected).abs() < 3.0e-7, "{} {expected}", stays(&drained));
        prop_assert!(drained.pools.iter().all(|pool| pool.volume.value > 0.0));
    }

    #[test]
    fn an_outlet_moved_downhill_never_leaves_more(
        floor in floors(),
        up in tilts(),
        i in 0..WIDE,
        j in 0..DEEP,
        choices in prop::collection::vec(0_usize..6, 4),
    ) {
        let mesh = ground(&floor);
        let place = |(i, j): (usize, usize)| DVec3::new(i as f64, j as f64, floor[j][i]);
        let mut corner = (i, j);
        let mut last = stays(&pools_after_draining(&mesh, up, place(corner)).unwrap());
        for choice in choices {
            let height = up.dot(place(corner));
            let lower: Vec<_> = around(corner.0, corner.1)
                .filter(|next| up.dot(place(*next)) < height)
                .collect();
            let Some(next) = lower.get(choice % lower.len().max(1)) else { break };
            corner = *next;
            let now = stays(&pools_after_draining(&mesh, up, place(corner)).unwrap());
            prop_assert!(now <= last + 1.0e-12, "{now} after {last}");
            last = now;
        }
    }

    #[test]
    fn turning_body_outlet_and_up_together_changes_nothing(
        floor in floors(),
        up in tilts(),
        (x, y) in (0.0..6.0_f64, 0.0..5.0_f64),
        (turn, shift) in turns(),
    ) {
        let mesh = ground(&floor);
        let (outlet, _) = super::Surface::new(&mesh, DVec3::Z).unwrap().nearest(DVec3::new(x, y, 0.2));
        let one = pools_after_draining(&mesh, up, outlet).unwrap();
        let moved = turned(&mesh, turn, shift);
        let other = pools_after_draining(&moved, turn * up, turn * outlet + shift).unwrap();
        // The same allowance for dents as above, since one may fall on the other side of it.
        prop_assert!((stays(&one) - stays(&other)).abs() < 3.0e-7);
        prop_assert_eq!(one.pools.len(), other.pools.len());
        prop_assert!(other.moved.value < 1.0e-12);
    }

    #[test]
    fn a_bowl_drained_at_its_deepest_point_keeps_nothing(
        (east, north) in (0.01_f64..0.08, 0.01_f64..0.08),
        (x, y) in (0.0..6.0_f64, 0.0..5.0_f64),
        up in tilts(),
    ) {
        // A sum of convex functions of x and of y is convex over the cut grid too, and stays so tilted.
        let floor: Vec<Vec<f64>> = line(6)
            .iter()
            .map(|j| {
                line(7).iter().map(|i| east * (i - x) * (i - x) + north * (j - y) * (j - y)).collect()
            })
            .collect();
        let mesh = ground(&floor);
        let height = |point: &&DVec3| up.dot(**point);
        let deepest = mesh
            .points
            .iter()
            .min_by(|one, other| height(one).total_cmp(&height(other)))
            .unwrap();
        let drained = pools_after_draining(&mesh, up, *deepest).unwrap();
        prop_assert!(drained.pools.is_empty());
    }
}

/// Cubes that keep their oil: those whose every way to the outlet, from cube to cube through shared sides, climbs over
/// a bottom higher than their own. Priority-Flood as above on the cubes of a body, undersides and all.
fn cubes_that_stay(cubes: &Cubes, outlet: [i32; 3]) -> usize {
    let mut levels = BTreeMap::from([(outlet, outlet[2])]);
    let mut open = BinaryHeap::from([Reverse((outlet[2], outlet))]);
    while let Some(Reverse((level, cube))) = open.pop() {
        for next in SIDES.map(|side| step(cube, side)) {
            if cubes.contains(&next) && !levels.contains_key(&next) {
                let level = if next[2] > level { next[2] } else { level };
                levels.insert(next, level);
                open.push(Reverse((level, next)));
            }
        }
    }
    levels.iter().filter(|(cube, level)| **level > cube[2]).count()
}

proptest! {
    /// Overhangs, arches, passages and islands of solid, in all attitudes.
    #[test]
    fn random_bodies_of_cubes_keep_what_a_flood_of_the_cubes_keeps(
        full in prop::collection::vec(prop::bool::weighted(0.55), 125),
        pick in any::<prop::sample::Index>(),
        (turn, shift) in turns(),
    ) {
        let start: Cubes =
            places(5).zip(&full).filter(|(_, full)| **full).map(|(cube, _)| cube).collect();
        prop_assume!(!start.is_empty());
        let whole = without_pinches(start, 5);
        let floors: Vec<_> =
            whole.iter().filter(|cube| !whole.contains(&step(**cube, [0, 0, -1]))).collect();
        let outlet = **pick.get(&floors);
        let body = reached(&whole, outlet);
        let expected = cubes_that_stay(&body, outlet) as f64;
        let mesh = surface_of(&body);
        let [x, y, z] = outlet.map(f64::from);
        let place = DVec3::new(x + 0.5, y + 0.3, z);
        let found = pools_after_draining(&mesh, DVec3::Z, place).unwrap();
        prop_assert!((stays(&found) - expected).abs() < 1.0e-9, "{} {expected}", stays(&found));
        prop_assert!(found.pools.iter().all(|pool| pool.volume.value > 0.5));
        let moved = turned(&mesh, turn, shift);
        let found = pools_after_draining(&moved, turn * DVec3::Z, turn * place + shift).unwrap();
        prop_assert!((stays(&found) - expected).abs() < 1.0e-6, "{} {expected}", stays(&found));
    }
}
