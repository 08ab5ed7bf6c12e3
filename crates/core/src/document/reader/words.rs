//! Dimensions in words, and the unit a person usually writes them in.

use super::super::field::Field;
use crate::quantity::{Dimension, Kind, Stiffness};
use uom::si::f64 as q;

const NONE: Dimension =
    Dimension { length: 0, mass: 0, time: 0, temperature: 0, angle: 0, point: false };

const DIMENSIONS: &[(Dimension, &str, &str)] = &[
    (q::Length::DIMENSION, "a length", "mm"),
    (q::Area::DIMENSION, "an area", "mm^2"),
    (q::Volume::DIMENSION, "a volume", "L"),
    (q::Angle::DIMENSION, "an angle", "deg"),
    (q::Ratio::DIMENSION, "a plain number", ""),
    (q::Time::DIMENSION, "a time", "s"),
    (q::MassDensity::DIMENSION, "a density", "kg/m^3"),
    (q::Velocity::DIMENSION, "a speed", "m/s"),
    (q::Acceleration::DIMENSION, "an acceleration", "gn"),
    (q::Force::DIMENSION, "a force", "kN"),
    (q::Pressure::DIMENSION, "a pressure", "kPa"),
    (Stiffness::DIMENSION, "a stiffness", "N/mm"),
    (q::VolumeRate::DIMENSION, "a flow", "L/min"),
    (q::ThermodynamicTemperature::DIMENSION, "a temperature", "degC"),
    (q::TemperatureInterval::DIMENSION, "a difference of temperature", "K"),
    (q::TemperatureCoefficient::DIMENSION, "a share for each kelvin", "1/K"),
    (q::DiffusionCoefficient::DIMENSION, "a kinematic viscosity", "mm^2/s"),
    (q::SpecificHeatCapacity::DIMENSION, "a heat capacity", "kJ/(kg·K)"),
    (q::ThermalConductivity::DIMENSION, "a thermal conductivity", "W/(m·K)"),
    (q::Torque::DIMENSION, "a torque", "N·m"),
    (Dimension { mass: 1, ..NONE }, "a mass", "kg"),
    (Dimension { mass: 1, length: -1, time: -1, ..NONE }, "a dynamic viscosity", "mPa·s"),
    (Dimension { time: -1, ..NONE }, "a frequency", "1/s"),
    (Dimension { mass: 1, length: 2, time: -3, ..NONE }, "a power", "W"),
];

/// What a quantity of this dimension is, with its article.
pub(super) fn in_words(dimension: Dimension) -> &'static str {
    DIMENSIONS.iter().find(|(d, ..)| *d == dimension).map_or("another quantity", |(_, w, _)| w)
}

/// The unit a person most likely means: that of the field's typical range, else the usual one.
pub(super) fn usual_unit(field: Option<&Field>, dimension: Dimension) -> &'static str {
    let typical = field.and_then(|row| row.typical).and_then(|(low, _)| low.split_once(' '));
    match typical {
        Some((_, unit)) => unit,
        None => DIMENSIONS.iter().find(|(d, ..)| *d == dimension).map_or("", |(.., unit)| unit),
    }
}
