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
use uom::si::f64::{
    Acceleration, DiffusionCoefficient, MassDensity, Pressure, ThermodynamicTemperature, Volume,
    VolumeRate,
};

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

/// The way to the pump, but for how much flows.
#[derive(Debug, Clone)]
pub struct Suction {
    /// What stands at the pump while nothing flows.
    still: Pressure,
    density: MassDensity,
    /// Kinematic viscosity in m²/s.
    thickness: Bounds,
    way: Line,
    filter: Option<FilterLoss>,
    speeding_up: Pressure,
}

/// What a filter takes at one flow and viscosity.
#[derive(Debug, Clone, Copy)]
struct FilterLoss {
    flow: VolumeRate,
    viscosity: DiffusionCoefficient,
    drop: Pressure,
}

impl Suction {
    /// The least absolute pressure at the pump's inlet at a flow, in pascals.
    pub fn least(&self, flow: VolumeRate) -> f64 {
        (self.still - self.lost(flow, self.thickness.high)[1]).value
    }

    /// The most absolute pressure at the pump's inlet at a flow, in pascals.
    pub fn most(&self, flow: VolumeRate) -> f64 {
        (self.still - self.lost(flow, self.thickness.low)[0]).value
    }

    /// What line, filter and speeding up take, least and most.
    fn lost(&self, flow: VolumeRate, viscosity: f64) -> [Pressure; 2] {
        let stream = Stream { flow, density: self.density, viscosity: si(viscosity) };
        let filter = self.filter.map_or(si(0.0), |filter| {
            let at = Stream { flow: filter.flow, viscosity: filter.viscosity, ..stream };
            filter_loss(&stream, filter.drop, &at)
        });
        let more = filter + self.speeding_up;
        line_loss(&stream, &self.way).map(|loss| loss + more)
    }
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
        let suction = self.suction(draw)?;
        Ok(Bounds { low: suction.least(draw.flow), high: suction.most(draw.flow) })
    }

    /// All of the way to the pump that the flow does not change.
    ///
    /// # Errors
    /// Says what is not stated, or that the inlet draws air.
    pub fn suction(&self, draw: &Draw<'_>) -> Result<Suction, Unknown> {
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
        let way = self.way_to_the_pump()?;
        let filter = self.filter_takes()?;
        let speeding_up = self.speeding_up_takes(density, &way)?;
        Ok(Suction { still, density, thickness, way, filter, speeding_up })
    }

    /// Pressure of the standard atmosphere at the duty's altitude.
    fn pressure_of_the_air(&self) -> Result<Pressure, Unknown> {
        let altitude = need(&self.duty()?.altitude)?;
        pressure_at(altitude.value).ok_or_else(|| {
            Unknown::because("the standard atmosphere is given from -2000 m to 11 000 m only")
        })
    }

    fn way_to_the_pump(&self) -> Result<Line, Unknown> {
        let line = self.line()?;
        let bends = match &line.fittings {
            Given::Stated(fittings) => {
                fittings.entries.iter().map(|item| two_k(item.value.value)).collect()
            }
            Given::Absent(_) => Vec::new(),
            Given::LeftOut(missing) => return Err(Unknown::not_stated(missing.clone())),
        };
        Ok(Line {
            mouth: need(&self.inlet()?.diameter)?.value,
            length: need(&line.length)?.value,
            bore: need(&line.bore)?.value,
            bends,
        })
    }

    /// What a filter takes at which flow and viscosity, where there is one.
    fn filter_takes(&self) -> Result<Option<FilterLoss>, Unknown> {
        let filter = match &*self.pickup()?.filter {
            Given::Absent(_) => return Ok(None),
            given => need(given)?,
        };
        let (flow, viscosity) = (need(&filter.at_flow)?.value, need(&filter.at_viscosity)?.value);
        Ok(Some(FilterLoss { flow, viscosity, drop: need(&filter.drop)?.value }))
    }

    fn speeding_up_takes(&self, density: MassDensity, way: &Line) -> Result<Pressure, Unknown> {
        let time = match &*need(&self.vehicle()?.pump)?.flow_rises_in {
            Given::Absent(_) => return Ok(si(0.0)),
            given => need(given)?.value,
        };
        let gain = self.largest_flow()?.value - self.least_flow()?.value;
        let gain = mean_velocity(gain, circle_area(way.bore)) / time;
        Ok(inertia(density, way.length, gain))
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
