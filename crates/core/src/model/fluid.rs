//! The oil at a temperature, and how much of it the pump draws.

use super::scene::{Scene, need};
use crate::document::Text;
use crate::quantity::{Stated, si};
use crate::reading::{Bounds, Unknown};
use crate::source::Span;
use sumpwright_physics::petroleum;
use sumpwright_physics::viscosity::Walther;
use uom::si::f64::{DiffusionCoefficient, MassDensity, ThermodynamicTemperature, VolumeRate};

/// How far beyond the stated viscosities the line through two of them is trusted, in kelvin: common practice,
/// no source.
const BEYOND: f64 = 20.0;

/// A viscosity with what has to be told of it.
#[derive(Debug, Clone)]
pub struct Thickness {
    /// The kinematic viscosity, in m²/s.
    pub bounds: Bounds,
    /// The stated value it rests on most.
    pub subject: Span,
    /// What a reader has to know; whole sentences.
    pub notes: Vec<String>,
}

type Row<'a, Q> = &'a (Stated<ThermodynamicTemperature>, Stated<Q>);

impl Scene {
    /// The kinematic viscosity at a temperature, from the two stated rows that lie round it, or the two nearest.
    ///
    /// Far below the coldest row the oil is thicker than the line says, so that this is a bound.
    ///
    /// # Errors
    /// Says what is not stated, or why there is none.
    pub fn viscosity_at(
        &self,
        temperature: ThermodynamicTemperature,
    ) -> Result<Thickness, Unknown> {
        let table = need(&self.oil()?.viscosity)?;
        let (low, high) = pair(&table.rows, temperature).ok_or_else(|| {
            let one = Unknown::because(
                "the oil states its viscosity at one temperature only, and it takes two",
            );
            Unknown { at: table.rows.first().map(|row| row.1.span), ..one }
        })?;
        let at = |row: Row<'_, DiffusionCoefficient>| (row.0.value, row.1.value);
        let thin =
            || Unknown::because("the oil is thinner than 2 mm²/s, where the formula does not hold");
        let line = Walther::through(at(low), at(high)).ok_or_else(thin)?;
        let found = line.at(temperature).ok_or_else(thin)?.value;
        let below = low.0.value.value - temperature.value;
        let above = temperature.value - high.0.value.value;
        if above > BEYOND {
            return Err(Unknown::because(format!(
                "the hottest stated viscosity lies {above:.0} K below this temperature"
            ))
            .at(high.1.span));
        }
        let nearer = if below.abs() < above.abs() { low } else { high };
        let (mut bounds, mut notes) = (Bounds::exactly(found), Vec::new());
        if below > BEYOND {
            bounds = Bounds::at_least(found);
            notes.push(format!(
                "The coldest stated viscosity lies {below:.0} K above this temperature: real oils are thicker \
                 there than the formula says."
            ));
        }
        Ok(Thickness { bounds, subject: nearer.1.span, notes })
    }

    /// The density at a temperature: between two stated rows a straight line, else by the expansion that belongs
    /// to the density of the nearest row.
    ///
    /// # Errors
    /// Says what is not stated, or why there is none.
    pub fn density_at(
        &self,
        temperature: ThermodynamicTemperature,
    ) -> Result<MassDensity, Unknown> {
        let rows = &need(&self.oil()?.density)?.rows;
        if let Some((low, high)) = pair(rows, temperature)
            && low.0.value <= temperature
            && temperature <= high.0.value
        {
            let span = high.0.value.value - low.0.value.value;
            let share = (temperature.value - low.0.value.value) / span;
            return Ok(low.1.value + (high.1.value - low.1.value) * share);
        }
        Ok(petroleum::density_at(self.density_at_15()?.0, temperature))
    }

    /// The density at 15 °C that belongs to the row nearest to it, and where that row stands.
    ///
    /// # Errors
    /// Says what is not stated, or that it is no lubricating oil's.
    pub fn density_at_15(&self) -> Result<(MassDensity, Span), Unknown> {
        let fifteen = 288.15;
        let rows = &need(&self.oil()?.density)?.rows;
        let row = rows
            .iter()
            .reduce(|a, b| {
                let far = |row: Row<'_, MassDensity>| (row.0.value.value - fifteen).abs();
                if far(b) < far(a) { b } else { a }
            })
            .ok_or_else(|| Unknown::because("the oil states no density"))?;
        let found = petroleum::density_at_15(row.1.value, row.0.value);
        let [light, heavy] = petroleum::density_range();
        if !(found >= light && found <= heavy) {
            return Err(Unknown::because(format!(
                "a lubricating oil has {:.0} to {:.0} kg/m³ at 15 °C, and this one has {:.0}",
                light.value, heavy.value, found.value
            )));
        }
        Ok((found, row.1.span))
    }

    /// The largest flow of the pump.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn largest_flow(&self) -> Result<Stated<VolumeRate>, Unknown> {
        self.flow(None)
    }

    /// The least flow of the pump.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn least_flow(&self) -> Result<Stated<VolumeRate>, Unknown> {
        let flows = need(&need(&self.vehicle()?.pump)?.flow)?;
        flows
            .entries
            .iter()
            .map(|flow| flow.value)
            .reduce(|a, b| if b.value < a.value { b } else { a })
            .ok_or_else(|| Unknown::because("the pump has no flow"))
    }

    /// The flow of a name; the largest without one.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn flow(&self, name: Option<&Text>) -> Result<Stated<VolumeRate>, Unknown> {
        let flows = need(&need(&self.vehicle()?.pump)?.flow)?;
        flows
            .entries
            .iter()
            .filter(|flow| name.is_none_or(|name| name.text == flow.name))
            .map(|flow| flow.value)
            .reduce(|a, b| if b.value > a.value { b } else { a })
            .ok_or_else(|| Unknown::because("the pump has no such flow"))
    }

    /// The coldest start of the duty: oil temperature, where it stands, and the flow the pump starts at.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn cold_start(
        &self,
    ) -> Result<(Stated<ThermodynamicTemperature>, Stated<VolumeRate>), Unknown> {
        let start = need(&self.duty()?.cold_start)?;
        Ok((*need(&start.oil_temperature)?, self.flow(start.flow.as_ref())?))
    }

    /// The coldest oil temperature of the duty's states.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn coldest(&self) -> Result<ThermodynamicTemperature, Unknown> {
        need(&self.duty()?.oil_temperature)?
            .iter()
            .map(|stated| stated.value)
            .reduce(|a, b| if b < a { b } else { a })
            .ok_or_else(|| Unknown::because("the duty holds no oil temperature"))
    }

    /// Standard gravity.
    pub fn gravity() -> uom::si::f64::Acceleration {
        si(super::attitude::STANDARD_GRAVITY)
    }
}

/// The two neighbouring rows round a temperature, or the two at the end it lies beyond; rows rise.
fn pair<Q>(
    rows: &[(Stated<ThermodynamicTemperature>, Stated<Q>)],
    temperature: ThermodynamicTemperature,
) -> Option<(Row<'_, Q>, Row<'_, Q>)> {
    let mut found = None;
    for two in rows.windows(2) {
        let [low, high] = two else { continue };
        if found.is_none() || low.0.value <= temperature {
            found = Some((low, high));
        }
    }
    found
}
