//! How fast oil swings to and fro in a pan of any plan shape and depth.
//!
//! Shallow oil swings by ∇·(g h ∇η) + ω² η = 0, h the depth and η the rise of the surface, with no flow through walls.
//! The equation is put on the grid of columns by finite volumes; its lowest modes are found by repeated solving with
//! four vectors, which start as tilts and bows of the surface.
#![expect(
    clippy::indexing_slicing,
    reason = "unknowns, band and vectors are all made with one length, and a place in the band is checked against it"
)]

use crate::columns::Columns;
use glam::DVec3;
use uom::si::f64::{Acceleration, Frequency, Length, Ratio};
use uom::si::frequency::hertz;
use uom::si::ratio::ratio;

/// Vectors that are carried along: the first modes along and across, and two more that keep them clean.
const VECTORS: usize = 4;
/// Each round shrinks what is wrong by the ratio of the first to the fifth eigenvalue, a fourth or less as a rule.
const ROUNDS: u32 = 10;
/// Rounds of Jacobi's method for four by four numbers; it needs 4 or 5.
const SWEEPS: u32 = 12;

/// What swings in a pan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seiche {
    /// Frequency of the first mode along x.
    pub along: Frequency,
    /// Frequency of the first mode along y.
    pub across: Frequency,
    /// Oil over free surface.
    pub mean_depth: Length,
    /// How much of each mode is a plain tilt, along and across: 1 is all of it, 0.99 in a box.
    pub tilts: [Ratio; 2],
}

/// The first modes of oil at rest at the plane up·x = height.
///
/// # Formula
/// ∇·(g h ∇η) = −ω² η, then ω² times tanh(k h̄)/(k h̄) with k² = ω²/(g h̄): exact for a box, and what is
/// left of the depth's effect elsewhere. What is solid below the surface narrows h, and where it stands through the
/// surface there is none that can rise.
///
/// # Valid for
/// Inviscid oil, small waves. With 32 cells along a box the first mode is 0.04 % slow.
///
/// # Source
/// Lamb, Hydrodynamics, art. 190 and 193 (from memory).
pub fn seiche(
    columns: &Columns,
    up: DVec3,
    height: Length,
    gravity: Acceleration,
) -> Option<Seiche> {
    let grid = Grid::new(columns, up, height.value, gravity.value);
    if grid.cells.len() <= VECTORS {
        return None;
    }
    let modes = grid.modes()?;
    let depth = grid.volume / grid.surface;
    let best =
        |axis: usize| modes.iter().reduce(|a, b| if b.tilt[axis] > a.tilt[axis] { b } else { a });
    let (along, across) = (best(0)?, best(1)?);
    let hertz_of = |squared: f64| {
        let number = (squared / (gravity.value * depth)).sqrt() * depth;
        let corrected = squared * libm::tanh(number) / number;
        Frequency::new::<hertz>(corrected.sqrt() / core::f64::consts::TAU)
    };
    Some(Seiche {
        along: hertz_of(along.squared),
        across: hertz_of(across.squared),
        mean_depth: Length::new::<uom::si::length::meter>(depth),
        tilts: [along.tilt[0], across.tilt[1]].map(Ratio::new::<ratio>),
    })
}

/// One mode: ω², and the share of it that is a tilt along each axis.
struct Mode {
    squared: f64,
    tilt: [f64; 2],
}

/// The equation on the wet cells, numbered so that neighbours are near in number.
struct Grid {
    /// Cells that take part.
    cells: Vec<glam::DVec2>,
    /// Free surface of each.
    mass: Vec<f64>,
    /// For each cell: neighbours with a higher number and what flows to them.
    links: Vec<Vec<(usize, f64)>>,
    /// Greatest difference of numbers of two neighbours.
    band: usize,
    volume: f64,
    surface: f64,
}

impl Grid {
    fn new(columns: &Columns, up: DVec3, height: f64, gravity: f64) -> Self {
        let [nx, ny] = columns.count;
        let by_row = nx <= ny;
        let (inner, outer) = if by_row { (nx, ny) } else { (ny, nx) };
        let cell_of = |i: usize, j: usize| if by_row { j * nx + i } else { i * nx + j };
        let area = columns.cell.x * columns.cell.y;
        let mut number = vec![usize::MAX; nx * ny];
        let mut grid = Self {
            cells: Vec::new(),
            mass: Vec::new(),
            links: Vec::new(),
            band: 0,
            volume: 0.0,
            surface: 0.0,
        };
        let mut depths = Vec::new();
        for j in 0..outer {
            for i in 0..inner {
                let cell = cell_of(i, j);
                let top = columns.surface(cell, up, height);
                let depth = columns.open(cell, columns.floor[cell], top);
                if !(columns.inside[cell] && depth > 0.0) {
                    continue;
                }
                number[cell] = grid.cells.len();
                let free = if columns.is_solid(cell, top) { 0.0 } else { area };
                grid.cells.push(columns.middle(cell));
                grid.mass.push(free);
                grid.links.push(Vec::new());
                grid.volume += depth * area;
                grid.surface += free;
                depths.push(depth);
            }
        }
        for j in 0..outer {
            for i in 0..inner {
                let here = number[cell_of(i, j)];
                for (next, inner_step) in [((i + 1, j), true), ((i, j + 1), false)] {
                    if next.0 >= inner || next.1 >= outer || here == usize::MAX {
                        continue;
                    }
                    let there = number[cell_of(next.0, next.1)];
                    if there == usize::MAX {
                        continue;
                    }
                    let along_x = inner_step == by_row;
                    let (wide, far) = if along_x {
                        (columns.cell.y, columns.cell.x)
                    } else {
                        (columns.cell.x, columns.cell.y)
                    };
                    // The narrower of two depths in series: their harmonic mean.
                    let (a, b) = (depths[here], depths[there]);
                    let depth = 2.0 * a * b / (a + b);
                    grid.links[here].push((there, gravity * depth * wide / far));
                    if there - here > grid.band {
                        grid.band = there - here;
                    }
                }
            }
        }
        grid
    }

    fn modes(&self) -> Option<Vec<Mode>> {
        let mut tilts = [self.start(|p| p.x), self.start(|p| p.y)];
        for tilt in &mut tilts {
            self.level_out(tilt);
        }
        let bow = [self.start(|p| p.x * p.x - p.y * p.y), self.start(|p| p.x * p.y)];
        let starts = [&tilts[0], &tilts[1], &bow[0], &bow[1]];
        let mut vectors: Vec<Four> =
            (0..self.cells.len()).map(|cell| starts.map(|start| start[cell])).collect();
        // A guess at ω² keeps the level surface, which does not swing, from making the matrix singular.
        let shift = 1e-3 * self.stiffness(&tilts[0]) / self.weight(&tilts[0], &tilts[0]);
        let factor = self.factor(shift)?;
        for _ in 0..ROUNDS {
            for (values, mass) in vectors.iter_mut().zip(&self.mass) {
                *values = values.map(|value| value * mass);
            }
            self.solve(&factor, &mut vectors);
            self.level_out_all(&mut vectors);
            self.straighten(&mut vectors)?;
        }
        Some(self.ritz(&vectors, &tilts))
    }

    /// A pattern over the cells, from the middle of all of them.
    fn start(&self, pattern: impl Fn(glam::DVec2) -> f64) -> Vec<f64> {
        let sum: glam::DVec2 = self.cells.iter().zip(&self.mass).map(|(p, m)| *p * *m).sum();
        let middle = sum / self.surface;
        self.cells.iter().map(|place| pattern(*place - middle)).collect()
    }

    /// Takes out what would raise the whole surface.
    fn level_out(&self, vector: &mut [f64]) {
        let sum: f64 = vector.iter().zip(&self.mass).map(|(v, m)| v * m).sum();
        let mean = sum / self.surface;
        for value in vector.iter_mut() {
            *value -= mean;
        }
    }

    /// The same for the vectors that are carried along.
    fn level_out_all(&self, vectors: &mut [Four]) {
        let mut sums = [-0.0; VECTORS];
        for (values, mass) in vectors.iter().zip(&self.mass) {
            for lane in 0..VECTORS {
                sums[lane] += values[lane] * mass;
            }
        }
        let means = sums.map(|sum| sum / self.surface);
        for values in vectors.iter_mut() {
            for lane in 0..VECTORS {
                values[lane] -= means[lane];
            }
        }
    }

    /// Makes the vectors square to each other and of one size, each in turn before those behind it.
    fn straighten(&self, vectors: &mut [Four]) -> Option<()> {
        for at in 0..VECTORS {
            let size = self.weights(vectors, at)[at].sqrt();
            if !(size > 0.0 && size.is_finite()) {
                return None;
            }
            for values in vectors.iter_mut() {
                values[at] /= size;
            }
            let shares = self.weights(vectors, at);
            for values in vectors.iter_mut() {
                let own = values[at];
                for lane in at + 1..VECTORS {
                    values[lane] -= shares[lane] * own;
                }
            }
        }
        Some(())
    }

    fn weight(&self, a: &[f64], b: &[f64]) -> f64 {
        a.iter().zip(b).zip(&self.mass).map(|((a, b), m)| a * b * m).sum()
    }

    /// The weights of all vectors with one of them.
    fn weights(&self, vectors: &[Four], at: usize) -> Four {
        let mut sums = [-0.0; VECTORS];
        for (values, mass) in vectors.iter().zip(&self.mass) {
            for lane in 0..VECTORS {
                sums[lane] += values[lane] * values[at] * mass;
            }
        }
        sums
    }

    fn stiffness(&self, a: &[f64]) -> f64 {
        let mut sum = 0.0;
        for (here, links) in self.links.iter().enumerate() {
            for (there, flow) in links {
                sum += flow * (a[here] - a[*there]) * (a[here] - a[*there]);
            }
        }
        sum
    }

    /// The stiffness of each pair of vectors.
    fn stiffnesses(&self, vectors: &[Four]) -> Small {
        let mut sums = [[0.0; VECTORS]; VECTORS];
        for (values, links) in vectors.iter().zip(&self.links) {
            for (there, flow) in links {
                let other = &vectors[*there];
                let apart: Four = core::array::from_fn(|lane| values[lane] - other[lane]);
                for (sums, own) in sums.iter_mut().zip(&apart) {
                    for lane in 0..VECTORS {
                        sums[lane] += flow * own * apart[lane];
                    }
                }
            }
        }
        sums
    }

    /// Cholesky's factor of K + shift · M, row by row, `band` numbers left of the diagonal and it.
    fn factor(&self, shift: f64) -> Option<Vec<f64>> {
        let (n, width) = (self.cells.len(), self.band + 1);
        let mut rows = vec![0.0; n * width];
        let at = |row: usize, column: usize| row * width + (column + self.band - row);
        for (here, links) in self.links.iter().enumerate() {
            rows[at(here, here)] += shift * self.mass[here];
            for (there, flow) in links {
                rows[at(here, here)] += flow;
                rows[at(*there, *there)] += flow;
                rows[at(*there, here)] -= flow;
            }
        }
        for row in 0..n {
            let first = row.saturating_sub(self.band);
            let (done, rest) = rows.split_at_mut(row * width);
            let own = &mut rest[..width];
            for column in first..row {
                let start = core::cmp::max(first, column.saturating_sub(self.band));
                let other = &done[column * width..(column + 1) * width];
                let mut sum = own[column + self.band - row];
                let left = &own[start + self.band - row..column + self.band - row];
                for (a, b) in left.iter().zip(&other[start + self.band - column..self.band]) {
                    sum -= a * b;
                }
                own[column + self.band - row] = sum / other[self.band];
            }
            let (left, diagonal) = own.split_at_mut(self.band);
            let mut sum = diagonal[0];
            for a in &left[first + self.band - row..] {
                sum -= a * a;
            }
            if sum > 0.0 {
                diagonal[0] = sum.sqrt();
            } else {
                return None;
            }
        }
        Some(rows)
    }

    /// Solves for all vectors at once.
    fn solve(&self, rows: &[f64], vectors: &mut [Four]) {
        let (n, width) = (self.cells.len(), self.band + 1);
        for row in 0..n {
            let first = row.saturating_sub(self.band);
            let factors = &rows[row * width + first + self.band - row..(row + 1) * width];
            let mut sums = vectors[row];
            for (factor, values) in factors.iter().zip(&vectors[first..row]) {
                for lane in 0..VECTORS {
                    sums[lane] -= factor * values[lane];
                }
            }
            vectors[row] = sums.map(|sum| sum / rows[(row + 1) * width - 1]);
        }
        for row in (0..n).rev() {
            let first = row.saturating_sub(self.band);
            let factors = &rows[row * width + first + self.band - row..(row + 1) * width];
            let own = vectors[row].map(|value| value / rows[(row + 1) * width - 1]);
            vectors[row] = own;
            for (factor, values) in factors.iter().zip(&mut vectors[first..row]) {
                for lane in 0..VECTORS {
                    values[lane] -= factor * own[lane];
                }
            }
        }
    }

    /// The modes within the vectors: Rayleigh and Ritz, by Jacobi's turns.
    fn ritz(&self, vectors: &[Four], tilts: &[Vec<f64>; 2]) -> Vec<Mode> {
        let mut small = self.stiffnesses(vectors);
        let mut turned = [[0.0; VECTORS]; VECTORS];
        for (place, row) in turned.iter_mut().enumerate() {
            row[place] = 1.0;
        }
        for _ in 0..SWEEPS {
            for p in 0..VECTORS {
                for q in p + 1..VECTORS {
                    turn(&mut small, &mut turned, p, q);
                }
            }
        }
        let share = |tilt: &[f64], mode: usize| {
            let weight = |lane: usize| -> f64 {
                let terms = tilt.iter().zip(vectors).zip(&self.mass);
                terms.map(|((a, values), m)| a * values[lane] * m).sum()
            };
            let along: f64 = (0..VECTORS).map(|i| turned[i][mode] * weight(i)).sum();
            along * along / self.weight(tilt, tilt)
        };
        (0..VECTORS)
            .map(|mode| Mode {
                squared: small[mode][mode],
                tilt: [share(&tilts[0], mode), share(&tilts[1], mode)],
            })
            .collect()
    }
}

/// A number of each vector: side by side, so that one step does all four.
type Four = [f64; VECTORS];
type Small = [Four; VECTORS];

/// One turn of Jacobi's method that clears the place (p, q).
fn turn(small: &mut Small, turned: &mut Small, p: usize, q: usize) {
    let off = small[p][q];
    if off.abs() <= f64::MIN_POSITIVE {
        return;
    }
    let half = (small[q][q] - small[p][p]) / (2.0 * off);
    let root = half.abs() + (half * half + 1.0).sqrt();
    let tangent = if half < 0.0 { -1.0 / root } else { 1.0 / root };
    let cosine = 1.0 / (tangent * tangent + 1.0).sqrt();
    let sine = tangent * cosine;
    for row in small.iter_mut() {
        let (a, b) = (row[p], row[q]);
        (row[p], row[q]) = (cosine * a - sine * b, sine * a + cosine * b);
    }
    for k in 0..VECTORS {
        let (a, b) = (small[p][k], small[q][k]);
        (small[p][k], small[q][k]) = (cosine * a - sine * b, sine * a + cosine * b);
        let (a, b) = (turned[k][p], turned[k][q]);
        (turned[k][p], turned[k][q]) = (cosine * a - sine * b, sine * a + cosine * b);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::columns::{Block, Divide};
    use crate::terrain::{Outline, Terrain, Zone};
    use glam::DVec2;
    use uom::si::acceleration::meter_per_second_squared;
    use uom::si::length::meter;

    const G: f64 = 9.806_65;

    fn m(value: f64) -> Length {
        Length::new::<meter>(value)
    }

    fn pan(outline: Outline, depth: f64) -> Terrain {
        let draft = uom::si::f64::Angle::new::<uom::si::angle::radian>(0.0);
        Terrain::build(&[Zone { outline, opens_at: m(0.0), floor: m(depth), slope: None, draft }])
            .unwrap()
    }

    fn rectangle(x: f64, y: f64) -> Outline {
        Outline::rectangle(DVec2::ZERO, m(x), m(y), m(0.0)).unwrap()
    }

    fn swing(columns: &Columns, level: f64) -> Seiche {
        let gravity = Acceleration::new::<meter_per_second_squared>(G);
        seiche(columns, DVec3::Z, m(level), gravity).unwrap()
    }

    fn near(found: f64, meant: f64, share: f64) {
        assert!((found / meant - 1.0).abs() < share, "{found} is not {meant}");
    }

    // Lamb, art. 190 / NASA SP-106 ch. 2: 0.400 m with 0.050 m of oil swing at 0.85384315 Hz.
    #[test]
    fn a_box_swings_at_the_published_frequency() {
        let columns = Columns::new(&pan(rectangle(0.4, 0.27), 0.2), &[], 32).unwrap();
        let found = swing(&columns, -0.15);
        near(found.along.value, 0.853_843_15, 2e-3);
        near(found.mean_depth.value, 0.05, 1e-12);
        let across = (G * core::f64::consts::PI / 0.27
            * libm::tanh(core::f64::consts::PI * 0.05 / 0.27))
        .sqrt()
            / core::f64::consts::TAU;
        near(found.across.value, across, 2e-3);
        assert!(found.tilts.iter().all(|tilt| tilt.value > 0.98));
    }

    // Merian's formula, the shallow limit: 0.400 m with 0.010 m swing at 0.39144464 Hz.
    #[test]
    fn a_shallow_box_swings_as_merian_says() {
        let columns = Columns::new(&pan(rectangle(0.4, 0.27), 0.2), &[], 32).unwrap();
        near(swing(&columns, -0.19).along.value, 0.391_444_64, 3e-3);
    }

    // Same source as the box: a full wall in the middle raises the frequency 1.8734672 times.
    #[test]
    fn a_wall_in_the_middle_nearly_doubles_the_frequency() {
        let columns = Columns::new(&pan(rectangle(0.4, 0.27), 0.2), &[], 32).unwrap();
        let wall = Divide { at: DVec2::ZERO, along: DVec2::Y };
        let half = columns.compartment(DVec2::new(0.1, 0.0), &[wall]);
        let rise = swing(&half, -0.15).along / swing(&columns, -0.15).along;
        near(rise.value, 1.873_467_2, 5e-3);
    }

    // Lamb, art. 191 / NASA SP-106 ch. 2: an upright cylinder of 0.100 m radius with 0.100 m swings at 2.0854435 Hz. The
    // depth is beyond the shallow theory, and the steps of the grid stand for the round wall.
    #[test]
    fn a_round_pan_swings_as_a_cylinder_does() {
        let round = Outline::circle(DVec2::ZERO, m(0.2)).unwrap();
        let columns = Columns::new(&pan(round, 0.2), &[], 32).unwrap();
        let found = swing(&columns, -0.1);
        near(found.along.value, 2.085_443_5, 0.02);
        near(found.across.value, 2.085_443_5, 0.02);
    }

    // Lamb, art. 186: two depths side by side. The shallow equation for a step in the middle asks
    // c₁ tan(ω l/c₁) + c₂ tan(ω l/c₂) = 0 with c = √(g h); solved by bisection.
    #[test]
    fn a_step_in_the_floor_swings_between_its_two_depths() {
        let shelf = Zone {
            outline: rectangle(0.4, 0.1),
            opens_at: m(0.0),
            floor: m(0.11),
            slope: None,
            draft: uom::si::f64::Angle::new::<uom::si::angle::radian>(0.0),
        };
        let half = Outline::rectangle(DVec2::new(0.1, 0.0), m(0.2), m(0.1), m(0.0)).unwrap();
        let deep = Zone { outline: half, floor: m(0.14), ..shelf.clone() };
        let terrain = Terrain::build(&[shelf, deep]).unwrap();
        let columns = Columns::new(&terrain, &[], 64).unwrap();
        let gravity = Acceleration::new::<meter_per_second_squared>(G);
        let level = m(-0.1);
        let grid = Grid::new(&columns, DVec3::Z, level.value, gravity.value);
        let found = grid
            .modes()
            .unwrap()
            .iter()
            .map(|mode| mode.squared)
            .reduce(crate::mesh::smaller)
            .unwrap();
        let (c1, c2) = ((G * 0.01).sqrt(), (G * 0.04).sqrt());
        let miss = |w: f64| c1 * libm::tan(w * 0.2 / c1) + c2 * libm::tan(w * 0.2 / c2);
        let pole = core::f64::consts::FRAC_PI_2 * c1 / 0.2;
        let (mut low, mut high) = (pole * 1.000_001, pole * 1.999);
        for _ in 0..100 {
            let middle = f64::midpoint(low, high);
            if miss(middle) < 0.0 { low = middle } else { high = middle }
        }
        near(found.sqrt(), low, 5e-3);
    }

    #[test]
    fn a_block_through_the_surface_leaves_less_that_can_rise() {
        let terrain = pan(rectangle(0.4, 0.27), 0.2);
        let shadow = [(-0.05, -0.05), (0.05, -0.05), (0.05, 0.05), (-0.05, 0.05)];
        let block = |low, high| Block { shadow: shadow.map(DVec2::from).to_vec(), low, high };
        let with = |block| swing(&Columns::new(&terrain, &[block], 32).unwrap(), -0.15);
        let free = swing(&Columns::new(&terrain, &[], 32).unwrap(), -0.15);
        assert!(with(block(-0.19, -0.16)).along < free.along);
        assert!((with(block(-0.19, -0.10)).mean_depth.value) > 0.0);
    }
}
