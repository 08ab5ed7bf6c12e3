//! How a zone's walls lean inward from its outline to its floor.
//!
//! Every side of the outline moves inward at the same speed; a corner moves along the mitre of its two sides.
//! A side whose length comes to nothing vanishes and its neighbours meet in a new mitre. A rounded corner loses
//! all its chords nearly at once, so sides that are gone within a tolerance go together. An outline that would
//! come apart is refused.
#![expect(
    clippy::indexing_slicing,
    reason = "every index comes from the same list of sides or points"
)]

use super::outline::meeting;
use crate::mesh::index_of;
use glam::DVec2;

/// A side shorter than this, in metres, is gone: what the arrangement would merge.
const GONE: f64 = 1e-9;

/// The plan of a zone's walls.
#[derive(Debug)]
pub(super) struct Inset {
    /// The corners of the outline, then every place where mitres meet or reach the floor.
    pub(super) points: Vec<DVec2>,
    /// For each side of the outline, the corners of its wall, counter-clockwise from the side's start.
    pub(super) walls: Vec<Vec<u32>>,
    /// The mitre lines.
    pub(super) mitres: Vec<[u32; 2]>,
    /// The corners of the floor, counter-clockwise.
    pub(super) floor: Vec<u32>,
}

/// Why the walls do not reach the floor, with how far inward they got, in metres.
#[derive(Debug, PartialEq)]
pub(super) enum InsetStops {
    /// Opposite walls meet.
    WallsMeet(f64),
    /// The outline comes apart, or an arm of it closes, at this inset and place.
    Splits(f64, DVec2),
}

/// Moves the sides of a counter-clockwise outline inward by `distance` metres.
pub(super) fn inset(outline: &[DVec2], distance: f64) -> Result<Inset, InsetStops> {
    let mut front = Front::new(outline);
    // Every round but the last takes at least one side away.
    loop {
        let (inset, last) = front.next_stop(distance)?;
        front.advance(inset);
        if front.is_concave {
            front.refuse_crossing()?;
        }
        front.drop_sides(last)?;
        if last {
            return Ok(front.finish());
        }
    }
}

/// The outline on its way inward.
struct Front {
    points: Vec<DVec2>,
    normals: Vec<DVec2>,
    is_concave: bool,
    inset: f64,
    /// The sides still there, in order.
    sides: Vec<usize>,
    /// For each of them, where its start is now and how it moves for each metre of inset.
    at: Vec<DVec2>,
    speed: Vec<DVec2>,
    /// For every side of the outline, the path of its start and of its end.
    starts: Vec<Vec<u32>>,
    ends: Vec<Vec<u32>>,
    floor: Vec<u32>,
}

impl Front {
    fn new(outline: &[DVec2]) -> Self {
        let count = outline.len();
        let side = |at: usize| outline[(at + 1) % count] - outline[at];
        let normals: Vec<DVec2> =
            (0..count).map(|at| side(at).normalize_or_zero().perp()).collect();
        let is_concave = (0..count).any(|at| side(at).perp_dot(side((at + 1) % count)) < 0.0);
        Self {
            points: outline.to_vec(),
            normals,
            is_concave,
            inset: 0.0,
            sides: (0..count).collect(),
            at: outline.to_vec(),
            speed: Vec::new(),
            starts: (0..count).map(|at| vec![index_of(at)]).collect(),
            ends: (0..count).map(|at| vec![index_of((at + 1) % count)]).collect(),
            floor: Vec::new(),
        }
    }

    fn stopped(&self) -> InsetStops {
        if self.is_concave {
            InsetStops::Splits(self.inset, self.at.first().copied().unwrap_or_default())
        } else {
            InsetStops::WallsMeet(self.inset)
        }
    }

    /// The inset at which the next side vanishes or the floor is reached, and whether it is the floor.
    fn next_stop(&mut self, distance: f64) -> Result<(f64, bool), InsetStops> {
        let count = self.sides.len();
        self.speed.clear();
        for at in 0..count {
            let before = self.normals[self.sides[(at + count - 1) % count]];
            let after = self.normals[self.sides[at]];
            let opening = 1.0 + before.dot(after);
            if opening < 1e-12 {
                return Err(self.stopped());
            }
            self.speed.push((before + after) / opening);
        }
        let mut stop = distance;
        for at in 0..count {
            let next = (at + 1) % count;
            // perp turns a quarter left, so −perp of the inward normal is the side's own direction.
            let along = -self.normals[self.sides[at]].perp();
            let length = (self.at[next] - self.at[at]).dot(along);
            let shrink = (self.speed[at] - self.speed[next]).dot(along);
            if shrink > 0.0 && self.inset + length / shrink < stop {
                stop = self.inset + length / shrink;
            }
        }
        if self.is_concave {
            self.refuse_split(stop)?;
        }
        Ok((stop, stop >= distance))
    }

    /// Whether a corner that points inward reaches a side that is not its own before the next stop.
    fn refuse_split(&self, stop: f64) -> Result<(), InsetStops> {
        let count = self.sides.len();
        for corner in 0..count {
            let before = (corner + count - 1) % count;
            let (normal_before, normal) =
                (self.normals[self.sides[before]], self.normals[self.sides[corner]]);
            if normal_before.perp_dot(normal) >= 0.0 {
                continue;
            }
            for side in (0..count).filter(|&side| side != before && side != corner) {
                let inward = self.normals[self.sides[side]];
                let off = inward.dot(self.at[corner] - self.at[side]);
                let closing = 1.0 - inward.dot(self.speed[corner]);
                if off < -GONE || closing <= 0.0 || self.inset + off / closing >= stop - GONE {
                    continue;
                }
                let later = off / closing;
                let place = |at: usize| self.at[at] + self.speed[at] * later;
                let (start, end) = (place(side), place((side + 1) % count));
                let along = -inward.perp();
                let share = (place(corner) - start).dot(along);
                if share >= -GONE && share <= (end - start).dot(along) + GONE {
                    return Err(InsetStops::Splits(self.inset + later, place(corner)));
                }
            }
        }
        Ok(())
    }

    fn advance(&mut self, inset: f64) {
        let step = inset - self.inset;
        for (at, speed) in self.at.iter_mut().zip(&self.speed) {
            *at += *speed * step;
        }
        self.inset = inset;
    }

    /// A second look at the front where it stopped: rounding must not have let a split through.
    fn refuse_crossing(&self) -> Result<(), InsetStops> {
        let count = self.sides.len();
        let side = |at: usize| [self.at[at], self.at[(at + 1) % count]];
        let short = |[a, b]: [DVec2; 2]| a.distance(b) <= GONE;
        for first in 0..count {
            for second in first + 2..count {
                // Sides that are about to vanish touch the neighbours of their neighbours by right.
                let between = (first + 1..second).any(|at| !short(side(at)));
                let around = (second + 1..count + first).any(|at| !short(side(at % count)));
                if !(between && around) || short(side(first)) || short(side(second)) {
                    continue;
                }
                if let Some(place) = meeting(side(first), side(second), GONE) {
                    return Err(InsetStops::Splits(self.inset, place));
                }
            }
        }
        Ok(())
    }

    /// Takes away the sides that are gone; at the floor every corner is given its place.
    fn drop_sides(&mut self, last: bool) -> Result<(), InsetStops> {
        let count = self.sides.len();
        let gone: Vec<bool> = (0..count)
            .map(|at| {
                let along = -self.normals[self.sides[at]].perp();
                (self.at[(at + 1) % count] - self.at[at]).dot(along) <= GONE
            })
            .collect();
        if gone.iter().filter(|gone| !**gone).count() < 3 {
            return Err(self.stopped());
        }
        // Starting after a side that stays, each run of vanished sides is followed by one that stays.
        let first = gone.iter().position(|gone| !gone).unwrap_or(0);
        let (mut sides, mut places) = (Vec::with_capacity(count), Vec::with_capacity(count));
        let mut run: Vec<usize> = Vec::new();
        for at in (first + 1..=first + count).map(|at| at % count) {
            if gone[at] {
                run.push(at);
                continue;
            }
            let before = self.sides[(at + count - 1 - run.len()) % count];
            let place = self.meet(&run, at);
            if last || !run.is_empty() {
                let point = index_of(self.points.len());
                self.points.push(place);
                self.ends[before].push(point);
                for &vanished in &run {
                    self.starts[self.sides[vanished]].push(point);
                    self.ends[self.sides[vanished]].push(point);
                }
                self.starts[self.sides[at]].push(point);
                if last {
                    self.floor.push(point);
                }
            }
            sides.push(self.sides[at]);
            places.push(place);
            run.clear();
        }
        self.sides = sides;
        self.at = places;
        Ok(())
    }

    /// Where the corners around vanished sides come together: their middle.
    fn meet(&self, run: &[usize], next: usize) -> DVec2 {
        let sum: DVec2 = run.iter().map(|&at| self.at[at]).sum::<DVec2>() + self.at[next];
        sum / (run.len() + 1) as f64
    }

    fn finish(self) -> Inset {
        let mut mitres = Vec::new();
        let mut walls = Vec::with_capacity(self.starts.len());
        for (start, end) in self.starts.iter().zip(&self.ends) {
            mitres.extend(start.windows(2).map(|step| [step[0], step[1]]));
            let mut wall: Vec<u32> = Vec::with_capacity(start.len() + end.len());
            wall.push(start[0]);
            wall.extend(end);
            wall.extend(start[1..].iter().rev());
            wall.dedup();
            walls.push(wall);
        }
        Inset { points: self.points, walls, mitres, floor: self.floor }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terrain::Outline;
    use crate::terrain::outline::doubled_area;
    use uom::si::f64::Length;
    use uom::si::length::millimeter;

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    /// The area of the walls and the floor in plan; equal to that of the outline when they cover it once.
    fn area(inset: &Inset) -> f64 {
        let of = |polygon: &[u32]| {
            let points: Vec<DVec2> = polygon.iter().map(|&at| inset.points[at as usize]).collect();
            doubled_area(&points) / 2.0
        };
        inset.walls.iter().map(|wall| of(wall)).sum::<f64>() + of(&inset.floor)
    }

    fn plan(points: &[(f64, f64)]) -> Vec<DVec2> {
        points.iter().map(|&(x, y)| DVec2::new(x, y)).collect()
    }

    #[test]
    fn walls_and_floor_cover_the_outline_once() {
        let outline = Outline::rectangle(DVec2::ZERO, mm(300.0), mm(200.0), mm(5.0)).unwrap();
        // 100 mm deep at 10 degrees leans in by 17.6 mm: every chord of the corners is gone by then.
        let plan = inset(outline.points(), 0.0176).unwrap();
        assert!((area(&plan) - outline.area().value).abs() < 1e-16);
        assert_eq!(plan.floor.len(), 4);
    }

    #[test]
    fn a_square_ends_where_its_walls_meet() {
        let square = plan(&[(0., 0.), (2., 0.), (2., 2.), (0., 2.)]);
        assert_eq!(inset(&square, 0.999).unwrap().floor.len(), 4);
        let Err(InsetStops::WallsMeet(at)) = inset(&square, 1.001) else { panic!("they met") };
        assert!((at - 1.0).abs() < 1e-12);
        let oblong = plan(&[(0., 0.), (4., 0.), (4., 2.), (0., 2.)]);
        assert_eq!(inset(&oblong, 1.5).unwrap_err(), InsetStops::WallsMeet(1.0));
    }

    #[test]
    fn an_angle_shrinks_and_an_hourglass_splits() {
        let angle = plan(&[(0., 0.), (4., 0.), (4., 1.), (1., 1.), (1., 3.), (0., 3.)]);
        let shrunk = inset(&angle, 0.4).unwrap();
        assert!((area(&shrunk) - 6.0).abs() < 1e-14);
        assert!(matches!(inset(&angle, 0.6), Err(InsetStops::Splits(..))));
        let hourglass = plan(&[(0., 0.), (2., 0.9), (4., 0.), (4., 2.), (2., 1.1), (0., 2.)]);
        assert!(inset(&hourglass, 0.05).is_ok());
        assert!(matches!(inset(&hourglass, 0.3), Err(InsetStops::Splits(..))));
    }

    #[test]
    fn a_notch_grows_until_it_reaches_the_far_wall() {
        let notched =
            plan(&[(0., 0.), (6., 0.), (6., 4.), (3.5, 4.), (3., 2.), (2.5, 4.), (0., 4.)]);
        assert!((area(&inset(&notched, 0.3).unwrap()) - 23.0).abs() < 1e-13);
        assert!(matches!(inset(&notched, 1.1), Err(InsetStops::Splits(..))));
    }
}
