//! The priority flood over a surface's corners, and the pools it leaves.

#![expect(
    clippy::indexing_slicing,
    reason = "every index is a corner, a face or a pool number of the surface that the lists were made for"
)]

use core::cmp::{Ordering, Reverse};
use std::collections::BinaryHeap;

use glam::DVec3;
use uom::si::f64::{Length, Volume};
use uom::si::length::meter;
use uom::si::volume::cubic_meter;

use super::{DrainError, Pool};
use crate::surface::{Below, Surface};

/// How high oil stands at each corner after draining.
pub(super) struct Flooded {
    /// The height of the outlet.
    outlet: f64,
    /// The level at each corner: its own height where it is dry.
    levels: Vec<f64>,
    /// The pool of each wet corner.
    pool_of: Vec<Option<usize>>,
    /// A wet corner of each pool.
    first: Vec<usize>,
}

/// A corner waiting to be flooded, lowest first, and by number among equals so that the order is one.
#[derive(Clone, Copy)]
struct Waiting {
    level: f64,
    corner: usize,
}

impl Ord for Waiting {
    fn cmp(&self, other: &Self) -> Ordering {
        self.level.total_cmp(&other.level).then(self.corner.cmp(&other.corner))
    }
}

impl PartialOrd for Waiting {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Waiting {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Waiting {}

impl Flooded {
    /// Floods the surface from a point of one of its faces.
    pub(super) fn from_outlet(
        surface: &Surface,
        place: DVec3,
        face: usize,
    ) -> Result<Self, DrainError> {
        let outlet = surface.up.dot(place);
        let doors = surface.faces[face];
        let mut links = vec![Vec::new(); surface.points.len()];
        let mut levels = flood(surface, outlet, &doors, &links);
        let tips = tips(surface, &levels, outlet);
        if !tips.is_empty() {
            links = links_below(surface, &tips)?;
            levels = flood(surface, outlet, &doors, &links);
        }
        let apart = |&corner: &usize| surface.is_used(corner) && levels[corner].is_infinite();
        if let Some(corner) = (0..levels.len()).find(apart) {
            return Err(DrainError::Apart { at: surface.points[corner] });
        }
        let (pool_of, first) = gather(surface, &levels, &links);
        Ok(Self { outlet, levels, pool_of, first })
    }

    /// The pool that wets a face, and its level.
    pub(super) fn pool_at(&self, surface: &Surface, face: usize) -> Option<(usize, f64)> {
        let lowest = surface.lowest(face);
        self.pool_of[lowest].map(|pool| (pool, self.levels[lowest]))
    }

    /// Every pool with its volume. Each face adds to the pool of its lowest corner, in the order of the faces.
    pub(super) fn pools(&self, surface: &Surface) -> Vec<Pool> {
        let mut volumes = vec![0.0; self.first.len()];
        let mut deepest = self.first.clone();
        for face in 0..surface.faces.len() {
            if let Some((pool, level)) = self.pool_at(surface, face) {
                volumes[pool] += surface.volume_below(face, level);
                let lowest = surface.lowest(face);
                if surface.is_lower(lowest, deepest[pool]) {
                    deepest[pool] = lowest;
                }
            }
        }
        let none = Volume::new::<cubic_meter>(0.0);
        let pool = |(number, &corner): (usize, &usize)| Pool {
            level: Length::new::<meter>(self.levels[corner]),
            deepest: surface.points[deepest[number]],
            volume: Volume::new::<cubic_meter>(volumes[number]),
            displaced_least: none,
            displaced_most: none,
            holds_outlet: self.levels[corner] <= self.outlet + surface.tolerance,
        };
        self.first.iter().enumerate().map(pool).collect()
    }
}

/// The level at each corner: the least, over ways along edges and links to the outlet, of their highest point;
/// infinite where there is no way.
fn flood(surface: &Surface, outlet: f64, doors: &[usize], links: &[Vec<usize>]) -> Vec<f64> {
    let mut levels = vec![f64::INFINITY; surface.points.len()];
    let mut waiting = BinaryHeap::new();
    let reach = |corner: usize, from: f64, levels: &mut [f64], waiting: &mut BinaryHeap<_>| {
        let height = surface.heights[corner];
        let level = if height > from { height } else { from };
        if level < levels[corner] {
            levels[corner] = level;
            waiting.push(Reverse(Waiting { level, corner }));
        }
    };
    for &corner in doors {
        reach(corner, outlet, &mut levels, &mut waiting);
    }
    while let Some(Reverse(Waiting { level, corner })) = waiting.pop() {
        if level <= levels[corner] {
            for next in surface.neighbours(corner).chain(links[corner].iter().copied()) {
                reach(next, level, &mut levels, &mut waiting);
            }
        }
    }
    levels
}

/// The lowest corners of undersides that the flood without links finds wet, or no higher than the outlet, which may
/// open at one.
///
/// A link at any other could change nothing. The way to a dry one comes over corners of its own height, of which one has
/// a lower neighbour, so that the underside has no tip there.
fn tips(surface: &Surface, levels: &[f64], outlet: f64) -> Vec<usize> {
    let is_pit = |corner: usize| {
        surface.is_used(corner)
            && surface.neighbours(corner).all(|next| !surface.is_lower(next, corner))
    };
    let pits: Vec<bool> = (0..surface.points.len()).map(is_pit).collect();
    let opening = surface.openings(&pits);
    let hangs = |&corner: &usize| {
        let level = levels[corner];
        let is_wet = level - surface.heights[corner] > surface.tolerance;
        let is_at_outlet = level <= outlet + surface.tolerance;
        pits[corner] && opening[corner] < 0.0 && (is_wet || is_at_outlet)
    };
    (0..surface.points.len()).filter(hangs).collect()
}

/// Joins each tip with the lowest corner of the face straight below it, both ways. The way down from the tip and along
/// that face is nowhere higher than the tip.
fn links_below(surface: &Surface, tips: &[usize]) -> Result<Vec<Vec<usize>>, DrainError> {
    let mut links = vec![Vec::new(); surface.points.len()];
    for &tip in tips {
        let under = surface.points[tip];
        let Below::Floor(face) = surface.below(under) else {
            return Err(DrainError::NoFloor { under });
        };
        let floor = surface.lowest(face);
        links[tip].push(floor);
        links[floor].push(tip);
    }
    Ok(links)
}

/// Numbers the pools: wet corners joined by an edge or a link. Gives each corner's pool and each pool's first corner.
fn gather(
    surface: &Surface,
    levels: &[f64],
    links: &[Vec<usize>],
) -> (Vec<Option<usize>>, Vec<usize>) {
    let is_wet = |corner: usize| {
        surface.is_used(corner) && levels[corner] - surface.heights[corner] > surface.tolerance
    };
    let mut pool_of = vec![None; levels.len()];
    let mut first = Vec::new();
    for corner in 0..levels.len() {
        if pool_of[corner].is_some() || !is_wet(corner) {
            continue;
        }
        let number = first.len();
        first.push(corner);
        pool_of[corner] = Some(number);
        let mut open = vec![corner];
        while let Some(from) = open.pop() {
            for next in surface.neighbours(from).chain(links[from].iter().copied()) {
                if pool_of[next].is_none() && is_wet(next) {
                    pool_of[next] = Some(number);
                    open.push(next);
                }
            }
        }
    }
    (pool_of, first)
}
