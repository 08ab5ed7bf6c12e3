//! Screwed joints: what a torque makes of a bolt, and what its threads bear.

use crate::thread::Thread;
use uom::si::area::square_meter;
use uom::si::f64::{Area, Force, Length, Pressure, Ratio, Torque};
use uom::si::force::newton;
use uom::si::length::meter;
use uom::si::pressure::pascal;

/// Shear strength over tensile strength of the metal round a thread.
///
/// # Source
/// Common practice, no source.
pub const SHEAR_SHARE: f64 = 0.6;

/// The pull that a torque makes.
///
/// # Formula
/// F = T/(K d).
/// # Valid for
/// A factor that fits surface and lubricant: the scatter is a quarter to a third, and belongs into its uncertainty.
/// # Source
/// Short-form torque equation, Shigley, chapter 8, from memory.
pub fn preload(torque: Torque, factor: Ratio, nominal: Length) -> Force {
    Force::new::<newton>(torque.value / (factor.value * nominal.value))
}

/// The area that shears when the inner thread strips.
///
/// # Formula
/// (π/P) d [P/2 + (d − D2)/√3] times the engaged length.
/// # Valid for
/// Basic sizes: real ones give 5 to 10 % less. A length of engagement that is full thread.
/// # Source
/// FED-STD-H28/2B (1991), formula (2a); ASME B1.1, appendix; formulas from memory.
pub fn inner_shear_area(thread: &Thread, engaged: Length) -> Area {
    let (d, p) = (thread.nominal.value, thread.pitch.value);
    let gap = d - thread.pitch_diameter().value;
    per_length(p, d, gap, engaged)
}

/// The area that shears when the outer thread strips.
///
/// # Formula
/// (π/P) D1 [P/2 + (d2 − D1)/√3] times the engaged length.
/// # Valid for
/// As [`inner_shear_area`].
/// # Source
/// FED-STD-H28/2B (1991), formula (3a); ASME B1.1, appendix; formulas from memory.
pub fn outer_shear_area(thread: &Thread, engaged: Length) -> Area {
    let minor = thread.internal_minor_diameter().value;
    let gap = thread.pitch_diameter().value - minor;
    per_length(thread.pitch.value, minor, gap, engaged)
}

fn per_length(pitch: f64, diameter: f64, gap: f64, engaged: Length) -> Area {
    let root = 3.0_f64.sqrt();
    let each = core::f64::consts::PI / pitch * diameter * (pitch / 2.0 + gap / root);
    Area::new::<square_meter>(each * engaged.value)
}

/// The pull at which the inner thread strips.
///
/// # Formula
/// Shear area of the inner thread times 0.6 of the tensile strength of its metal.
/// # Valid for
/// As [`inner_shear_area`]; the boss is taken as thick enough not to open.
/// # Source
/// FED-STD-H28/2B; the share of 0.6 is common practice, no source.
pub fn strip_force(thread: &Thread, engaged: Length, tensile: Pressure) -> Force {
    let area = inner_shear_area(thread, engaged).value;
    Force::new::<newton>(SHEAR_SHARE * tensile.value * area)
}

/// The engagement at which the bolt breaks before its own thread strips.
///
/// # Formula
/// 2 A_s / (shear area of the outer thread per length).
/// # Valid for
/// An inner thread no weaker than the outer one; where it is weaker, more is needed.
/// # Source
/// FED-STD-H28/2B, length of engagement; ASME B1.1, appendix; from memory.
pub fn engagement_for_full_strength(thread: &Thread) -> Length {
    let each = outer_shear_area(thread, Length::new::<meter>(1.0)).value;
    Length::new::<meter>(2.0 * thread.stress_area().value / each)
}

/// The pull at the proof stress of a property class.
///
/// # Formula
/// A_s S_p.
/// # Source
/// ISO 898-1, from memory.
pub fn proof_force(thread: &Thread, proof: Pressure) -> Force {
    Force::new::<newton>(thread.stress_area().value * proof.value)
}

/// Mean stress under a flat ring.
///
/// # Formula
/// F/(π/4 (D² − d²)). None unless the outer diameter is the larger.
/// # Source
/// Force over area.
pub fn ring_stress(force: Force, inner: Length, outer: Length) -> Option<Pressure> {
    let area =
        core::f64::consts::FRAC_PI_4 * (outer.value * outer.value - inner.value * inner.value);
    (area > 0.0).then(|| Pressure::new::<pascal>(force.value / area))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::thread::parse_designation;
    use uom::si::length::millimeter;
    use uom::si::pressure::megapascal;
    use uom::si::ratio::ratio;
    use uom::si::torque::newton_meter;

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn near(found: f64, meant: f64, share: f64) {
        assert!((found / meant - 1.0).abs() < share, "{found} is not {meant}");
    }

    // FED-STD-H28/2B (1991) formulas (2a) and (3a), the same as in the appendix of ASME B1.1, with basic sizes: M8 has
    // 21.991149 mm² and 15.661237 mm² in each millimetre, checked against a thread library.
    #[test]
    fn shear_areas_of_an_m8_are_those_of_the_standard() {
        let m8 = parse_designation("M8").unwrap();
        near(inner_shear_area(&m8, mm(1.0)).value * 1e6, 21.991_149, 1e-5);
        near(outer_shear_area(&m8, mm(1.0)).value * 1e6, 15.661_237, 1e-5);
    }

    // The same standard's rule of engagement, with the tabulated 36.6 mm²: 4.6739604 mm. The area computed here is
    // 36.609 mm², hence the wider bound.
    #[test]
    fn an_m8_breaks_before_it_strips_from_4_67_mm_on() {
        let m8 = parse_designation("M8").unwrap();
        near(engagement_for_full_strength(&m8).value * 1e3, 4.673_960_4, 5e-4);
    }

    // FED-STD-H28/2B, basic sizes, shear share 0.6 (common practice): M14x1.5 and M6, 12 mm engaged in aluminium of
    // 234 MPa, strip at 64.838702 kN and 27.788015 kN; checked against a thread library.
    #[test]
    fn threads_in_aluminium_strip_at_the_worked_force() {
        let aluminium = Pressure::new::<megapascal>(234.0);
        for (name, kilonewton) in [("M14x1.5", 64.838_702), ("M6", 27.788_015)] {
            let thread = parse_designation(name).unwrap();
            near(strip_force(&thread, mm(12.0), aluminium).value / 1e3, kilonewton, 1e-5);
        }
    }

    // Short-form torque equation (Shigley, ch. 8): K 0.20, M8, 16 kN need 25.6 N m; 25 N m on M14 make 8.9285714 kN,
    // which is 92.907897 MPa under a ring of 14.2 by 18 mm (DIN 7603 A 14 x 18, from memory).
    #[test]
    fn torque_preload_and_ring_stress_are_the_worked_ones() {
        let factor = Ratio::new::<ratio>(0.20);
        let pull = |torque, size| preload(Torque::new::<newton_meter>(torque), factor, mm(size));
        near(pull(25.6, 8.0).value, 16e3, 1e-6);
        near(pull(25.0, 14.0).value, 8_928.571_4, 1e-6);
        let stress = ring_stress(pull(25.0, 14.0), mm(14.2), mm(18.0)).unwrap();
        near(stress.value / 1e6, 92.907_897, 1e-5);
        assert_eq!(ring_stress(pull(25.0, 14.0), mm(18.0), mm(18.0)), None);
    }

    // ISO 898-1, table of proof loads, seen in public text: 11.6 kN (M6) and 21.2 kN (M8), class 8.8, 580 MPa;
    // rounded there to three digits after the area was.
    #[test]
    fn proof_loads_are_those_of_the_table() {
        let proof = Pressure::new::<megapascal>(580.0);
        near(proof_force(&parse_designation("M6").unwrap(), proof).value, 11_600.0, 0.0075);
        near(proof_force(&parse_designation("M8").unwrap(), proof).value, 21_200.0, 0.0075);
    }
}
