//! The pressure of the air over a place.

use uom::si::f64::{Length, Pressure};
use uom::si::pressure::pascal;

/// Pressure, temperature and its fall per metre at sea level, and the exponent g M/(R L).
const SEA_LEVEL: f64 = 101_325.0;
const WARM: f64 = 288.15;
const FALL: f64 = 0.0065;
const EXPONENT: f64 = 5.255_88;

/// The pressure of the standard atmosphere; none above 11 000 m and below −2000 m.
///
/// # Formula
/// p = 101 325 Pa · (1 − 0.0065 h / 288.15)^5.25588, h in metres.
/// # Valid for
/// The troposphere, height taken as geopotential (0.05 % of the height at 3000 m); weather moves it by some kPa.
/// # Source
/// ISO 2533 / US Standard Atmosphere 1976, constants from memory.
pub fn pressure_at(altitude: Length) -> Option<Pressure> {
    let height = altitude.value;
    let inside = (-2_000.0..=11_000.0).contains(&height);
    inside.then(|| {
        Pressure::new::<pascal>(SEA_LEVEL * libm::pow(1.0 - FALL * height / WARM, EXPONENT))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::length::meter;

    /// ISO 2533 / US Standard Atmosphere 1976, table: 101.325 kPa at sea level, 70.11 kPa at 3000 m.
    #[test]
    fn the_air_at_3000_metres_has_70_11_kilopascals() {
        let at = |h: f64| pressure_at(Length::new::<meter>(h)).map(|p| p.value);
        assert!((at(3000.0).unwrap() - 70_110.0).abs() < 20.0);
        assert!((at(0.0).unwrap() - 101_325.0).abs() < 1e-9);
        assert_eq!(at(12_000.0), None);
        assert_eq!(at(f64::NAN), None);
    }
}
