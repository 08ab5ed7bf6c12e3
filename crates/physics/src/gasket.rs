//! A rail as a beam on its gasket, drawn down by bolts at equal distances.

use uom::si::f64::{Force, Length, Pressure, Ratio};
use uom::si::length::meter;
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;

/// λs at which the gasket's stress midway between two bolts has fallen to nothing: beyond it the rail lifts off.
///
/// # Source
/// First root of tan u = −tanh u, times two.
pub const LIFTS_OFF: f64 = 4.730_040_744_862_704;

/// Rail and gasket in section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rail {
    /// Young's modulus of the rail.
    pub modulus: Pressure,
    /// Width of the rail.
    pub width: Length,
    /// Thickness of the rail.
    pub thickness: Length,
    /// By how many times a bead makes it stiffer than a flat strip.
    pub bead: Ratio,
    /// Stress over share of thickness of the gasket.
    pub gasket_modulus: Pressure,
    /// Width of the gasket.
    pub gasket_width: Length,
    /// Thickness of the gasket.
    pub gasket_thickness: Length,
}

/// The bolt pitch in terms of the rail's own length, λs.
///
/// # Formula
/// λ = (E_g b_g/t_g / (4 E I))^¼, I = w t³/12 times the bead's factor.
/// # Valid for
/// A straight stretch of rail that does not twist; equal pitches.
/// # Source
/// Hetényi, Beams on Elastic Foundation (1946), from memory.
pub fn pitch_in_rail_lengths(rail: &Rail, pitch: Length) -> Ratio {
    let second_moment = rail.bead.value * rail.width.value * cube(rail.thickness.value) / 12.0;
    let foundation =
        rail.gasket_modulus.value * rail.gasket_width.value / rail.gasket_thickness.value;
    let lambda = (foundation / (4.0 * rail.modulus.value * second_moment)).sqrt().sqrt();
    Ratio::new::<ratio>(lambda * pitch.value)
}

fn cube(value: f64) -> f64 {
    value * value * value
}

/// Gasket stress midway between two bolts over that at a bolt; none where the rail lifts off.
///
/// # Formula
/// 2 [cosh u sin u + sinh u cos u]/[sinh 2u + sin 2u], u = λs/2.
/// # Valid for
/// 0 < λs below 4.73, where the stress midway falls to nothing.
/// # Source
/// Hetényi; sum over equal loads on an infinite beam.
pub fn midway_share(pitch: Ratio) -> Option<Ratio> {
    let u = pitch.value / 2.0;
    let inside = pitch.value > 0.0 && pitch.value < LIFTS_OFF;
    inside.then(|| {
        let (sinh, cosh) = (libm::sinh(u), libm::cosh(u));
        let (sine, cosine) = (libm::sin(u), libm::cos(u));
        let below = libm::sinh(2.0 * u) + libm::sin(2.0 * u);
        Ratio::new::<ratio>(2.0 * (cosh * sine + sinh * cosine) / below)
    })
}

/// Gasket stress at a bolt over the mean; none where the rail lifts off.
///
/// # Formula
/// (θ/2) (sinh θ + sin θ)/(cosh θ − cos θ), θ = λs.
/// # Valid for
/// As [`midway_share`].
/// # Source
/// Hetényi; sum over equal loads on an infinite beam.
pub fn share_at_a_bolt(pitch: Ratio) -> Option<Ratio> {
    let theta = pitch.value;
    let inside = theta > 0.0 && theta < LIFTS_OFF;
    inside.then(|| {
        let above = libm::sinh(theta) + libm::sin(theta);
        let below = libm::cosh(theta) - libm::cos(theta);
        Ratio::new::<ratio>(theta / 2.0 * above / below)
    })
}

/// Mean stress of a gasket under all bolts.
///
/// # Formula
/// N F/(L w).
/// # Source
/// Force over area.
pub fn mean_stress(bolts: u32, pull: Force, length: Length, width: Length) -> Pressure {
    Pressure::new::<pascal>(f64::from(bolts) * pull.value / (length.value * width.value))
}

/// Share of its thickness that a gasket is squeezed by.
pub fn squeeze(free: Length, clamped: Length) -> Ratio {
    let share = 1.0 - Length::new::<meter>(clamped.value).value / free.value;
    Ratio::new::<ratio>(share)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use uom::si::force::kilonewton;
    use uom::si::length::millimeter;
    use uom::si::pressure::{gigapascal, megapascal};

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    /// Steel, 16 by 3 mm, on a gasket 12 mm wide and 3 mm thick of 20 MPa.
    fn steel() -> Rail {
        Rail {
            modulus: Pressure::new::<gigapascal>(205.0),
            width: mm(16.0),
            thickness: mm(3.0),
            bead: Ratio::new::<ratio>(1.0),
            gasket_modulus: Pressure::new::<megapascal>(20.0),
            gasket_width: mm(12.0),
            gasket_thickness: mm(3.0),
        }
    }

    // Hetényi, Beams on Elastic Foundation (1946): λ = 40.573587 1/m; at a pitch of 50 mm 0.84484629 of the stress is left
    // midway, checked by summing the influence of many bolts.
    #[test]
    fn the_worked_rail_has_its_lambda_and_its_share() {
        let one = pitch_in_rail_lengths(&steel(), Length::new::<meter>(1.0)).value;
        assert!((one / 40.573_587 - 1.0).abs() < 1e-6);
        let share = midway_share(pitch_in_rail_lengths(&steel(), mm(50.0))).unwrap().value;
        assert!((share / 0.844_846_29 - 1.0).abs() < 1e-6);
    }

    // The shares that Hetényi's beam gives at round pitches, summed elsewhere: 0.9 at 1.80, 0.8 at 2.18, 0.5 at 2.98.
    #[test]
    fn the_stress_midway_falls_with_the_pitch_to_nothing_at_4_73() {
        let share = |pitch: f64| midway_share(Ratio::new::<ratio>(pitch));
        for (pitch, left) in [(1.80, 0.9), (2.18, 0.8), (2.98, 0.5)] {
            assert!((share(pitch).unwrap().value - left).abs() < 0.005, "{pitch}");
        }
        assert!(share(LIFTS_OFF - 1e-9).unwrap().value.abs() < 1e-8);
        for outside in [0.0, LIFTS_OFF, f64::NAN] {
            assert_eq!(share(outside), None);
        }
    }

    // Force over area: 14 bolts of 9 kN on 1.20 m of a gasket 10 mm wide are 10.5 MPa.
    #[test]
    fn the_mean_stress_is_force_over_area() {
        let pull = Force::new::<kilonewton>(9.0);
        let mean = mean_stress(14, pull, Length::new::<meter>(1.20), mm(10.0));
        assert!((mean.value / 10.5e6 - 1.0).abs() < 1e-12);
    }

    proptest! {
        // The definition, bolt by bolt: each load F adds F λ/(2k) e^(−λx)(cos λx + sin λx), and the mean is F/(k s).
        #[test]
        fn both_shares_are_those_of_a_long_row_of_bolts(pitch in 0.3_f64..4.7) {
            let one = |x: f64| libm::exp(-x) * (libm::cos(x) + libm::sin(x));
            let row = |start: f64| -> f64 {
                (-300..=300).map(|n| one((f64::from(n) * pitch + start).abs())).sum()
            };
            let (at_bolt, midway) = (row(0.0), row(pitch / 2.0));
            let theta = Ratio::new::<ratio>(pitch);
            prop_assert!((midway_share(theta).unwrap().value - midway / at_bolt).abs() < 1e-9);
            let over_mean = at_bolt * pitch / 2.0;
            prop_assert!((share_at_a_bolt(theta).unwrap().value - over_mean).abs() < 1e-9);
        }
    }
}
