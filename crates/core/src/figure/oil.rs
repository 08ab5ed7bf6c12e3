//! Oil in a section: each pool at its own level, up to what keeps it from the others.

use super::cut::{on_the_floor, right_of, signed_area};
use super::section::Paper;
use super::{Part, PoolDrawn, Shape};
use crate::model::{AtInlet, DrawnPart, DrawnSolid, PoolAtRest};
use glam::{DVec2, DVec3};

/// What is smaller than this, in square metres, is rounding and nothing to see.
const SEEN: f64 = 1e-9;
/// So far above a floor it is asked whose oil stands there, in metres: more than rounding, less than any oil that is drawn.
const ABOVE: f64 = 1e-6;
/// Points within this of a level lie on it, in metres.
const ON: f64 = 1e-9;
/// So far below its level a pool is cut, in metres: one that is full to its lip would hang together with what lies beyond
/// the lip, by rounding.
const LIP: f64 = 1e-7;

/// The oil of a section, and the pools that it lies in.
pub(super) struct Oil<'a> {
    pub(super) paper: &'a Paper,
    pub(super) at_rest: &'a AtInlet,
    /// The lines seen from above of what holds oil back.
    pub(super) dams: Vec<[DVec2; 2]>,
}

impl Oil<'_> {
    /// The pools in the order in which shapes name them: as [`AtInlet::pools`] has them.
    pub(super) fn pools(&self, shapes: &[Shape]) -> Vec<PoolDrawn> {
        let is_met = |number: usize| shapes.iter().any(|shape| shape.part == Part::Surface(number));
        let pool = |(number, pool): (usize, PoolAtRest)| PoolDrawn {
            volume: pool.volume.value,
            higher: (pool.level - self.at_rest.level).value,
            at_inlet: pool.at_inlet,
            is_met: is_met(number),
        };
        self.at_rest.pools().into_iter().enumerate().map(pool).collect()
    }

    /// The oil within a line of what holds it, and its surface.
    pub(super) fn within(&self, solid: &DrawnSolid, line: &[DVec2]) -> Vec<Shape> {
        let mut shapes = Vec::new();
        for (number, pool) in self.at_rest.pools().into_iter().enumerate() {
            let height = pool.level.value - self.paper.up.dot(self.paper.origin);
            let part = match solid.part {
                DrawnPart::Case => Part::OilInCase(number),
                _ => Part::Oil(number),
            };
            let cut = height - LIP;
            for mut piece in self.parted(right_of(line, DVec2::new(0.0, cut), DVec2::X)) {
                if signed_area(&piece).abs() < SEEN || self.whose(&piece) != Some(number) {
                    continue;
                }
                for point in piece.iter_mut().filter(|point| (point.y - cut).abs() < ON) {
                    point.y = height;
                }
                let surfaces = surfaces(&piece, height);
                shapes.push(Shape::closed(part, "", piece));
                shapes.extend(
                    surfaces.into_iter().map(|l| Shape::open(Part::Surface(number), "", l.into())),
                );
            }
        }
        shapes
    }

    /// Pieces cut where a dam stands: over its top the parts are of one pool all the same.
    fn parted(&self, mut pieces: Vec<Vec<DVec2>>) -> Vec<Vec<DVec2>> {
        for dam in &self.dams {
            let Some((at, along)) = self.paper.upright(*dam) else { continue };
            let sides = |piece: &Vec<DVec2>| {
                [right_of(piece, at, along), right_of(piece, at, -along)].concat()
            };
            pieces = pieces.iter().flat_map(sides).collect();
        }
        pieces
    }

    /// The pool whose oil a piece is.
    fn whose(&self, piece: &[DVec2]) -> Option<usize> {
        let floor = on_the_floor(piece)?;
        self.at_rest.pool_at(self.paper.in_the_pan(floor + DVec2::new(0.0, ABOVE)))
    }
}

/// The stretches of a piece that lie on its level.
fn surfaces(piece: &[DVec2], height: f64) -> Vec<[DVec2; 2]> {
    let is_on = |point: &DVec2| (point.y - height).abs() < ON;
    let sides = piece.iter().zip(piece.iter().cycle().skip(1));
    let on = sides.filter(|(a, b)| is_on(a) && is_on(b) && a.distance(**b) > ON);
    on.map(|(a, b)| if a.x < b.x { [*a, *b] } else { [*b, *a] }).collect()
}

impl Paper {
    /// Where a point of the paper lies in the pan.
    fn in_the_pan(&self, point: DVec2) -> DVec3 {
        self.origin + self.right * point.x + self.up * point.y
    }

    /// Where a wall that is upright in the pan is met: a point of it and its direction on the paper. None where it runs
    /// along the paper.
    fn upright(&self, [at, along]: [DVec2; 2]) -> Option<(DVec2, DVec2)> {
        let way = self.along().truncate();
        let across = way.perp_dot(along);
        if across.abs() < 1e-9 * along.length() {
            return None;
        }
        let far = (at - self.origin.truncate()).perp_dot(along) / across;
        let met = self.origin + self.along() * far;
        Some((self.place(met), self.place(met + DVec3::Z) - self.place(met)))
    }
}
