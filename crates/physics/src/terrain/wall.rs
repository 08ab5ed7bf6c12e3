//! The leaning walls of a zone, from its outline down to its floor or past it.
#![expect(
    clippy::indexing_slicing,
    reason = "walls hold positions in the points of their own inset"
)]

use super::inset::{Inset, InsetStops, inset};
use super::patch::{Patch, Plane};
use crate::mesh::{larger, smaller};
use glam::DVec2;

/// How often the depth to which walls must go is halved in: enough for any double.
const HALVINGS: usize = 60;

/// Walls between two depths, in metres.
#[derive(Debug)]
pub(super) struct Walls {
    pub(super) plan: Inset,
    pub(super) opens_at: f64,
    pub(super) ends_at: f64,
}

impl Walls {
    pub(super) fn down_to(
        outline: &[DVec2],
        opens_at: f64,
        ends_at: f64,
        lean: f64,
    ) -> Result<Self, InsetStops> {
        let plan = inset(outline, (ends_at - opens_at) * lean)?;
        Ok(Self { plan, opens_at, ends_at })
    }

    /// Walls to a depth at which a floor that is not level lies wholly above where they end.
    ///
    /// That is so at the floor's greatest depth. Where the walls would meet before they reach it, a depth is looked
    /// for at which they have not met and the floor between them lies no deeper; if there is none, they meet above
    /// the floor.
    pub(super) fn down_past(
        outline: &[DVec2],
        opens_at: f64,
        lean: f64,
        floor: &Plane,
    ) -> Result<Self, InsetStops> {
        let [_, greatest] = floor.reach(outline);
        let mut stopped = match Self::down_to(outline, opens_at, greatest, lean) {
            Ok(walls) => return Ok(walls),
            Err(stop) => stop,
        };
        let (mut low, mut high) = (opens_at, greatest);
        for _ in 0..HALVINGS {
            let ends_at = f64::midpoint(low, high);
            match Self::down_to(outline, opens_at, ends_at, lean) {
                Ok(walls) => {
                    let corners: Vec<DVec2> =
                        walls.plan.floor.iter().map(|&at| walls.point(at)).collect();
                    if floor.reach(&corners)[1] < ends_at {
                        return Ok(walls);
                    }
                    low = ends_at;
                }
                Err(stop) => (stopped, high) = (stop, ends_at),
            }
        }
        Err(stopped)
    }

    pub(super) fn point(&self, at: u32) -> DVec2 {
        self.plan.points[at as usize]
    }

    /// A plane piece for each side of the outline.
    pub(super) fn patches(&self, lean: f64) -> Vec<Patch> {
        // A level floor is added to them.
        let mut patches = Vec::with_capacity(self.plan.walls.len() + 1);
        for wall in &self.plan.walls {
            let (from, to) = (self.point(wall[0]), self.point(wall[1]));
            let gradient = (to - from).normalize_or_zero().perp() / lean;
            let plane = Plane { anchor: from, depth: self.opens_at, gradient };
            let polygon = wall.iter().map(|&at| self.point(at)).collect();
            patches.push(plane.patch(polygon, [self.opens_at, self.ends_at]));
        }
        patches
    }
}

impl Plane {
    /// Its least and its greatest depth over some points.
    pub(super) fn reach(&self, points: &[DVec2]) -> [f64; 2] {
        let depths = points.iter().map(|&point| self.depth_at(point));
        depths.fold([f64::INFINITY, f64::NEG_INFINITY], |[least, greatest], depth| {
            [smaller(depth, least), larger(depth, greatest)]
        })
    }
}
