//! Dry air at sea level.

use uom::si::diffusion_coefficient::square_meter_per_second;
use uom::si::f64::{DiffusionCoefficient, Ratio, ThermalConductivity, ThermodynamicTemperature};
use uom::si::ratio::ratio;
use uom::si::thermal_conductivity::watt_per_meter_kelvin;

/// Standard pressure, Pa, and the gas constant of dry air, J/(kg K).
const PRESSURE: f64 = 101_325.0;
const GAS: f64 = 287.05;
/// Heat capacity at constant pressure, J/(kg K): within 1 % from 250 to 400 K.
const HEAT: f64 = 1007.0;

/// What the films need of the air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Absolute temperature.
    pub temperature: ThermodynamicTemperature,
    /// Conductivity.
    pub conductivity: ThermalConductivity,
    /// Kinematic viscosity.
    pub viscosity: DiffusionCoefficient,
    /// Prandtl number.
    pub prandtl: Ratio,
}

/// Air of a temperature.
///
/// # Formula
/// Sutherland: μ = 1.716·10⁻⁵ (T/273)^1.5 (273 + 111)/(T + 111), k = 0.0241 (T/273)^1.5 (273 + 194)/(T + 194); ideal gas.
/// # Valid for
/// Sea level, 200 to 500 K. Thin mountain air cools less.
/// # Source
/// White, Viscous Fluid Flow, from memory; held against Incropera, table A.4.
pub fn air(temperature: ThermodynamicTemperature) -> Air {
    let t = temperature.value;
    let warm = t / 273.0 * (t / 273.0).sqrt();
    let dynamic = 1.716e-5 * warm * (273.0 + 111.0) / (t + 111.0);
    let conducts = 0.0241 * warm * (273.0 + 194.0) / (t + 194.0);
    let density = PRESSURE / (GAS * t);
    Air {
        temperature,
        conductivity: ThermalConductivity::new::<watt_per_meter_kelvin>(conducts),
        viscosity: DiffusionCoefficient::new::<square_meter_per_second>(dynamic / density),
        prandtl: Ratio::new::<ratio>(dynamic * HEAT / conducts),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::thermodynamic_temperature::kelvin;

    // Incropera, table A.4, air at 300 K and 1 atm: 26.3e-3 W/(m K) and 15.89e-6 m²/s; Pr 0.707, from memory.
    #[test]
    fn air_at_300_k_is_that_of_the_table() {
        let found = air(ThermodynamicTemperature::new::<kelvin>(300.0));
        assert!((found.conductivity.value / 26.3e-3 - 1.0).abs() < 0.01);
        // Its density, 1.1614 kg/m³, is that at 100 kPa: 1.3 % lighter than at one atmosphere.
        assert!((found.viscosity.value / 15.89e-6 - 1.0).abs() < 0.015);
        assert!((found.prandtl.value / 0.707 - 1.0).abs() < 0.02);
    }
}
