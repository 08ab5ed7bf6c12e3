//! A flat plate held at its edges and pressed in the middle.

use core::f64::consts::PI;
use uom::si::f64::{Force, Length, Pressure};
use uom::si::length::meter;

/// Poisson's ratio of the metals that plates are made of.
const POISSON: f64 = 0.3;
/// Odd terms of the series in each direction; the rest is less than 0.01 %.
const TERMS: u32 = 60;

/// A rectangular plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plate {
    /// The two lengths between its supports.
    pub size: [Length; 2],
    /// Its thickness.
    pub thickness: Length,
    /// Young's modulus.
    pub modulus: Pressure,
}

/// How far the middle of a simply supported plate gives way under a force there; none without sizes or modulus.
///
/// # Formula
/// w = 4 W/(π⁴ D a b) ΣΣ 1/(m²/a² + n²/b²)² over odd m and n, D = E t³/(12 (1 − ν²)), ν = 0.3.
/// # Valid for
/// A flat plate without folds and ribs, and w below half of the thickness. Beyond, the plate pulls like a skin and
/// gives way less; held edges, folds and ribs make it stiffer too: the figure errs on the large side in all of these.
/// # Source
/// Navier's solution, Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, article 34, from memory.
pub fn deflection_at_middle(plate: &Plate, force: Force) -> Option<Length> {
    let [a, b] = plate.size.map(|side| side.value);
    let (t, modulus) = (plate.thickness.value, plate.modulus.value);
    if ![a, b, t, modulus].iter().all(|part| part.is_finite() && *part > 0.0) {
        return None;
    }
    let stiffness = modulus * t * t * t / (12.0 * (1.0 - POISSON * POISSON));
    let odd = |k: u32| f64::from(2 * k + 1);
    let mut sum = 0.0;
    // The smallest terms first, so that none is lost.
    for m in (0..TERMS).rev() {
        for n in (0..TERMS).rev() {
            let waves = odd(m) * odd(m) / (a * a) + odd(n) * odd(n) / (b * b);
            sum += 1.0 / (waves * waves);
        }
    }
    Some(Length::new::<meter>(4.0 * force.value / (PI * PI * PI * PI * stiffness * a * b) * sum))
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::force::newton;
    use uom::si::length::millimeter;
    use uom::si::pressure::gigapascal;

    fn bends(a: f64, b: f64, t: f64, newtons: f64) -> f64 {
        let mm = Length::new::<millimeter>;
        let plate = Plate {
            size: [mm(a), mm(b)],
            thickness: mm(t),
            modulus: Pressure::new::<gigapascal>(205.0),
        };
        deflection_at_middle(&plate, Force::new::<newton>(newtons)).unwrap().value
    }

    // Roark's Formulas for Stress and Strain, 7th ed., table 11.4 case 1b, seen in public text: y = α W b²/(E t³) with
    // α 0.1267, 0.1621 and 0.1805 for a/b = 1, 1.4 and 2.
    #[test]
    fn coefficients_are_those_of_the_handbook() {
        for (shape, meant) in [(1.0, 0.1267), (1.4, 0.1621), (2.0, 0.1805)] {
            let found = bends(400.0 * shape, 400.0, 6.0, 1000.0);
            let alpha = found * 205e9 * (0.006 * 0.006 * 0.006) / (1000.0 * 0.16);
            assert!((alpha - meant).abs() < 5e-4, "{shape}: {alpha}");
        }
    }

    // The same table at a/b = 1.2: steel, 480 by 400 by 6 mm, 4 kN in the middle, 2.136224 mm.
    #[test]
    fn a_steel_skid_plate_gives_way_by_the_worked_2_14_mm() {
        assert!((bends(480.0, 400.0, 6.0, 4000.0) * 1e3 / 2.136_224 - 1.0).abs() < 0.005);
        let turned = bends(400.0, 480.0, 6.0, 4000.0) / bends(480.0, 400.0, 6.0, 4000.0);
        assert!((turned - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_plate_without_thickness_has_no_answer() {
        let mm = Length::new::<millimeter>;
        let modulus = Pressure::new::<gigapascal>(205.0);
        let plate = Plate { size: [mm(400.0), mm(400.0)], thickness: mm(0.0), modulus };
        assert_eq!(deflection_at_middle(&plate, Force::new::<newton>(1.0)), None);
    }
}
