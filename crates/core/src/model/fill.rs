//! How much oil is in pan and case: from the maker's check, cold or hot, engine running or standing.

use super::attitude::level_ground;
use super::oil_space::World;
use super::outlines::plan;
use super::scene::{Scene, need};
use crate::document::pan::{Check, Engine, FillDoc};
use crate::quantity::{Given, Stated, si};
use crate::reading::Unknown;
use crate::source::Span;
use glam::DVec3;
use uom::si::f64::{ThermodynamicTemperature, Volume};

/// The oil of one world.
#[derive(Debug, Clone, Copy)]
pub struct Fill {
    /// Oil in pan and case in the state of the check.
    pub at_check: Volume,
    /// Oil in pan and case with the engine running, at the temperature of the check.
    pub running: Volume,
    /// Temperature at the check.
    pub temperature: ThermodynamicTemperature,
}

impl Scene {
    /// The check in force: the pan's own, else the vehicle's.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn check(&self) -> Result<&Check, Unknown> {
        if let Given::Stated(check) = &*self.pan.check {
            return Ok(check);
        }
        need(&self.vehicle()?.check)
    }

    /// Where the value stands that fixes the fill: the level or the volume of the check.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn fill_span(&self) -> Result<Span, Unknown> {
        Ok(match &self.check()?.fill {
            FillDoc::Level { below_rail, .. } => below_rail.span,
            FillDoc::Volume(volume) => volume.span,
        })
    }

    /// Oil in pan and case in the state of the check: stated, or what lies below the level of the check with
    /// the vehicle on level ground.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn volume_at_check(&self, world: &World) -> Result<Volume, Unknown> {
        match &self.check()?.fill {
            FillDoc::Volume(volume) => Ok(volume.value),
            FillDoc::Level { below_rail, at } => {
                let place = plan(at.as_ref());
                let up = level_ground(self.nose_up()?);
                let height = up.dot(DVec3::new(place.x, place.y, -below_rail.value.value));
                Ok(world.below(self, up, si(height)))
            }
        }
    }

    /// The fill of a world of this scene.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn fill(&self, world: &World) -> Result<Fill, Unknown> {
        world.fill.get(self, || self.make_fill(world)).clone()
    }

    fn make_fill(&self, world: &World) -> Result<Fill, Unknown> {
        let check = self.check()?;
        let at_check = self.volume_at_check(world)?;
        let temperature = need(&check.oil_at)?.value;
        let running = match need(&check.engine)?.value {
            Engine::Running => at_check,
            Engine::Standing => at_check - self.held_up()?,
        };
        if running.value <= 0.0 {
            return Err(Unknown::because(
                "the check leaves no oil in the pan with the engine running",
            ));
        }
        Ok(Fill { at_check, running, temperature })
    }

    /// Height along up of the surface on level ground for so much oil in pan and case.
    ///
    /// # Errors
    /// Says what is not stated, or why there is no level.
    pub fn level_on_the_flat(&self, world: &World, volume: Volume) -> Result<f64, Unknown> {
        Ok(world.level(self, level_ground(self.nose_up()?), volume)?.value)
    }

    /// What is held up outside the pan while the engine runs.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn held_up(&self) -> Result<Volume, Unknown> {
        match &*self.vehicle()?.held_up {
            Given::Stated(volume) => Ok(volume.value),
            Given::Absent(_) => Ok(si(0.0)),
            Given::LeftOut(missing) => Err(Unknown::not_stated(missing.clone())),
        }
    }

    /// Oil in pan and case with the engine running at another temperature.
    ///
    /// # Formula
    /// V(T) = V(T_check)·(1 + β(T − T_check)); shapes keep their stated size.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn volume_at(
        &self,
        fill: &Fill,
        temperature: ThermodynamicTemperature,
    ) -> Result<Volume, Unknown> {
        let rise = temperature.value - fill.temperature.value;
        // A duty at the temperature of the check needs no expansion. Compared by bits: no rounding is at work.
        if rise.to_bits() & !(1 << 63) == 0 {
            return Ok(fill.running);
        }
        let beta: &Stated<_> = need(&self.oil()?.expansion)?;
        Ok(fill.running * (1.0 + beta.value.value * rise))
    }
}
