//! How long a pan takes to run out of a hole.

use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Acceleration, Area, DiffusionCoefficient, Length, Time};
use uom::si::length::meter;
use uom::si::time::second;

/// Discharge coefficient of a sharp-edged hole.
///
/// # Source
/// White, Fluid Mechanics, from memory; common value.
pub const DISCHARGE: f64 = 0.61;
/// Steps of Simpson's rule over √h: even.
const STEPS: u32 = 40;

/// The hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// Its bore.
    pub bore: Length,
    /// How far the oil runs inside it.
    pub length: Length,
}

/// Standard gravity.
fn gravity() -> Acceleration {
    Acceleration::new::<meter_per_second_squared>(9.806_65)
}

/// Time to fall from one head over the hole to a lower one, with an oil that has no viscosity: the shortest.
///
/// # Formula
/// t = ∫ A(h) dh/(C_d a √(2 g h)) = ∫ 2 A(s²) ds/(C_d a √(2 g)), s = √h.
/// # Valid for
/// Heads over the middle of the hole, the second may be nothing; C_d 0.61.
/// # Source
/// Torricelli with a discharge coefficient, White, Fluid Mechanics, chapter 3, from memory.
pub fn shortest(hole: &Hole, heads: [Length; 2], surface: impl Fn(Length) -> Area) -> Time {
    let speed = DISCHARGE * (2.0 * gravity().value).sqrt();
    over_root_of_head(hole, heads, surface, |h| speed * h.sqrt())
}

/// Time to fall from one head to a lower one, with the friction of a laminar flow through the hole's length added: the
/// longest.
///
/// # Formula
/// h = v²/(2 g C_d²) + 32 ν l v/(g D²), solved for v; t = ∫ A dh/(a v).
/// # Valid for
/// As [`shortest`], down to a head above nothing: with viscosity the last of it never runs out. The flow into the hole
/// and along it are taken one after the other.
/// # Source
/// Hagen and Poiseuille, White, Fluid Mechanics, chapter 6, from memory.
pub fn longest(
    hole: &Hole,
    heads: [Length; 2],
    viscosity: DiffusionCoefficient,
    surface: impl Fn(Length) -> Area,
) -> Time {
    let g = gravity().value;
    let bore = hole.bore.value;
    let square = 1.0 / (2.0 * g * DISCHARGE * DISCHARGE);
    let linear = 32.0 * viscosity.value * hole.length.value / (g * bore * bore);
    let speed = move |h: f64| {
        // The root written so that it keeps its digits for a thick oil.
        2.0 * h / (linear + (linear * linear + 4.0 * square * h).sqrt())
    };
    over_root_of_head(hole, heads, surface, speed)
}

/// ∫ A dh/(a v(h)) from `least` to `head` with h = s², by Simpson's rule.
fn over_root_of_head(
    hole: &Hole,
    [head, least]: [Length; 2],
    surface: impl Fn(Length) -> Area,
    speed: impl Fn(f64) -> f64,
) -> Time {
    let (from, to) = (least.value.sqrt(), head.value.sqrt());
    let step = (to - from) / f64::from(STEPS);
    let bore = core::f64::consts::FRAC_PI_4 * hole.bore.value * hole.bore.value;
    let mut sum = 0.0;
    for k in 0..=STEPS {
        let s = from + step * f64::from(k);
        // At no head 2s/v(s²) has a limit; a head far below any film stands for it.
        let s = if s > 1e-7 { s } else { 1e-7 };
        let weight = match k {
            0 | STEPS => 1.0,
            k if k % 2 == 1 => 4.0,
            _ => 2.0,
        };
        let area = surface(Length::new::<meter>(s * s)).value;
        sum += weight * area * 2.0 * s / (bore * speed(s * s));
    }
    Time::new::<second>(sum * step / 3.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::area::square_meter;
    use uom::si::diffusion_coefficient::square_meter_per_second;
    use uom::si::length::millimeter;

    const HOLE: f64 = 14.0;

    fn hole() -> Hole {
        let mm = Length::new::<millimeter>;
        Hole { bore: mm(HOLE), length: mm(15.0) }
    }

    fn heads(last: f64) -> [Length; 2] {
        [60.0, last].map(Length::new::<millimeter>)
    }

    fn empties(area: impl Fn(f64) -> f64) -> f64 {
        shortest(&hole(), heads(0.0), |h| Area::new::<square_meter>(area(h.value))).value
    }

    // Torricelli with C_d 0.61 (White, Fluid Mechanics, ch. 3), 14 mm bore, 60 mm of oil, each by quadrature elsewhere:
    // straight walls, 0.05 m²: 58.901249 s; floor 340 by 210 mm, walls opening 60 per 90 mm on all sides: 93.126801 s;
    // a cone frustum of 60 mm radius below and 120 mm above: 24.869877 s.
    #[test]
    fn pans_of_three_shapes_empty_in_the_worked_times() {
        let near = |found: f64, meant: f64| assert!((found / meant - 1.0).abs() < 1e-4, "{found}");
        near(empties(|_| 0.05), 58.901_249);
        let slope = 0.666_666_666_7;
        near(empties(|h| (0.34 + slope * h) * (0.21 + slope * h)), 93.126_801);
        let radius = |h: f64| 0.06 + h;
        near(empties(|h| core::f64::consts::PI * radius(h) * radius(h)), 24.869_877);
    }

    // Without viscosity the two laws are one; the last millimetre takes √(1/60) of the time in a pan with straight walls.
    #[test]
    fn without_viscosity_both_laws_are_one() {
        let thin = DiffusionCoefficient::new::<square_meter_per_second>(0.0);
        let straight = |_| Area::new::<square_meter>(0.05);
        let slow = longest(&hole(), heads(1.0), thin, straight).value;
        let fast = shortest(&hole(), heads(1.0), straight).value;
        assert!((slow / fast - 1.0).abs() < 1e-12);
        let meant = empties(|_| 0.05) * (1.0 - (1.0_f64 / 60.0).sqrt());
        assert!((fast / meant - 1.0).abs() < 1e-9);
    }

    // A thick oil follows Hagen and Poiseuille alone: A 32 ν l/(a g D²) ln(h/h₁), straight walls.
    #[test]
    fn a_thick_oil_runs_as_through_a_tube() {
        let (nu, area) = (0.1, 0.05);
        let thick = DiffusionCoefficient::new::<square_meter_per_second>(nu);
        let found = longest(&hole(), heads(1.0), thick, |_| Area::new::<square_meter>(area)).value;
        let bore = core::f64::consts::FRAC_PI_4 * 0.014 * 0.014;
        let meant = area * 32.0 * nu * 0.015 / (bore * 9.806_65 * 0.014 * 0.014) * libm::log(60.0);
        assert!((found / meant - 1.0).abs() < 1e-3, "{found} {meant}");
    }
}
