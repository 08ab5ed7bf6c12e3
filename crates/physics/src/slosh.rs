//! Natural frequencies of oil in a pan.

use uom::si::f64::{Acceleration, DiffusionCoefficient, Length, Ratio, Time};
use uom::si::ratio::ratio;

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

/// The share of the oil in a box that swings in the first mode along it; the rest moves with the box.
///
/// # Formula
/// m₁/m = 8 tanh(π h/L) / (π³ h/L).
///
/// # Valid for
/// A box with a level floor; of other pans an estimate.
///
/// # Source
/// Graham and Rodriguez, J. Appl. Mech. 19 (1952); NASA SP-106, ch. 6 (both from memory).
pub fn sloshing_share(length: Length, depth: Length) -> Ratio {
    use core::f64::consts::PI;
    let flat = (depth / length).value;
    Ratio::new::<ratio>(8.0 * libm::tanh(PI * flat) / (PI * PI * PI * flat))
}

/// How high the first swing goes when an acceleration comes at once, over the height it settles at.
///
/// # Formula
/// 1 + exp(−π ζ/√(1 − ζ²)), ζ the damping ratio; 2 without damping.
///
/// # Valid for
/// One mode, small waves, damping ratios below 1.
///
/// # Source
/// Step response of a damped oscillator (Den Hartog, Mechanical Vibrations).
pub fn overshoot(damping: Ratio) -> Ratio {
    use core::f64::consts::PI;
    let zeta = damping.value;
    Ratio::new::<ratio>(1.0 + libm::exp(-PI * zeta / (1.0 - zeta * zeta).sqrt()))
}

/// The damping ratio that the oil's own friction on smooth walls gives an upright cylinder.
///
/// # Formula
/// ζ = 4.98 √ν R^(−3/4) g^(−1/4) / 2π, in metres and seconds.
///
/// # Valid for
/// Deep oil. A floor near the surface, baffles and what hangs in the oil damp more, so that with the longer half of a
/// pan for R this errs on the low side; an order of magnitude.
///
/// # Source
/// Mikishev and Dorozhkin, Stephens and others, in NASA SP-106, ch. 4 (from memory).
pub fn smooth_wall_damping(
    viscosity: DiffusionCoefficient,
    radius: Length,
    gravity: Acceleration,
) -> Ratio {
    let of_size = libm::pow(radius.value, -0.75) * libm::pow(gravity.value, -0.25);
    let decrement = 4.98 * viscosity.value.sqrt() * of_size;
    Ratio::new::<ratio>(decrement / core::f64::consts::TAU)
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

    // Graham and Rodriguez (1952), NASA SP-106 ch. 6: h/L = 0.125 gives 0.77132202; Housner's 0.83 tanh(1.6 h/l)/(1.6 h/l),
    // l = L/2 (from memory), agrees within 3 %.
    #[test]
    fn three_quarters_of_a_pool_an_eighth_deep_swing() {
        let share = sloshing_share(Length::new::<meter>(0.4), Length::new::<meter>(0.05)).value;
        assert!((share / 0.771_322_02 - 1.0).abs() < 5e-3);
        assert!((share / 0.788_394_1 - 1.0).abs() < 0.03);
    }

    // Step response of a damped oscillator: 1.8544679 at 5 % of critical damping.
    #[test]
    fn a_sudden_stop_swings_to_nearly_twice_the_settled_rise() {
        let of = |zeta: f64| overshoot(Ratio::new::<ratio>(zeta)).value;
        assert!((of(0.05) / 1.854_467_9 - 1.0).abs() < 1e-6);
        assert!((of(0.0) - 2.0).abs() < 1e-15);
    }

    // NASA SP-106 ch. 4 (from memory): 30 mm²/s and 0.100 m give a decrement of 0.086678.
    #[test]
    fn smooth_walls_damp_as_the_handbook_says() {
        let viscosity = DiffusionCoefficient::new::<
            uom::si::diffusion_coefficient::square_meter_per_second,
        >(30e-6);
        let gravity = Acceleration::new::<meter_per_second_squared>(9.806_65);
        let zeta = smooth_wall_damping(viscosity, Length::new::<meter>(0.1), gravity).value;
        assert!((zeta * core::f64::consts::TAU / 0.086_678 - 1.0).abs() < 1e-4);
    }
}
