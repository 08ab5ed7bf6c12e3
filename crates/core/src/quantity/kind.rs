//! The typed quantities (uom) and their run-time dimensions.

use super::Dimension;
use std::marker::PhantomData;
use uom::si::{self as uom_si, f64 as q};
use uom::typenum::{N2, P1, Z0};

/// Force per length: a spring's stiffness.
pub type Stiffness =
    uom_si::Quantity<uom_si::ISQ<Z0, P1, N2, Z0, Z0, Z0, Z0>, uom_si::SI<f64>, f64>;

/// A quantity type that a document field can have.
pub trait Kind: Copy {
    /// Its dimension at run time.
    const DIMENSION: Dimension;
    /// From the value in SI base units.
    fn from_si(value: f64) -> Self;
    /// The value in SI base units.
    fn to_si(self) -> f64;
}

/// A quantity from its value in SI base units.
pub fn si<Q: Kind>(value: f64) -> Q {
    Q::from_si(value)
}

const NONE: Dimension =
    Dimension { length: 0, mass: 0, time: 0, temperature: 0, angle: 0, point: false };

macro_rules! kinds {
    ($($kind:ty = { $($field:ident: $exponent:expr),* };)*) => {$(
        impl Kind for $kind {
            const DIMENSION: Dimension = Dimension { $($field: $exponent,)* ..NONE };
            fn from_si(value: f64) -> Self {
                Self { dimension: PhantomData, units: PhantomData, value }
            }
            fn to_si(self) -> f64 {
                self.value
            }
        }
    )*};
}

kinds! {
    q::Length = { length: 1 };
    q::Area = { length: 2 };
    q::Volume = { length: 3 };
    q::Angle = { angle: 1 };
    q::Ratio = { length: 0 };
    q::Time = { time: 1 };
    q::Mass = { mass: 1 };
    q::Frequency = { time: -1 };
    q::MassDensity = { mass: 1, length: -3 };
    q::Velocity = { length: 1, time: -1 };
    q::Acceleration = { length: 1, time: -2 };
    q::Force = { mass: 1, length: 1, time: -2 };
    q::Pressure = { mass: 1, length: -1, time: -2 };
    Stiffness = { mass: 1, time: -2 };
    q::VolumeRate = { length: 3, time: -1 };
    q::ThermodynamicTemperature = { temperature: 1, point: true };
    q::TemperatureInterval = { temperature: 1 };
    q::TemperatureCoefficient = { temperature: -1 };
    q::DiffusionCoefficient = { length: 2, time: -1 };
    q::SpecificHeatCapacity = { length: 2, time: -2, temperature: -1 };
    q::ThermalConductivity = { mass: 1, length: 1, time: -3, temperature: -1 };
    q::HeatTransfer = { mass: 1, time: -3, temperature: -1 };
    q::Power = { length: 2, mass: 1, time: -3 };
    q::Torque = { mass: 1, length: 2, time: -2 };
}
