//! Whether something stronger is touched before a drain, and what room is round it.

use super::drains::placed_drain;
use super::neighbours::convex;
use super::scene::{Scene, need, need_or};
use crate::document::pan::Facing;
use crate::quantity::{Stated, si};
use crate::reading::Unknown;
use crate::source::Span;
use glam::{DVec2, DVec3};
use sumpwright_physics::distance::{Convex, distance};
use uom::si::f64::{Angle, Length};

impl Scene {
    /// The steepest flat slope, rising forward or rearward, that touches floor or fins before the drain, and where the
    /// drain's place stands.
    ///
    /// # Formula
    /// For the lowest points of boss and plug: the largest of atan(Δz/Δx) over the corners of floor and fins.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn shadow_angle(&self, index: usize) -> Result<(Angle, Span), Unknown> {
        let drain = self.drain(index)?;
        let span = need(&drain.value.at)?.span;
        let Convex::Cylinder { middle, axis, half, radius } = self.plug(drain)? else {
            return Err(Unknown::because("the drain has no boss"));
        };
        let lowest = if axis.z < -0.5 { DVec3::ZERO } else { DVec3::NEG_Z * radius.value };
        let ends = [-1.0, 1.0].map(|sign| middle + axis * (half.value * sign) + lowest);
        let thickness = need(&need(&self.pan.wall)?.floor)?.value.value;
        let mut corners: Vec<DVec3> = Vec::new();
        self.with_terrain(|terrain| {
            let floor = terrain.floor_faces().iter().flatten();
            corners.extend(floor.map(|p| *p - DVec3::Z * thickness));
            Ok(())
        })?;
        for set in self.fin_boxes()? {
            if let Convex::Points(points) = set {
                corners.extend(points);
            }
        }
        let mut least = core::f64::consts::FRAC_PI_2;
        for end in ends {
            for way in [-1.0, 1.0] {
                let shaded = steepest(&corners, end, way);
                if shaded < least {
                    least = shaded;
                }
            }
        }
        Ok((si(least), span))
    }

    /// Room left round the socket on a drain's plug: in the skid plate's hole below it, or over the plate beside it.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn spanner_room(&self, index: usize) -> Result<Length, Unknown> {
        let drain = self.drain(index)?;
        let skid = need(&self.vehicle()?.skid)?;
        let socket = need(&drain.value.spanner)?.value / 2.0;
        let placed = placed_drain(self, drain)?;
        if need(&drain.value.axis)?.value != Facing::Down {
            let over: Length = si(need(&skid.top_face)?.value.value + placed.middle.z);
            return Ok(over - socket);
        }
        let beside = self.beside_hole(index)?;
        Ok(-beside - socket)
    }

    /// How far a drain's mouth stands from the edge of the nearest hole of the skid plate, in plan; negative over it.
    ///
    /// # Errors
    /// Says what is not stated, or that the plate is closed.
    pub fn beside_hole(&self, index: usize) -> Result<Length, Unknown> {
        let mouth = placed_drain(self, self.drain(index)?)?.middle.truncate();
        let skid = need(&self.vehicle()?.skid)?;
        let mut least: Option<f64> = None;
        for hole in &need(&skid.holes)?.entries {
            let at = need(&hole.value.at)?;
            let middle = DVec2::new(at.x.value.value, at.y.value.value);
            let edge = (mouth - middle).length() - need(&hole.value.diameter)?.value.value / 2.0;
            least = Some(match least {
                Some(other) if other < edge => other,
                _ => edge,
            });
        }
        least.map(si).ok_or_else(|| Unknown::because("the plate has no hole"))
    }

    /// Distance from a drain's bore to the inlet's mouth; 0 where they touch.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn drain_to_inlet(&self, index: usize) -> Result<Length, Unknown> {
        let mouth = self.mouth()?;
        let disc = disc(mouth.centre, mouth.normal, mouth.diameter);
        Ok(apart(&self.bore(index)?, &disc))
    }

    /// Distance from a drain's bore to the magnet; 0 where they touch.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn drain_to_magnet(&self, index: usize) -> Result<Length, Unknown> {
        Ok(apart(&self.bore(index)?, &convex(need(&self.pan.magnet)?)))
    }

    /// Distance from the axis of a drain's plug to the nearest fin.
    ///
    /// # Errors
    /// Says what is not stated, or that there are no fins.
    pub fn plug_to_fins(&self, index: usize) -> Result<Length, Unknown> {
        need_or(&self.pan.fins, "there are no fins")?;
        let plug = match self.plug(self.drain(index)?)? {
            Convex::Cylinder { middle, axis, half, .. } => {
                Convex::Cylinder { middle, axis, half, radius: si(0.0) }
            }
            other @ Convex::Points(_) => other,
        };
        self.fin_boxes()?
            .iter()
            .map(|set| apart(&plug, set))
            .reduce(|a, b| if b < a { b } else { a })
            .ok_or_else(|| Unknown::because("there are no fins"))
    }

    /// A drain's bore as a disc on its wall.
    fn bore(&self, index: usize) -> Result<Convex, Unknown> {
        let placed = placed_drain(self, self.drain(index)?)?;
        Ok(disc(placed.middle, placed.axis, placed.bore))
    }

    /// The outer diameter of a drain's sealing ring, and the inner one.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn drain_ring(&self, index: usize) -> Result<[Stated<Length>; 2], Unknown> {
        Ok(*need(&self.drain(index)?.value.ring)?)
    }
}

fn disc(middle: DVec3, axis: DVec3, diameter: Length) -> Convex {
    Convex::Cylinder { middle, axis, half: si(0.0), radius: diameter / 2.0 }
}

fn apart(one: &Convex, other: &Convex) -> Length {
    distance(one, other).map_or_else(|| si(0.0), |(length, _)| length)
}

/// The steepest slope, rising away from `way`, on which some corner is touched before the point.
fn steepest(corners: &[DVec3], point: DVec3, way: f64) -> f64 {
    let mut best = 0.0;
    for corner in corners {
        let higher = point.z - corner.z;
        let behind = (point.x - corner.x) * way;
        if higher < 0.0 {
            continue;
        }
        // A corner that stands farther out than the point shades it at every slope.
        if behind <= 0.0 {
            return core::f64::consts::FRAC_PI_2;
        }
        let slope = higher / behind;
        if slope > best {
            best = slope;
        }
    }
    libm::atan(best)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Plane geometry: a corner 30 mm lower and 40 mm ahead shades up to atan(30/40); one that stands farther out shades
    // at every slope; one that is higher shades at none.
    #[test]
    fn a_lower_corner_shades_up_to_its_own_slope() {
        let point = DVec3::new(0.0, 0.0, -100.0);
        let ahead = [DVec3::new(-40.0, 9.0, -130.0)];
        assert!((steepest(&ahead, point, 1.0) - libm::atan(0.75)).abs() < 1e-15);
        let right_angle = core::f64::consts::FRAC_PI_2;
        assert!((steepest(&ahead, point, -1.0) - right_angle).abs() < 1e-15);
        assert!(steepest(&[DVec3::new(-40.0, 0.0, -99.0)], point, 1.0).abs() < 1e-15);
    }
}
