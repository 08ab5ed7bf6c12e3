//! The oil.

use super::Text;
use super::watched::{Notebook, Watched};
use crate::quantity::{Given, Stated};
use crate::source::Span;
use uom::si::f64::{
    DiffusionCoefficient, MassDensity, Pressure, Ratio, SpecificHeatCapacity,
    TemperatureCoefficient, ThermalConductivity, ThermodynamicTemperature,
};

/// An oil.
#[derive(Debug, Clone)]
pub struct Oil {
    /// The whole document.
    pub span: Span,
    /// Where it notes which of its parts are looked at.
    pub notebook: Notebook,
    /// `title`.
    pub title: Given<Text>,
    /// `density` over temperature.
    pub density: Watched<Given<Table<MassDensity>>>,
    /// `expansion`.
    pub expansion: Watched<Given<Stated<TemperatureCoefficient>>>,
    /// `viscosity` (kinematic) over temperature.
    pub viscosity: Watched<Given<Table<DiffusionCoefficient>>>,
    /// `heat_capacity`.
    pub heat_capacity: Watched<Given<Stated<SpecificHeatCapacity>>>,
    /// `conductivity`.
    pub conductivity: Watched<Given<Stated<ThermalConductivity>>>,
    /// `air_share`: entrained air, by volume at the pressure of the surroundings.
    pub air_share: Watched<Given<Stated<Ratio>>>,
    /// `bulk_modulus`: of the oil without air.
    pub bulk_modulus: Watched<Given<Stated<Pressure>>>,
}

/// A table over temperature, by rising temperature.
#[derive(Debug, Clone)]
pub struct Table<Q> {
    /// The whole mapping.
    pub span: Span,
    /// Its rows.
    pub rows: Vec<(Stated<ThermodynamicTemperature>, Stated<Q>)>,
}
