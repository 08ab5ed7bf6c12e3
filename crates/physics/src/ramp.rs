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

/// Ramp breakover angle over a belly point as [`breakover_angle`], with tyres: the lines from the point touch the
/// tyres' arcs. None unless the point lies between the tyres and over the ground.
///
/// # Formula
/// Each side (R − h) cos t + a sin t = R for the line's slope t; the angle is the sum of the two slopes.
///
/// # Valid for
/// Tyres that stand on level ground with the static loaded radius R, front and rear alike; a belly over their middles too.
///
/// # Source
/// Wording of 49 CFR 523.2 and SAE J1100 (tangent to the static loaded radius arcs), from memory.
pub fn breakover_angle_over_tyres(
    height: Length,
    behind: Length,
    wheelbase: Length,
    radius: Length,
) -> Option<Angle> {
    let (h, r) = (height.value, radius.value);
    let side = |a: f64| {
        // (R − h) cos t + a sin t = √((R − h)² + a²) cos(t − δ), δ = atan2(a, R − h).
        let reach = ((r - h) * (r - h) + a * a).sqrt();
        (h >= 0.0 && a > r).then(|| libm::atan2(a, r - h) - libm::acos(r / reach))
    };
    let slopes = side(behind.value)? + side((wheelbase - behind).value)?;
    Some(Angle::new::<radian>(slopes))
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

    // Wording of 49 CFR 523.2 / SAE J1100, worked elsewhere: 0.30 m over the ground in the middle of 2.80 m, tyres of
    // 0.40 m: 24.945053 deg. The line is the tangent: its distance from the wheel's middle is the radius.
    #[test]
    fn tyres_add_the_worked_angle() {
        let m = Length::new::<meter>;
        let found = breakover_angle_over_tyres(m(0.30), m(1.40), m(2.80), m(0.40)).unwrap();
        assert!((found.get::<degree>() / 24.945_053 - 1.0).abs() < 1e-5);
        let small = breakover_angle_over_tyres(m(0.30), m(1.10), m(2.80), m(0.300_001)).unwrap();
        assert!(small.get::<degree>() > angle(0.30, 1.10, 2.80));
        assert_eq!(breakover_angle_over_tyres(m(0.30), m(0.35), m(2.80), m(0.40)), None);
        // A belly over the tyres' middles, by a root search for the tangent elsewhere: 37.272149 deg.
        let high = breakover_angle_over_tyres(m(0.45), m(1.40), m(2.80), m(0.40)).unwrap();
        assert!((high.get::<degree>() / 37.272_149 - 1.0).abs() < 1e-7);
    }

    #[test]
    fn a_point_beyond_an_axle_or_under_the_ground_has_none() {
        let m = Length::new::<meter>;
        assert_eq!(breakover_angle(m(0.3), m(3.0), m(2.8)), None);
        assert_eq!(breakover_angle(m(0.3), m(0.0), m(2.8)), None);
        assert_eq!(breakover_angle(m(-0.1), m(1.0), m(2.8)), None);
    }
}
