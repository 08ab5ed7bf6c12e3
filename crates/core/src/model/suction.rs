//! The way of the oil from the inlet's mouth to the pump.

use super::attitude::STANDARD_GRAVITY;
use super::interior::point;
use super::oil_space::World;
use super::scene::{Scene, need};
use crate::document::pan::{Bend, Line as LineDoc};
use crate::quantity::{Given, si};
use crate::reading::{Bounds, Unknown};
use glam::DVec3;
use sumpwright_physics::atmosphere::pressure_at;
use sumpwright_physics::opening::{circle_area, mean_velocity};
use sumpwright_physics::suction::{
    BEND, HALF_BEND, LONG_BEND, Line, MITRE, Stream, filter_loss, head, inertia, line_loss,
};
use uom::si::f64::{Acceleration, Pressure, ThermodynamicTemperature, Volume, VolumeRate};

/// What is drawn, from where.
#[derive(Debug, Clone, Copy)]
pub struct Draw<'a> {
    /// The world.
    pub world: &'a World,
    /// Unit vector up against apparent gravity.
    pub up: DVec3,
    /// Apparent gravity in units of standard gravity.
    pub gravity_ratio: f64,
    /// Oil in pan and case.
    pub volume: Volume,
    /// Its temperature.
    pub temperature: ThermodynamicTemperature,
    /// What the pump draws.
    pub flow: VolumeRate,
}

impl Scene {
    /// The line of the pickup.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn line(&self) -> Result<&LineDoc, Unknown> {
        need(&self.pickup()?.line)
    }

    /// Absolute pressure at the pump's inlet, in pascals.
    ///
    /// # Errors
    /// Says what is not stated, or that the inlet draws air.
    pub fn pressure_at_pump(&self, draw: &Draw<'_>) -> Result<Bounds, Unknown> {
        let level = draw.world.level(self, draw.up, draw.volume)?;
        if level <= self.mouth()?.highest(draw.up) {
            return Err(Unknown::because("the inlet stands out of the oil and draws air"));
        }
        let density = self.density_at(draw.temperature)?;
        let gravity: Acceleration = si(draw.gravity_ratio * STANDARD_GRAVITY);
        let pump = point(need(&need(&self.vehicle()?.pump)?.at)?);
        let column = head(density, gravity, si(level.value - draw.up.dot(pump)));
        let still = self.pressure_of_the_air()? + column;
        let thickness = self.viscosity_at(draw.temperature)?.bounds;
        let lost = |viscosity: f64| {
            let stream = Stream { flow: draw.flow, density, viscosity: si(viscosity) };
            self.lost_on_the_way(&stream)
        };
        let (thin, thick) = (lost(thickness.low)?, lost(thickness.high)?);
        Ok(Bounds { low: (still - thick[1]).value, high: (still - thin[0]).value })
    }

    /// Pressure of the standard atmosphere at the duty's altitude.
    fn pressure_of_the_air(&self) -> Result<Pressure, Unknown> {
        let altitude = need(&self.duty()?.altitude)?;
        pressure_at(altitude.value).ok_or_else(|| {
            Unknown::because("the standard atmosphere is given from -2000 m to 11 000 m only")
        })
    }

    /// What line, filter and speeding up take, least and most.
    fn lost_on_the_way(&self, stream: &Stream) -> Result<[Pressure; 2], Unknown> {
        let line = self.line()?;
        let bends = match &line.fittings {
            Given::Stated(fittings) => {
                fittings.entries.iter().map(|item| two_k(item.value.value)).collect()
            }
            Given::Absent(_) => Vec::new(),
            Given::LeftOut(missing) => return Err(Unknown::not_stated(missing.clone())),
        };
        let way = Line {
            mouth: need(&self.inlet()?.diameter)?.value,
            length: need(&line.length)?.value,
            bore: need(&line.bore)?.value,
            bends,
        };
        let more = self.filter_takes(stream)? + self.speeding_up_takes(stream, &way)?;
        Ok(line_loss(stream, &way).map(|loss| loss + more))
    }

    fn filter_takes(&self, stream: &Stream) -> Result<Pressure, Unknown> {
        let filter = match &self.pickup()?.filter {
            Given::Absent(_) => return Ok(si(0.0)),
            given => need(given)?,
        };
        let at = Stream {
            flow: need(&filter.at_flow)?.value,
            viscosity: need(&filter.at_viscosity)?.value,
            ..*stream
        };
        Ok(filter_loss(stream, need(&filter.drop)?.value, &at))
    }

    fn speeding_up_takes(&self, stream: &Stream, way: &Line) -> Result<Pressure, Unknown> {
        let time = match &need(&self.vehicle()?.pump)?.flow_rises_in {
            Given::Absent(_) => return Ok(si(0.0)),
            given => need(given)?.value,
        };
        let gain = self.largest_flow()?.value - self.least_flow()?.value;
        let gain = mean_velocity(gain, circle_area(way.bore)) / time;
        Ok(inertia(stream.density, way.length, gain))
    }
}

fn two_k(bend: Bend) -> sumpwright_physics::suction::TwoK {
    match bend {
        Bend::Standard => BEND,
        Bend::Long => LONG_BEND,
        Bend::Half => HALF_BEND,
        Bend::Mitre => MITRE,
    }
}
