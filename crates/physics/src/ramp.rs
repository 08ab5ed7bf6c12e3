//! The ridge a vehicle drives over without touching it between its axles.

use uom::si::angle::radian;
use uom::si::f64::{Angle, Length};

/// Ramp breakover angle over a belly point `behind` the front axle, `height` over level ground, wheels as points.
/// None unless the point lies over the ground and between the axles.
///
/// # Formula
/// atan(h/a) + atan(h/(L − a)).
///
/// # Valid for
/// Wheels as points: tyres give a little more, so that this errs on the small side.
///
/// # Source
/// ISO 612 and SAE J689 definitions, from memory.
pub fn breakover_angle(height: Length, behind: Length, wheelbase: Length) -> Option<Angle> {
    let (h, a, rest) = (height.value, behind.value, (wheelbase - behind).value);
    let between = h >= 0.0 && a > 0.0 && rest > 0.0;
    between.then(|| Angle::new::<radian>(libm::atan2(h, a) + libm::atan2(h, rest)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::angle::degree;
    use uom::si::length::meter;

    fn angle(height: f64, behind: f64, wheelbase: f64) -> f64 {
        let m = Length::new::<meter>;
        breakover_angle(m(height), m(behind), m(wheelbase)).unwrap().get::<degree>()
    }

    // ISO 612 / SAE J689 definition, numbers in any unit of length: belly at mid-wheelbase 15 over 120 gives 28.07 deg
    // (seen in public text), 12 over 100 gives 26.9915 deg (a public text that prints 27.04 is wrong).
    #[test]
    fn a_belly_in_the_middle_has_the_published_angles() {
        assert!((angle(15.0, 60.0, 120.0) - 28.07).abs() < 0.01);
        assert!((angle(12.0, 50.0, 100.0) - 26.991_5).abs() < 0.005);
    }

    // Same definition, worked for a point off the middle: 0.30 m high, 1.10 m behind, 2.80 m wheelbase.
    #[test]
    fn a_belly_off_the_middle_has_the_worked_angle() {
        assert!((angle(0.30, 1.10, 2.80) / 25.263_099 - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_point_beyond_an_axle_or_under_the_ground_has_none() {
        let m = Length::new::<meter>;
        assert_eq!(breakover_angle(m(0.3), m(3.0), m(2.8)), None);
        assert_eq!(breakover_angle(m(0.3), m(0.0), m(2.8)), None);
        assert_eq!(breakover_angle(m(-0.1), m(1.0), m(2.8)), None);
    }
}
