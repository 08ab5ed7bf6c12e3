//! The mouth of the inlet.

use super::interior::point;
use super::scene::{Scene, need};
use crate::document::pan::{Facing, Inlet};
use crate::reading::Unknown;
use crate::source::Span;
use glam::DVec3;
use sumpwright_physics::level::Mouth;

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

    /// Where the depth of the inlet stands: what a reader would change.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn inlet_depth_span(&self) -> Result<Span, Unknown> {
        Ok(need(&self.inlet()?.at)?.z.span)
    }
}
