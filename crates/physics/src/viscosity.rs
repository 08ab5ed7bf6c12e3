//! Viscosity of an oil over temperature.

use uom::si::diffusion_coefficient::square_meter_per_second;
use uom::si::f64::{DiffusionCoefficient, ThermodynamicTemperature};

/// Square millimetres a second in one square metre a second.
const MM2: f64 = 1e6;
/// Below this many mm²/s the formula has further terms, which are not built.
const THINNEST: f64 = 2.0;

/// The straight line of one oil on the chart of log₁₀ log₁₀(ν + 0.7) over log₁₀ T.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Walther {
    /// A.
    pub intercept: f64,
    /// B.
    pub slope: f64,
}

impl Walther {
    /// The line through two measured viscosities; none for one temperature, or a viscosity below 2 mm²/s.
    ///
    /// # Formula
    /// log₁₀ log₁₀(ν + 0.7) = A − B log₁₀ T, ν in mm²/s, T in kelvin.
    ///
    /// # Valid for
    /// Petroleum and synthetic oils from 2 mm²/s up, between the two temperatures and a little beyond. Far below the
    /// lower one real oils are thicker than the line says.
    ///
    /// # Source
    /// ASTM D341 (Walther), from memory.
    pub fn through(
        one: (ThermodynamicTemperature, DiffusionCoefficient),
        other: (ThermodynamicTemperature, DiffusionCoefficient),
    ) -> Option<Self> {
        let (x0, y0) = (libm::log10(one.0.value), doubled_log(one.1)?);
        let (x1, y1) = (libm::log10(other.0.value), doubled_log(other.1)?);
        let slope = (y0 - y1) / (x1 - x0);
        slope.is_finite().then_some(Self { intercept: y0 + slope * x0, slope })
    }

    /// The viscosity at a temperature; none where it comes out below 2 mm²/s or is no number.
    pub fn at(self, temperature: ThermodynamicTemperature) -> Option<DiffusionCoefficient> {
        let y = self.intercept - self.slope * libm::log10(temperature.value);
        let thick = libm::pow(10.0, libm::pow(10.0, y)) - 0.7;
        (thick >= THINNEST && thick.is_finite())
            .then(|| DiffusionCoefficient::new::<square_meter_per_second>(thick / MM2))
    }
}

fn doubled_log(viscosity: DiffusionCoefficient) -> Option<f64> {
    let thick = viscosity.value * MM2;
    (thick >= THINNEST && thick.is_finite()).then(|| libm::log10(libm::log10(thick + 0.7)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::thermodynamic_temperature::degree_celsius;

    fn row(celsius: f64, mm2: f64) -> (ThermodynamicTemperature, DiffusionCoefficient) {
        let temperature = ThermodynamicTemperature::new::<degree_celsius>(celsius);
        (temperature, DiffusionCoefficient::new::<square_meter_per_second>(mm2 * 1e-6))
    }

    fn generic() -> Walther {
        Walther::through(row(40.0, 35.0), row(100.0, 7.3)).unwrap()
    }

    /// ASTM D341 (Walther), a generic oil of 35 mm²/s at 40 °C and 7.3 at 100 °C: constants and values re-derived
    /// elsewhere to these digits (what lies below 0 °C is indicative only).
    #[test]
    fn a_generic_oil_has_the_worked_constants_and_values() {
        assert!((generic().slope / 3.091_35 - 1.0).abs() < 1e-5);
        assert!((generic().intercept / 7.906_32 - 1.0).abs() < 1e-5);
        for (celsius, mm2) in [
            (-20.0, 991.69),
            (0.0, 233.15),
            (20.0, 79.482),
            (80.0, 11.069),
            (120.0, 5.1679),
            (150.0, 3.3947),
        ] {
            let found = generic().at(row(celsius, 0.0).0).unwrap().value * 1e6;
            assert!((found / mm2 - 1.0).abs() < 2e-4, "{celsius}: {found}");
        }
    }

    #[test]
    fn an_oil_thinner_than_2_mm2_is_refused_and_so_is_one_temperature_twice() {
        assert_eq!(Walther::through(row(40.0, 35.0), row(100.0, 1.9)), None);
        assert_eq!(Walther::through(row(40.0, 35.0), row(40.0, 30.0)), None);
        assert_eq!(generic().at(row(300.0, 0.0).0), None);
    }
}
