//! A surface cut along upright walls that stand in the oil: each side of such a wall keeps its own edge of the floor.
//!
//! The wall has no thickness. It needs no faces of its own: what it adds to a volume is an integral over the wetted part
//! of its plane, and that is a sum over the edges where it stands on the surface (see [`super::seam`]).

#![expect(
    clippy::indexing_slicing,
    reason = "every index is a corner of the soup, whose lists grow together"
)]

use super::union::Union;
use glam::{DVec2, DVec3};
use std::collections::{BTreeMap, BTreeSet};

/// Corners nearer to a cutting plane than this share of the extent lie on it.
const ON_PLANE: f64 = 1.0e-9;

/// Corners and faces on their way through the cuts.
#[derive(Debug, Clone, Default)]
pub(super) struct Soup {
    pub(super) points: Vec<DVec3>,
    pub(super) faces: Vec<[usize; 3]>,
}

/// An upright wall between two places, as high as `top` above the rail.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wall {
    pub(super) from: DVec2,
    pub(super) to: DVec2,
    pub(super) top: f64,
}

/// An edge where a wall stands on the surface, once for each side, each in the order of that side's faces.
#[derive(Debug, Clone, Copy)]
pub(super) struct Foot {
    pub(super) front: [usize; 2],
    pub(super) back: [usize; 2],
    /// The wall's number, and its normal towards the front.
    pub(super) wall: usize,
    pub(super) normal: DVec3,
}

impl Wall {
    /// Towards the front, level, of length one.
    fn normal(&self) -> DVec3 {
        (self.to - self.from).perp().normalize().extend(0.0)
    }

    fn distance(&self, point: DVec3) -> f64 {
        self.normal().dot(point - self.from.extend(0.0))
    }
}

impl Soup {
    /// Cuts the surface along every wall and parts it there.
    pub(super) fn parted(mut self, walls: &[Wall]) -> (Self, Vec<Foot>) {
        let near = ON_PLANE * self.extent();
        for wall in walls {
            self.cut(|point| point.z - wall.top, near);
            self.cut(|point| wall.distance(point), near);
        }
        let mut feet = Vec::new();
        for (number, wall) in walls.iter().enumerate() {
            self.part(number, wall, near, &mut feet);
        }
        (self, feet)
    }

    fn extent(&self) -> f64 {
        let low = self.points.iter().copied().fold(DVec3::INFINITY, DVec3::min);
        let high = self.points.iter().copied().fold(DVec3::NEG_INFINITY, DVec3::max);
        low.distance(high)
    }

    /// Gives every face that a plane crosses an edge on it. Faces that share a cut edge share the new corner.
    fn cut(&mut self, distance: impl Fn(DVec3) -> f64, near: f64) {
        let mut away: Vec<f64> = self.points.iter().map(|point| distance(*point)).collect();
        for distance in &mut away {
            if distance.abs() <= near {
                *distance = 0.0;
            }
        }
        let mut cuts = BTreeMap::new();
        let mut faces = Vec::with_capacity(self.faces.len());
        for &face in &self.faces {
            let crosses = |a: usize, b: usize| away[a] * away[b] < 0.0;
            // Turned so that the first corner is the one on the plane, or the one alone on its side.
            let turned =
                (0..3).map(|turn| [face[turn], face[(turn + 1) % 3], face[(turn + 2) % 3]]);
            let one = turned.clone().find(|&[a, b, c]| crosses(a, b) && crosses(a, c));
            let two = turned.clone().find(|&[a, b, c]| away[a].abs() <= 0.0 && crosses(b, c));
            let mut at = |a: usize, b: usize| {
                let key = if a < b { (a, b) } else { (b, a) };
                *cuts.entry(key).or_insert_with(|| {
                    let share = away[key.0] / (away[key.0] - away[key.1]);
                    self.points.push(self.points[key.0].lerp(self.points[key.1], share));
                    self.points.len() - 1
                })
            };
            if let Some([a, b, c]) = one {
                let (ab, ac) = (at(a, b), at(a, c));
                faces.extend([[a, ab, ac], [ab, b, c], [ab, c, ac]]);
            } else if let Some([a, b, c]) = two {
                let bc = at(b, c);
                faces.extend([[a, b, bc], [a, bc, c]]);
            } else {
                faces.push(face);
            }
        }
        self.faces = faces;
    }

    /// Parts the surface along one wall: behind it, corners that it stands on become others.
    fn part(&mut self, number: usize, wall: &Wall, near: f64, feet: &mut Vec<Foot>) {
        let normal = wall.normal();
        let mut sides = [BTreeMap::new(), BTreeMap::new()];
        let is_front: Vec<bool> =
            self.faces.iter().map(|face| self.is_in_front(face, wall, near)).collect();
        for (&[a, b, c], &front) in self.faces.iter().zip(&is_front) {
            for (from, to) in [(a, b), (b, c), (c, a)] {
                let on = |corner: usize| wall.distance(self.points[corner]).abs() <= near;
                if on(from) && on(to) {
                    sides[usize::from(!front)].insert(unordered(from, to), [from, to]);
                }
            }
        }
        let [fronts, backs] = sides;
        let sealed = self.sealed(wall, near, &fronts, &backs);
        let all: BTreeSet<_> = fronts.keys().chain(backs.keys()).copied().collect();
        let open = all.difference(&sealed).flat_map(|&(from, to)| [from, to]);
        let open: BTreeSet<usize> = open.collect();
        let mut behind = BTreeMap::new();
        for corner in sealed.iter().flat_map(|&(from, to)| [from, to]) {
            if !open.contains(&corner) && !behind.contains_key(&corner) {
                self.points.push(self.points[corner]);
                behind.insert(corner, self.points.len() - 1);
            }
        }
        let back = |corner: usize| behind.get(&corner).copied().unwrap_or(corner);
        for (face, _) in self.faces.iter_mut().zip(&is_front).filter(|(_, front)| !**front) {
            *face = face.map(back);
        }
        // Feet of walls parted before are edges of this side or that as well.
        for foot in feet.iter_mut() {
            let middle = foot.front.map(|corner| self.points[corner]);
            if wall.distance((middle[0] + middle[1]) / 2.0) < 0.0 {
                foot.front = foot.front.map(back);
                foot.back = foot.back.map(back);
            }
        }
        feet.extend(sealed.iter().map(|edge| Foot {
            front: fronts[edge],
            back: backs[edge].map(back),
            wall: number,
            normal,
        }));
    }

    /// Whether a face bounds oil in front of the wall; one that lies in its plane does if it looks to the back.
    fn is_in_front(&self, face: &[usize; 3], wall: &Wall, near: f64) -> bool {
        let away = face.map(|corner| wall.distance(self.points[corner]));
        let [a, b, c] = face.map(|corner| self.points[corner]);
        if away.iter().all(|distance| distance.abs() <= near) {
            return (b - a).cross(c - a).dot(wall.normal()) < 0.0;
        }
        away[0] + away[1] + away[2] > 0.0
    }

    /// The edges that the wall stands on: between its two sides, below its top, and on one run with a place between
    /// its ends, so that a space beyond another wall of the pan is left alone.
    fn sealed(
        &self,
        wall: &Wall,
        near: f64,
        fronts: &BTreeMap<(usize, usize), [usize; 2]>,
        backs: &BTreeMap<(usize, usize), [usize; 2]>,
    ) -> BTreeSet<(usize, usize)> {
        let height = |corner: usize| self.points[corner].z - wall.top;
        let below = |&&(from, to): &&(usize, usize)| {
            let (one, other) = (height(from), height(to));
            one <= near && other <= near && (one < -near || other < -near)
        };
        let edges: Vec<(usize, usize)> =
            fronts.keys().filter(|edge| backs.contains_key(edge)).filter(below).copied().collect();
        let mut runs = Union::new(edges.len());
        let mut last = BTreeMap::new();
        for (number, &(from, to)) in edges.iter().enumerate() {
            for corner in [from, to].into_iter().filter(|&corner| height(corner) < -near) {
                if let Some(before) = last.insert(corner, number) {
                    runs.join(before, number);
                }
            }
        }
        let along = (wall.to - wall.from).normalize();
        let place = |corner: usize| along.dot(self.points[corner].truncate() - wall.from);
        let end = along.dot(wall.to - wall.from);
        let mut reached = BTreeSet::new();
        for (number, &(from, to)) in edges.iter().enumerate() {
            let (one, other) = (place(from), place(to));
            let (first, last) = if one < other { (one, other) } else { (other, one) };
            if last > -near && first < end + near {
                reached.insert(runs.find(number));
            }
        }
        let sealed = edges.into_iter().enumerate();
        sealed
            .filter(|&(number, _)| reached.contains(&runs.find(number)))
            .map(|(_, edge)| edge)
            .collect()
    }
}

fn unordered(from: usize, to: usize) -> (usize, usize) {
    if from < to { (from, to) } else { (to, from) }
}
