//! A fin struck at its tip, as a cantilever built into the wall.
//!
//! ```text
//!        ── force ─▶ ┌─┐ tip
//!                    │ │  height L
//!      ══════════════╧═╧══════════ wall; root thickness t
//! ```
//! The load spreads at 45° on its way to the root, so that a long fin bears it on part of its length only.

use uom::si::f64::{Force, Length, Pressure};
use uom::si::length::meter;
use uom::si::pressure::pascal;

/// A fin's sizes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fin {
    /// From the wall to the tip.
    pub height: Length,
    /// Thickness where it meets the wall, fillet not counted.
    pub root: Length,
    /// Along the wall.
    pub length: Length,
}

/// A blow at the tip, square to the fin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strike {
    /// The force.
    pub force: Force,
    /// How much of the tip's length it is spread over.
    pub contact: Length,
}

/// Why a fin cannot be computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum FinError {
    /// The height, the root or the length is not a positive number.
    NoSize,
    /// The force or the contact is negative or not a number.
    NoLoad,
    /// The elastic modulus is not a positive number.
    NoModulus,
}

impl core::fmt::Display for FinError {
    fn fmt(&self, out: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        out.write_str(match self {
            Self::NoSize => "a fin needs a positive height, root and length",
            Self::NoLoad => "a strike needs a force and a contact that are not negative",
            Self::NoModulus => "a deflection needs a positive elastic modulus",
        })
    }
}

impl core::error::Error for FinError {}

/// The length of root that bears the strike.
///
/// # Formula
/// b = min(fin length, 2 L + contact).
/// # Source
/// Spread of load at 45°: common practice, no source.
/// # Errors
/// A size or load that is no number, or of the wrong sign.
pub fn bearing_length(fin: &Fin, strike: &Strike) -> Result<Length, FinError> {
    let sizes = [fin.height, fin.root, fin.length];
    if !sizes.iter().all(|size| size.value.is_finite() && size.value > 0.0) {
        return Err(FinError::NoSize);
    }
    let loads = [strike.force.value, strike.contact.value];
    if !loads.iter().all(|load| load.is_finite() && *load >= 0.0) {
        return Err(FinError::NoLoad);
    }
    let spread = 2.0 * fin.height + strike.contact;
    Ok(if spread < fin.length { spread } else { fin.length })
}

/// The bending stress at the root.
///
/// # Formula
/// σ = 6 F L/(b t²), b as [`bearing_length`].
/// # Valid for
/// Elastic bending of a fin that is no thicker at the root than twice its tip: a stronger taper is worst stressed
/// further out. No notch factor is taken; a root fillet of half the root's thickness or more is assumed. A fin
/// lower than it is thick is no slender beam, and the figure is then an estimate that may err either way.
/// # Source
/// Cantilever bending, Shigley, chapter 3, from memory.
/// # Errors
/// As [`bearing_length`].
pub fn root_stress(fin: &Fin, strike: &Strike) -> Result<Pressure, FinError> {
    let bearing = bearing_length(fin, strike)?;
    let modulus = bearing.value * fin.root.value * fin.root.value / 6.0;
    Ok(Pressure::new::<pascal>(strike.force.value * fin.height.value / modulus))
}

/// How far the tip gives way.
///
/// # Formula
/// δ = F L³/(3 E I), I = b t³/12.
/// # Valid for
/// As [`root_stress`], with the root's thickness all the way up: a fin that thins towards its tip gives way more,
/// and shear and the give of the wall are not counted, so that the figure is on the low side.
/// # Source
/// Cantilever bending, Shigley, chapter 3, from memory.
/// # Errors
/// As [`bearing_length`], and a modulus that is not positive.
pub fn tip_deflection(
    fin: &Fin,
    strike: &Strike,
    elastic_modulus: Pressure,
) -> Result<Length, FinError> {
    let bearing = bearing_length(fin, strike)?;
    let elastic = elastic_modulus.value;
    if !(elastic.is_finite() && elastic > 0.0) {
        return Err(FinError::NoModulus);
    }
    let (height, root) = (fin.height.value, fin.root.value);
    let second_moment = bearing.value * root * root * root / 12.0;
    let reach = height * height * height / (3.0 * elastic * second_moment);
    Ok(Length::new::<meter>(strike.force.value * reach))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::force::newton;
    use uom::si::length::millimeter;
    use uom::si::pressure::{gigapascal, megapascal};

    use super::*;

    fn fin(height: f64, root: f64, length: f64) -> Fin {
        let mm = Length::new::<millimeter>;
        Fin { height: mm(height), root: mm(root), length: mm(length) }
    }

    fn strike(newtons: f64, contact: f64) -> Strike {
        Strike { force: Force::new::<newton>(newtons), contact: Length::new::<millimeter>(contact) }
    }

    fn stress(fin: &Fin, strike: &Strike) -> f64 {
        root_stress(fin, strike).unwrap().get::<megapascal>()
    }

    /// Cantilever bending (Shigley, ch. 3): 1 kN on 25 mm × 40 mm × 6 mm gives 104.16667 MPa, re-derived
    /// elsewhere by integrating the section modulus.
    #[test]
    fn root_stress_is_that_of_a_cantilever() {
        let found = stress(&fin(25.0, 6.0, 40.0), &strike(1000.0, 0.0));
        assert!((found / 104.166_67 - 1.0).abs() < 1.0e-6);
    }

    /// The same fin with E = 72.4 GPa: F L³/(3 E I) = 0.099914313 mm, re-derived elsewhere by integrating
    /// the curvature.
    #[test]
    fn tip_deflection_is_that_of_a_cantilever() {
        let elastic = Pressure::new::<gigapascal>(72.4);
        let found = tip_deflection(&fin(25.0, 6.0, 40.0), &strike(1000.0, 0.0), elastic);
        let millimetres = found.unwrap().get::<millimeter>();
        assert!((millimetres / 0.099_914_313 - 1.0).abs() < 1.0e-4);
    }

    /// Worked independently for the two finned demonstration pans: 6·1500·8/(36·6²) = 55.6 MPa on the low keel,
    /// 6·1500·22/(64·2.5²) = 495 MPa on the tall thin one.
    #[test]
    fn the_keels_of_the_demonstration_pans_bear_56_and_495_megapascals() {
        let blow = strike(1500.0, 20.0);
        assert!((stress(&fin(8.0, 6.0, 160.0), &blow) - 55.555_556).abs() < 1.0e-5);
        assert!((stress(&fin(22.0, 2.5, 160.0), &blow) - 495.0).abs() < 1.0e-9);
    }

    #[test]
    fn a_short_fin_bears_on_its_whole_length_and_a_long_one_on_the_spread() {
        let bearing = |length| {
            bearing_length(&fin(22.0, 2.5, length), &strike(1.0, 20.0)).unwrap().get::<millimeter>()
        };
        assert!((bearing(40.0) - 40.0).abs() < 1.0e-12);
        assert!((bearing(160.0) - 64.0).abs() < 1.0e-12);
    }

    #[test]
    fn no_force_gives_no_stress_and_no_size_gives_no_answer() {
        assert!(stress(&fin(22.0, 2.5, 160.0), &strike(0.0, 20.0)).abs() < 1.0e-12);
        let blow = strike(1500.0, 20.0);
        for bad in [fin(0.0, 2.5, 160.0), fin(22.0, f64::NAN, 160.0), fin(22.0, 2.5, -1.0)] {
            assert_eq!(root_stress(&bad, &blow), Err(FinError::NoSize));
        }
        let good = fin(22.0, 2.5, 160.0);
        for bad in [strike(f64::NAN, 20.0), strike(-1.0, 20.0), strike(1.0, -1.0)] {
            assert_eq!(root_stress(&good, &bad), Err(FinError::NoLoad));
        }
        let no_modulus = tip_deflection(&good, &blow, Pressure::new::<pascal>(0.0));
        assert_eq!(no_modulus, Err(FinError::NoModulus));
    }

    proptest! {
        #[test]
        fn a_root_twice_as_thick_bears_four_times_the_force(
            height in 5.0_f64..40.0,
            root in 1.0_f64..8.0,
            length in 10.0_f64..300.0,
            newtons in 1.0_f64..5000.0,
        ) {
            let thin = stress(&fin(height, root, length), &strike(newtons, 20.0));
            let thick = stress(&fin(height, 2.0 * root, length), &strike(4.0 * newtons, 20.0));
            prop_assert!((thick / thin - 1.0).abs() < 1.0e-12);
        }
    }
}
