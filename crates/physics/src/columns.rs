//! A pan seen in plan as a grid of columns: what is needed where a plane level is not enough.
#![expect(
    clippy::indexing_slicing,
    reason = "cells are numbered 0 to count[0] · count[1] − 1, and every index is made from two numbers within count"
)]

use crate::terrain::Terrain;
use glam::{DVec2, DVec3};
use uom::si::f64::{Length, Volume};

/// Something solid in the oil: its shadow in plan (convex, either turn), its lowest and highest z, in metres.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// Corners of the shadow.
    pub shadow: Vec<DVec2>,
    /// Lowest z.
    pub low: f64,
    /// Highest z.
    pub high: f64,
}

/// A straight wall seen in plan, without end to both sides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Divide {
    /// A place on it.
    pub at: DVec2,
    /// Along it.
    pub along: DVec2,
}

/// The grid.
#[derive(Debug, Clone, PartialEq)]
pub struct Columns {
    /// The corner of least x and y.
    pub(crate) corner: DVec2,
    /// Size of a cell.
    pub(crate) cell: DVec2,
    /// How many cells along x and y.
    pub(crate) count: [usize; 2],
    /// Mean z of the ground in each cell, x fastest; 0 outside.
    pub(crate) floor: Vec<f64>,
    /// Stretches of z that are solid, for each cell.
    pub(crate) solid: Vec<Vec<[f64; 2]>>,
    /// Whether a cell takes part in what swings.
    pub(crate) inside: Vec<bool>,
    /// Which share of a cell's area holds oil that counts.
    share: Vec<f64>,
}

impl Columns {
    /// Cuts a terrain into columns, so many along the longer side.
    ///
    /// # Formula
    /// The ground of a cell is the mean of its profile along the cell's middle line.
    ///
    /// # Valid for
    /// Any terrain; a box whose sides run along x and y comes out exactly, others to the first order of a cell.
    pub fn new(terrain: &Terrain, blocks: &[Block], along_longer: u32) -> Option<Self> {
        let points = terrain.floor_faces().iter().flatten().map(|corner| corner.truncate());
        let (low, high) = points.fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), p| {
            (low.min(p), high.max(p))
        });
        let size = high - low;
        if !(size.x > 0.0 && size.y > 0.0 && size.is_finite()) {
            return None;
        }
        let step = size.max_element() / f64::from(along_longer);
        let count = [size.x, size.y].map(|side| whole(side / step));
        let cell = DVec2::new(size.x / as_f64(count[0]), size.y / as_f64(count[1]));
        let cells = count[0] * count[1];
        let mut columns = Self {
            corner: low,
            cell,
            count,
            floor: Vec::with_capacity(cells),
            solid: vec![Vec::new(); cells],
            inside: vec![true; cells],
            share: vec![1.0; cells],
        };
        for row in 0..count[1] {
            let y = low.y + (as_f64(row) + 0.5) * cell.y;
            let profile = terrain.profile(DVec2::new(low.x, y), DVec2::new(high.x, y));
            let line: Vec<(f64, f64)> = profile.iter().map(|(s, d)| (s.value, d.value)).collect();
            for place in 0..count[0] {
                let from = as_f64(place) * cell.x;
                columns.floor.push(-mean(&line, from, from + cell.x));
            }
        }
        for (cell, solid) in columns.solid.iter_mut().enumerate() {
            let middle = DVec2::new(
                low.x + (as_f64(cell % count[0]) + 0.5) * columns.cell.x,
                low.y + (as_f64(cell / count[0]) + 0.5) * columns.cell.y,
            );
            let over = blocks.iter().filter(|block| covers(&block.shadow, middle));
            solid.extend(over.map(|block| [block.low, block.high]));
        }
        Some(columns)
    }

    /// The part on the same side of all walls as a place: a cell that a wall cuts swings with the side that its middle
    /// lies on, and holds oil as far as it reaches.
    #[must_use]
    pub fn compartment(&self, place: DVec2, walls: &[Divide]) -> Self {
        let side = |wall: &Divide, point: DVec2| wall.along.perp_dot(point - wall.at) >= 0.0;
        let mut part = self.clone();
        for cell in 0..part.inside.len() {
            let middle = self.middle(cell);
            part.inside[cell] &= walls.iter().all(|w| side(w, middle) == side(w, place));
            for wall in walls {
                part.share[cell] *= beside(wall, middle, self.cell, side(wall, place));
            }
        }
        part
    }

    /// The oil below the plane up·x = height.
    ///
    /// # Formula
    /// Σ share · cell area · (surface − ground − what is solid between), the surface at the cell's middle.
    pub fn below(&self, up: DVec3, height: Length) -> Volume {
        let area = self.cell.x * self.cell.y;
        let sum: f64 = (0..self.floor.len())
            .filter(|cell| self.share[*cell] > 0.0)
            .map(|cell| {
                let open = self.open(cell, self.floor[cell], self.surface(cell, up, height.value));
                self.share[cell] * open
            })
            .sum();
        Volume::new::<uom::si::volume::cubic_meter>(sum * area)
    }

    /// The middle of a cell.
    pub(crate) fn middle(&self, cell: usize) -> DVec2 {
        let (x, y) = (cell % self.count[0], cell / self.count[0]);
        self.corner + DVec2::new(as_f64(x) + 0.5, as_f64(y) + 0.5) * self.cell
    }

    /// z of the plane over the middle of a cell.
    pub(crate) fn surface(&self, cell: usize, up: DVec3, height: f64) -> f64 {
        (height - up.truncate().dot(self.middle(cell))) / up.z
    }

    /// How much of a stretch of a column is free of what is solid.
    pub(crate) fn open(&self, cell: usize, low: f64, high: f64) -> f64 {
        let taken: f64 = self.solid[cell]
            .iter()
            .map(|[from, to]| {
                let top = high.clamp(low, f64::INFINITY);
                to.clamp(low, top) - from.clamp(low, top)
            })
            .sum();
        positive(positive(high - low) - taken)
    }

    /// Whether something solid stands through a height in a column.
    pub(crate) fn is_solid(&self, cell: usize, z: f64) -> bool {
        self.solid[cell].iter().any(|[low, high]| *low < z && z < *high)
    }
}

pub(crate) fn positive(value: f64) -> f64 {
    if value > 0.0 { value } else { 0.0 }
}

pub(crate) fn as_f64(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::NAN, f64::from)
}

/// The nearest whole number from 1 on.
fn whole(value: f64) -> usize {
    let mut count = 1;
    while as_f64(count) + 0.5 < value {
        count += 1;
    }
    count
}

/// The mean of a profile of straight pieces over a stretch.
fn mean(line: &[(f64, f64)], from: f64, to: f64) -> f64 {
    let mut sum = 0.0;
    for pair in line.windows(2) {
        let [(s0, d0), (s1, d1)] = [pair[0], pair[1]];
        let (start, end) = (s0.clamp(from, to), s1.clamp(from, to));
        if end <= start {
            continue;
        }
        let depth = |s: f64| d0 + (d1 - d0) * (s - s0) / (s1 - s0);
        sum += f64::midpoint(depth(start), depth(end)) * (end - start);
    }
    sum / (to - from)
}

/// The share of a cell that lies to one side of a wall.
fn beside(wall: &Divide, middle: DVec2, cell: DVec2, left: bool) -> f64 {
    let turn = if left { 1.0 } else { -1.0 };
    let over = |point: DVec2| turn * wall.along.perp_dot(point - wall.at);
    let signs = [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)];
    let corners = signs.map(|(x, y)| middle + DVec2::new(x, y) * cell);
    let mut polygon: Vec<DVec2> = Vec::with_capacity(6);
    for (from, to) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let (at_from, at_to) = (over(*from), over(*to));
        if at_from > 0.0 {
            polygon.push(*from);
        }
        if (at_from > 0.0) != (at_to > 0.0) {
            polygon.push(*from + (*to - *from) * (at_from / (at_from - at_to)));
        }
    }
    let sides = polygon.iter().zip(polygon.iter().cycle().skip(1));
    let twice: f64 = sides.map(|(a, b)| (*a - middle).perp_dot(*b - middle)).sum();
    twice / 2.0 / (cell.x * cell.y)
}

/// Whether a convex polygon, either turn, covers a place.
fn covers(shadow: &[DVec2], place: DVec2) -> bool {
    let sides = shadow.iter().zip(shadow.iter().cycle().skip(1));
    let turns: Vec<f64> = sides.map(|(a, b)| (*b - *a).perp_dot(place - *a)).collect();
    !turns.is_empty()
        && (turns.iter().all(|turn| *turn >= 0.0) || turns.iter().all(|turn| *turn <= 0.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terrain::{Outline, Zone};
    use uom::si::length::meter;

    fn m(value: f64) -> Length {
        Length::new::<meter>(value)
    }

    pub(crate) fn box_pan(x: f64, y: f64, depth: f64) -> Terrain {
        let outline = Outline::rectangle(DVec2::ZERO, m(x), m(y), m(0.0)).unwrap();
        let zone = Zone {
            outline,
            opens_at: m(0.0),
            floor: m(depth),
            slope: None,
            draft: uom::si::f64::Angle::new::<uom::si::angle::radian>(0.0),
        };
        Terrain::build(&[zone]).unwrap()
    }

    // Elementary solid geometry (Bronshtein/Semendyayev, stereometry): 4.0 L in 0.400 m by 0.270 m pitched 5 deg stand
    // 54.53477 mm deep at the low wall, so that a plane through that height has 4.0 L below it.
    #[test]
    fn a_pitched_box_holds_what_solid_geometry_says() {
        let columns = Columns::new(&box_pan(0.4, 0.27, 0.2), &[], 32).unwrap();
        let tilt = 5.0 * core::f64::consts::PI / 180.0;
        let up = DVec3::new(libm::sin(tilt), 0.0, libm::cos(tilt));
        let height = up.dot(DVec3::new(-0.2, 0.0, -0.2 + 0.054_534_77));
        assert!((columns.below(up, m(height)).value - 0.004).abs() < 1e-9);
    }

    #[test]
    fn a_block_takes_its_room_and_a_wall_parts_the_box() {
        let shadow = [(-0.1, -0.1), (0.1, -0.1), (0.1, 0.1), (-0.1, 0.1)];
        let block = Block { shadow: shadow.map(DVec2::from).to_vec(), low: -0.08, high: -0.02 };
        let columns = Columns::new(&box_pan(0.4, 0.4, 0.1), &[block], 32).unwrap();
        let level = columns.below(DVec3::Z, m(-0.03)).value;
        assert!((level - (0.16 * 0.07 - 0.04 * 0.05)).abs() < 1e-12, "{level}");
        let wall = Divide { at: DVec2::ZERO, along: DVec2::Y };
        let part = columns.compartment(DVec2::new(0.1, 0.0), &[wall]);
        assert!((part.below(DVec3::Z, m(-0.03)).value - level / 2.0).abs() < 1e-12);
    }

    // Plane geometry: a wall 13 mm off the middle leaves 0.187 m of 0.400 m, one askew by 45° a triangle, wherever cells end.
    #[test]
    fn a_wall_parts_cells_as_well() {
        let columns = Columns::new(&box_pan(0.4, 0.4, 0.1), &[], 24).unwrap();
        let of = |at: DVec2, along: DVec2, place: DVec2| {
            let part = columns.compartment(place, &[Divide { at, along }]);
            part.below(DVec3::Z, m(0.0)).value
        };
        let upright = of(DVec2::new(0.013, 0.0), DVec2::Y, DVec2::new(0.1, 0.0));
        assert!((upright - 0.4 * 0.187 * 0.1).abs() < 1e-12, "{upright}");
        let other = of(DVec2::new(0.013, 0.0), DVec2::Y, DVec2::new(-0.1, 0.0));
        assert!((other - 0.4 * 0.213 * 0.1).abs() < 1e-12, "{other}");
        // From y = −0.2, where it cuts x at −0.05, to x = 0.2 at y = 0.05: a triangle of 0.25 by 0.25 m beyond it.
        let askew = of(DVec2::new(0.15, 0.0), DVec2::ONE, DVec2::new(0.19, -0.19));
        assert!((askew - 0.25 * 0.25 / 2.0 * 0.1).abs() < 1e-12, "{askew}");
    }
}
