//! The mouth of the inlet.

use super::attitude::STANDARD_GRAVITY;
use super::interior::point;
use super::rim::rim;
use super::scene::{Scene, need};
use crate::document::pan::{Facing, Inlet};
use crate::quantity::{Given, si};
use crate::reading::Unknown;
use crate::source::Span;
use glam::DVec3;
use sumpwright_physics::level::Mouth;
use sumpwright_physics::opening::{circle_area, mean_velocity};
use sumpwright_physics::vortex::{froude, lateral_intake, pump_intake, pump_sump};
use uom::si::f64::{Length, VolumeRate};

/// Corners of the polygon that stands for the mouth's disc; a floor that slopes by 45° under a mouth of
/// 32 mm is then read within 0.02 mm.
const RIM_POINTS: u32 = 64;

/// The direction of a word.
pub(super) fn direction(facing: Facing) -> DVec3 {
    match facing {
        Facing::Down => DVec3::NEG_Z,
        Facing::Up => DVec3::Z,
        Facing::Front => DVec3::X,
        Facing::Rear => DVec3::NEG_X,
        Facing::Left => DVec3::Y,
        Facing::Right => DVec3::NEG_Y,
    }
}

impl Scene {
    /// The inlet.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn inlet(&self) -> Result<&Inlet, Unknown> {
        need(&self.pickup()?.inlet)
    }

    /// Its mouth.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn mouth(&self) -> Result<Mouth, Unknown> {
        let inlet = self.inlet()?;
        let facing = inlet.facing.map_or(Facing::Down, |word| word.value);
        Ok(Mouth {
            centre: point(need(&inlet.at)?),
            normal: direction(facing),
            diameter: need(&inlet.diameter)?.value,
        })
    }

    /// Least distance along the pan's z from the rim of the mouth to the floor or wall below it: under the whole
    /// disc of a mouth that faces down or up, under the lowest point of one that faces sideways.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn floor_gap(&self) -> Result<Length, Unknown> {
        let mouth = self.mouth()?;
        self.with_terrain(|terrain| {
            if mouth.normal.z.abs() > 0.5 {
                let shadow: Vec<_> =
                    rim(&mouth, RIM_POINTS).iter().map(|point| point.truncate()).collect();
                return Ok(si(terrain.under_from(&shadow, si(-mouth.centre.z)).least_depth.value
                    + mouth.centre.z));
            }
            let lowest = mouth.centre - DVec3::Z * (mouth.diameter.value / 2.0);
            let floor = terrain
                .floor_below(lowest)
                .ok_or_else(|| Unknown::because("the inlet stands outside the rail"))?;
            Ok(si(floor.value + lowest.z))
        })
    }

    /// The gap to the floor of a mouth that faces down.
    ///
    /// # Errors
    /// Says what is not stated, or that the mouth faces elsewhere.
    pub fn curtain_gap(&self) -> Result<Length, Unknown> {
        if self.mouth()?.normal.z > -0.5 {
            return Err(Unknown::because(
                "the inlet does not face down, so that there is no curtain",
            ));
        }
        self.floor_gap()
    }

    /// Least distance in plan from the rim to a wall or floor that rises above the mouth's depth.
    ///
    /// # Errors
    /// Says what is not stated, or that the mouth faces sideways.
    pub fn wall_distance(&self) -> Result<Length, Unknown> {
        let mouth = self.mouth()?;
        if mouth.normal.z.abs() < 0.5 {
            return Err(Unknown::because("the inlet faces sideways"));
        }
        let depth = si(-mouth.centre.z);
        let room = self.with_terrain(|terrain| Ok(terrain.room(mouth.centre.truncate(), depth)))?;
        Ok(room - mouth.diameter / 2.0)
    }

    /// The depth that published formulas ask against whirls that draw air, at a flow and at apparent gravity in
    /// units of standard gravity: the most of three, or of the one for a mouth with a plate or cross.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn vortex_depth(&self, flow: VolumeRate, gravity_ratio: f64) -> Result<Length, Unknown> {
        let bore = need(&self.inlet()?.diameter)?.value;
        let gravity = si(gravity_ratio * STANDARD_GRAVITY);
        let fr = froude(mean_velocity(flow, circle_area(bore)), gravity, bore);
        match &self.pickup()?.anti_vortex {
            Given::Stated(_) => Ok(pump_intake(bore, fr, true)),
            Given::LeftOut(missing) => Err(Unknown::not_stated(missing.clone())),
            Given::Absent(_) => {
                let all =
                    [pump_sump(bore, fr), lateral_intake(bore, fr), pump_intake(bore, fr, false)];
                let most = all.into_iter().reduce(|a, b| if b > a { b } else { a });
                most.ok_or_else(|| Unknown::because("there is no formula"))
            }
        }
    }

    /// Where the depth of the inlet stands: what a reader would change.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn inlet_depth_span(&self) -> Result<Span, Unknown> {
        Ok(need(&self.inlet()?.at)?.z.span)
    }

    /// Where the inlet stands along the pan: what a reader would change to bring it to the oil.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn inlet_place_span(&self) -> Result<Span, Unknown> {
        Ok(need(&self.inlet()?.at)?.x.span)
    }
}
