//! How far the ground between soundings may be from the truth, from the soundings themselves.
//!
//! A sounding that lies off the plane through its neighbours shows how the floor bends at the spacing of the soundings.
//! Bent alike all round, it is a curved floor, whose chords under-read by a known amount. Bent one way here and
//! another way there, the floor breaks off somewhere between two soundings, nobody knows where.
#![expect(
    clippy::indexing_slicing,
    reason = "neighbours and widths are numbered as the points they belong to"
)]

use super::tin::Tin;
use crate::mesh::{larger, smaller};
use glam::{DMat3, DVec2, DVec3};

/// What chords under-read, for a curvature of 1 and for each square metre of their triangle's sides squared: the mean
/// of what linear interpolation over a triangle misses of a quadratic (integrated by hand, tested on a bowl).
const OF_CURVE: f64 = 1.0 / 24.0;
/// The share of a bend that is not known where a floor breaks off: the break may be anywhere between two soundings, so
/// half of the bend may lie on either side, and the standard uncertainty of that is 1/√12 of it (JCGM 100, 4.3.7).
const OF_BREAK: f64 = 0.288_675_134_594_812_9;

/// A width for each point, and the mean of it over the outline; in metres.
pub(super) struct Doubt {
    pub(super) widths: Vec<f64>,
    pub(super) mean: f64,
}

pub(super) fn doubt(tin: &Tin, tip: f64) -> Doubt {
    let around = neighbours(tin);
    let bends: Vec<Option<Bend>> = (0..tin.points.len()).map(|at| bend(tin, at, &around)).collect();
    let around_each = faces_around(tin);
    let own: Vec<Option<f64>> = (0..bends.len())
        .map(|at| {
            let bend = bends[at]?;
            let others = around.of[at].iter().filter_map(|&other| bends[other as usize]);
            let (sum, count) = others.fold((bend.curvature, 1.0), |(sum, count), other| {
                (sum + other.curvature, count + 1.0)
            });
            let mean = sum / count;
            Some(
                mean.abs() * around_each[at].sides * OF_CURVE
                    + (bend.curvature - mean).abs() * bend.spread / 2.0 * OF_BREAK,
            )
        })
        .collect();
    let widths: Vec<f64> = (0..own.len())
        .map(|at| {
            let width = own[at].unwrap_or_else(|| mean_around(&around.of[at], &own));
            let range = range_around(tin, at, &around.of[at]);
            let slope = around_each[at].slope;
            let rolled = smaller(tip * ((1.0 + slope * slope).sqrt() - 1.0), range / 2.0);
            // Beyond the outermost soundings the floor is led on level: it may go on as it fell or rose before.
            smaller(width, range) + rolled + slope * tin.beyond[at] / 2.0
        })
        .collect();
    let (mut sum, mut area) = (0.0, 0.0);
    for &face in &tin.faces {
        let doubled = tin.doubled_area(face);
        sum += doubled * face.iter().map(|&at| widths[at as usize]).sum::<f64>() / 3.0;
        area += doubled;
    }
    Doubt { mean: if area > 0.0 { sum / area } else { 0.0 }, widths }
}

/// The points around each point, and whether it lies within them all and on no line.
struct Around {
    of: Vec<Vec<u32>>,
    is_free: Vec<bool>,
}

fn neighbours(tin: &Tin) -> Around {
    let mut of: Vec<Vec<u32>> = vec![Vec::new(); tin.points.len()];
    for [from, to] in tin.edges() {
        of[from as usize].push(to);
        of[to as usize].push(from);
    }
    let mut is_free = vec![true; tin.points.len()];
    for &at in tin.fixed.iter().flatten() {
        is_free[at as usize] = false;
    }
    Around { of, is_free }
}

/// How the floor bends at a sounding.
#[derive(Clone, Copy)]
struct Bend {
    /// Of a floor that lies as far off the plane through the neighbours: twice that over `spread`.
    curvature: f64,
    /// The mean of the neighbours' distances squared.
    spread: f64,
}

/// How a sounding lies off the plane through its neighbours; none on the outline and on lines.
fn bend(tin: &Tin, at: usize, around: &Around) -> Option<Bend> {
    let others = &around.of[at];
    if !around.is_free[at] || others.len() < 3 {
        return None;
    }
    let (mut matrix, mut right, mut spread) = (DMat3::ZERO, DVec3::ZERO, 0.0);
    for &other in others {
        let off = tin.points[other as usize] - tin.points[at];
        let row = DVec3::new(1.0, off.x, off.y);
        matrix += DMat3::from_cols(row * row.x, row * row.y, row * row.z);
        right += row * tin.depths[other as usize];
        spread += off.length_squared();
    }
    let spread = spread / others.len() as f64;
    let plane = matrix.inverse() * right;
    let range = range_around(tin, at, others);
    let off = tin.depths[at] - plane.x;
    // Neighbours nearly in one line give no plane; nothing bends by more than the depths around it differ.
    let off = if off.is_finite() { smaller(larger(off, -range), range) } else { range };
    Some(Bend { curvature: 2.0 * off / spread, spread })
}

/// The range of depths of a point and those around it.
fn range_around(tin: &Tin, at: usize, around: &[u32]) -> f64 {
    let own = tin.depths[at];
    let depths = around.iter().map(|&other| tin.depths[other as usize]);
    let [low, high] =
        depths.fold([own, own], |[low, high], depth| [smaller(low, depth), larger(high, depth)]);
    high - low
}

fn mean_around(around: &[u32], widths: &[Option<f64>]) -> f64 {
    let known: Vec<f64> = around.iter().filter_map(|&other| widths[other as usize]).collect();
    if known.is_empty() { 0.0 } else { known.iter().sum::<f64>() / known.len() as f64 }
}

/// The faces around a point, each by its area.
#[derive(Clone, Copy, Default)]
struct Faces {
    /// The mean of the sum of their sides squared.
    sides: f64,
    /// How steep they are together.
    slope: f64,
}

fn faces_around(tin: &Tin) -> Vec<Faces> {
    let mut sums = vec![(DVec2::ZERO, 0.0, 0.0); tin.points.len()];
    for &face in &tin.faces {
        let area = tin.doubled_area(face);
        if area <= 0.0 {
            continue;
        }
        let gradient = tin.gradient(face);
        let [a, b, c] = face.map(|at| tin.points[at as usize]);
        let sides = a.distance_squared(b) + b.distance_squared(c) + c.distance_squared(a);
        for at in face {
            let sum = &mut sums[at as usize];
            sum.0 += gradient * area;
            sum.1 += sides * area;
            sum.2 += area;
        }
    }
    let mean = |&(gradient, sides, area): &(DVec2, f64, f64)| {
        if area > 0.0 {
            Faces { sides: sides / area, slope: gradient.length() / area }
        } else {
            Faces::default()
        }
    };
    sums.iter().map(mean).collect()
}
