//! What a petroleum oil's density tells of its expansion, heat capacity and conductivity.

use uom::si::f64::{
    MassDensity, Ratio, SpecificHeatCapacity, TemperatureCoefficient, ThermalConductivity,
    ThermodynamicTemperature,
};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::ratio::ratio;
use uom::si::specific_heat_capacity::joule_per_kilogram_kelvin;
use uom::si::temperature_coefficient::per_kelvin;
use uom::si::thermal_conductivity::watt_per_meter_kelvin;

/// 15 °C in kelvin.
const AT_15: f64 = 288.15;
const ZERO_CELSIUS: f64 = 273.15;
/// The constant of lubricating oils, kg/(m³ K).
const LUBRICATING: f64 = 0.6278;
/// Density of water at 15.6 °C, kg/m³.
const WATER: f64 = 999.0;

/// The coefficient of expansion at 15 °C.
///
/// # Formula
/// α = 0.6278 / ρ₁₅, ρ₁₅ in kg/m³, α in 1/K.
/// # Valid for
/// Lubricating oils of 800 to 1160 kg/m³.
/// # Source
/// ASTM D1250 / API MPMS 11.1, table 54D; constant from memory.
pub fn expansion_at_15(density_at_15: MassDensity) -> TemperatureCoefficient {
    TemperatureCoefficient::new::<per_kelvin>(LUBRICATING / density_at_15.value)
}

/// The volume at 15 °C over the volume at a temperature.
///
/// # Formula
/// VCF = exp(−α ΔT (1 + 0.8 α ΔT)), ΔT from 15 °C.
/// # Valid for
/// As [`expansion_at_15`], −20 °C to 150 °C.
/// # Source
/// ASTM D1250 / API MPMS 11.1, table 54D; constants from memory.
pub fn volume_correction(
    density_at_15: MassDensity,
    temperature: ThermodynamicTemperature,
) -> Ratio {
    let grown = expansion_at_15(density_at_15).value * (temperature.value - AT_15);
    Ratio::new::<ratio>(libm::exp(-grown * (1.0 + 0.8 * grown)))
}

/// The density at a temperature.
///
/// # Formula
/// ρ = ρ₁₅ · VCF.
/// # Valid for
/// As [`volume_correction`].
/// # Source
/// As [`volume_correction`].
pub fn density_at(
    density_at_15: MassDensity,
    temperature: ThermodynamicTemperature,
) -> MassDensity {
    density_at_15 * volume_correction(density_at_15, temperature)
}

/// The density at 15 °C of an oil whose density is known at another temperature.
///
/// # Formula
/// ρ₁₅ = ρ / VCF(ρ₁₅), repeated: each pass brings two more digits.
/// # Valid for
/// As [`volume_correction`].
/// # Source
/// As [`volume_correction`].
pub fn density_at_15(density: MassDensity, temperature: ThermodynamicTemperature) -> MassDensity {
    let mut found = density;
    for _ in 0..30 {
        found = density / volume_correction(found, temperature);
    }
    found
}

/// The specific heat capacity.
///
/// # Formula
/// c = (1.685 + 0.0034 t) / √d kJ/(kg K), t in °C, d the density at 15.6 °C over that of water.
/// # Valid for
/// Petroleum oils; within 5 %.
/// # Source
/// Cragoe, NBS Miscellaneous Publication 97 (1929), in SI units, from memory.
pub fn heat_capacity(
    density_at_15: MassDensity,
    temperature: ThermodynamicTemperature,
) -> SpecificHeatCapacity {
    let celsius = temperature.value - ZERO_CELSIUS;
    let relative = density_at_15.value / WATER;
    let value = (1685.0 + 3.4 * celsius) / relative.sqrt();
    SpecificHeatCapacity::new::<joule_per_kilogram_kelvin>(value)
}

/// The thermal conductivity.
///
/// # Formula
/// k = 0.1172 (1 − 0.00054 t) / d W/(m K), t and d as for [`heat_capacity`].
/// # Valid for
/// Petroleum oils; within 5 %.
/// # Source
/// Cragoe, NBS Miscellaneous Publication 97 (1929), in SI units, from memory.
pub fn conductivity(
    density_at_15: MassDensity,
    temperature: ThermodynamicTemperature,
) -> ThermalConductivity {
    let celsius = temperature.value - ZERO_CELSIUS;
    let value = 0.1172 * (1.0 - 0.00054 * celsius) / (density_at_15.value / WATER);
    ThermalConductivity::new::<watt_per_meter_kelvin>(value)
}

/// The lightest and heaviest oil of the tables at 15 °C.
pub fn density_range() -> [MassDensity; 2] {
    [800.0, 1160.0].map(MassDensity::new::<kilogram_per_cubic_meter>)
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::thermodynamic_temperature::degree_celsius;

    fn rho(value: f64) -> MassDensity {
        MassDensity::new::<kilogram_per_cubic_meter>(value)
    }

    fn celsius(value: f64) -> ThermodynamicTemperature {
        ThermodynamicTemperature::new::<degree_celsius>(value)
    }

    fn near(found: f64, meant: f64, share: f64) {
        assert!((found / meant - 1.0).abs() < share, "{found} is not {meant}");
    }

    /// ASTM D1250 / API MPMS 11.1, table 54D, oil of 850 kg/m³ (constants from memory, consequences re-derived
    /// elsewhere).
    #[test]
    fn an_oil_of_850_expands_as_the_table_says() {
        near(expansion_at_15(rho(850.0)).value, 0.000_738_588, 1e-5);
        near(volume_correction(rho(850.0), celsius(95.0)).value, 0.939_996, 1e-5);
        near(density_at(rho(850.0), celsius(90.0)).value, 802.224, 1e-5);
    }

    /// Same source: 5.0 L filled at 20 °C over 0.108 m² rise by 2.77323 mm to 95 °C.
    #[test]
    fn five_litres_rise_by_2_77_mm() {
        let share = volume_correction(rho(850.0), celsius(20.0)).value
            / volume_correction(rho(850.0), celsius(95.0)).value;
        near(0.005 * (share - 1.0) / 0.108, 2.773_23e-3, 1e-4);
    }

    #[test]
    fn the_way_to_15_degrees_and_back_ends_where_it_began() {
        let found = density_at_15(density_at(rho(850.0), celsius(90.0)), celsius(90.0));
        near(found.value, 850.0, 1e-12);
    }

    /// Cragoe, NBS MP 97 (1929), from memory, consistent with its British units: d = 0.85 at 100 °C.
    #[test]
    fn heat_capacity_and_conductivity_are_cragoes() {
        let oil = rho(0.85 * WATER);
        near(heat_capacity(oil, celsius(100.0)).value, 2_196.420_9, 3e-3);
        near(conductivity(oil, celsius(100.0)).value, 0.130_436_71, 3e-3);
    }
}
