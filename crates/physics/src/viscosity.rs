//! Kinematic viscosity at any temperature, from two stated ones.

use uom::si::diffusion_coefficient::square_meter_per_second;
use uom::si::f64::{DiffusionCoefficient, ThermodynamicTemperature};

/// A viscosity and the temperature at which it was measured.
pub type Known = (ThermodynamicTemperature, DiffusionCoefficient);

/// The viscosity at a temperature; none where the two known values are not two falling points above 0.3 mm²/s.
///
/// # Formula
/// log₁₀ log₁₀(ν + 0.7) = A − B log₁₀ T, ν in mm²/s, T in kelvin.
/// # Valid for
/// 2 mm²/s and more, between the two temperatures and some 20 K beyond; farther away it indicates only.
/// # Source
/// ASTM D341 (Walther's equation), from memory.
pub fn viscosity_at(
    known: [Known; 2],
    at: ThermodynamicTemperature,
) -> Option<DiffusionCoefficient> {
    let [(first_at, first), (second_at, second)] = known;
    let height = |v: DiffusionCoefficient| libm::log10(libm::log10(v.value * 1e6 + 0.7));
    let place = |t: ThermodynamicTemperature| libm::log10(t.value);
    let slope = (height(second) - height(first)) / (place(second_at) - place(first_at));
    let wanted = height(first) + slope * (place(at) - place(first_at));
    let found = libm::pow(10.0, libm::pow(10.0, wanted)) - 0.7;
    let falls = slope < 0.0 && slope.is_finite() && found.is_finite() && found > 0.0;
    falls.then(|| DiffusionCoefficient::new::<square_meter_per_second>(found * 1e-6))
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::thermodynamic_temperature::degree_celsius;

    fn point(celsius: f64, viscosity: f64) -> Known {
        let at = ThermodynamicTemperature::new::<degree_celsius>(celsius);
        (at, DiffusionCoefficient::new::<square_meter_per_second>(viscosity * 1e-6))
    }

    // ASTM D341, worked for 35 and 7.3 mm²/s at 40 and 100 degC: 992 at -20, 233 at 0, 79.5 at 20, 11.07 at 80,
    // 5.17 at 120 and 3.39 mm²/s at 150 degC.
    #[test]
    fn the_worked_oil_has_its_viscosities() {
        let known = [point(40.0, 35.0), point(100.0, 7.3)];
        for (celsius, meant) in [
            (-20.0, 992.0),
            (0.0, 233.0),
            (20.0, 79.5),
            (80.0, 11.07),
            (120.0, 5.17),
            (150.0, 3.39),
        ] {
            let found = viscosity_at(known, point(celsius, 1.0).0).unwrap().value * 1e6;
            assert!((found / meant - 1.0).abs() < 0.003, "{celsius}: {found}");
        }
    }

    #[test]
    fn a_viscosity_that_rises_or_stands_at_one_temperature_has_no_law() {
        let at = point(60.0, 1.0).0;
        assert_eq!(viscosity_at([point(40.0, 7.0), point(100.0, 30.0)], at), None);
        assert_eq!(viscosity_at([point(40.0, 30.0), point(40.0, 7.0)], at), None);
    }
}
