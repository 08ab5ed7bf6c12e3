//! Oil through the openings of a baffle: the head it takes, and how long a compartment holds.

use uom::si::f64::{
    Acceleration, Area, DiffusionCoefficient, Length, Time, Velocity, Volume, VolumeRate,
};
use uom::si::length::meter;
use uom::si::time::second;
use uom::si::velocity::meter_per_second;

/// Share of the ideal flow that passes a sharp edge.
const SHARP: f64 = 0.61;
/// The same for an opening at least as deep as it is high: a short tube.
const TUBE: f64 = 0.8;
/// Creeping flow through a hole in a thin sheet takes 24 μ Q/d³, which is 12 π/Re velocity pressures.
const CREEPING: f64 = 12.0 * core::f64::consts::PI;
/// Steps of the emptying of a compartment.
const STEPS: u32 = 200;

/// An opening.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opening {
    /// Its area.
    pub area: Area,
    /// Its smaller side, or diameter.
    pub smaller: Length,
    /// Thickness of the sheet.
    pub thickness: Length,
    /// Height of its middle along up.
    pub height: Length,
}

/// The head that a velocity through an opening takes, at least and at most.
///
/// # Formula
/// V²/2g; V²/2g (1/0.61² + 12π/Re) + 32 ν l V/(g d²), Re = V d/ν, d the smaller side, l the thickness.
///
/// # Valid for
/// Any Reynolds number, as bounds: the velocity's own head is always lost; a sharp orifice, a hole in a thin
/// sheet in creeping flow and a tube as long as the sheet is thick, added, take more than any one of them.
///
/// # Source
/// Orifice equation and Poiseuille (White, Fluid Mechanics); Sampson's creeping flow (Happel and Brenner, from memory).
pub fn head_bounds(
    velocity: Velocity,
    opening: &Opening,
    viscosity: DiffusionCoefficient,
    gravity: Acceleration,
) -> [Length; 2] {
    let (v, g, d) = (velocity.value, gravity.value, opening.smaller.value);
    let reynolds = v * d / viscosity.value;
    let own = v * v / (2.0 * g);
    let tube = 32.0 * viscosity.value * opening.thickness.value * v / (g * d * d);
    let most = own * (1.0 / (SHARP * SHARP) + CREEPING / reynolds) + tube;
    [own, most].map(Length::new::<meter>)
}

/// The velocity that a head drives through an opening, at least and at most: [`head_bounds`] solved for it.
///
/// # Formula
/// a V² + b V = H, a = 1/(2g 0.61²), b = 12π ν/(2 g d) + 32 ν l/(g d²); √(2gH).
///
/// # Valid for
/// As [`head_bounds`]; no velocity without a head.
///
/// # Source
/// As [`head_bounds`].
pub fn velocity_bounds(
    head: Length,
    opening: &Opening,
    viscosity: DiffusionCoefficient,
    gravity: Acceleration,
) -> [Velocity; 2] {
    let (h, g, d, nu) = (head.value, gravity.value, opening.smaller.value, viscosity.value);
    if h <= 0.0 {
        return [0.0, 0.0].map(Velocity::new::<meter_per_second>);
    }
    let a = 1.0 / (2.0 * g * SHARP * SHARP);
    let b = CREEPING * nu / (2.0 * g * d) + 32.0 * nu * opening.thickness.value / (g * d * d);
    // Written without a difference of two large numbers.
    let least = 2.0 * h / (b + (b * b + 4.0 * a * h).sqrt());
    [least, (2.0 * g * h).sqrt()].map(Velocity::new::<meter_per_second>)
}

/// How long a compartment takes to fall from one height to another while the pump draws, its neighbour empty.
///
/// # Formula
/// t = ∫ A dh / (Σ k √(h − z) + q), k = C_d a √(2g), C_d 0.61 or, in a sheet at least as thick as the opening is
/// high, 0.8; A dh from the volume below each height.
///
/// # Valid for
/// Thin oil: thick oil leaves more slowly, so that this errs on the short side.
///
/// # Source
/// Torricelli with a constant draw.
pub fn hold_time(
    below: impl Fn(Length) -> Volume,
    [from, to]: [Length; 2],
    openings: &[Opening],
    draw: VolumeRate,
    gravity: Acceleration,
) -> Time {
    if from <= to {
        return Time::new::<second>(0.0);
    }
    let step = (from - to).value / f64::from(STEPS);
    let mut time = 0.0;
    let mut upper = below(from).value;
    for number in 1..=STEPS {
        let height = from.value - f64::from(number) * step;
        let lower = below(Length::new::<meter>(height)).value;
        let middle = height + step / 2.0;
        time += (upper - lower) / (leaving(middle, openings, gravity) + draw.value);
        upper = lower;
    }
    Time::new::<second>(time)
}

fn leaving(height: f64, openings: &[Opening], gravity: Acceleration) -> f64 {
    let of_one = |opening: &Opening| {
        let head = height - opening.height.value;
        let share = if opening.thickness >= opening.smaller { TUBE } else { SHARP };
        let speed = (2.0 * gravity.value * crate::columns::positive(head)).sqrt();
        share * opening.area.value * speed
    };
    openings.iter().map(of_one).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::opening::circle_area;
    use uom::si::acceleration::meter_per_second_squared;
    use uom::si::diffusion_coefficient::square_meter_per_second;
    use uom::si::length::millimeter;
    use uom::si::volume::cubic_meter;
    use uom::si::volume_rate::liter_per_minute;

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn hole(area: Area, thickness: f64) -> Opening {
        Opening { area, smaller: mm(20.0), thickness: mm(thickness), height: mm(0.0) }
    }

    fn standard_gravity() -> Acceleration {
        Acceleration::new::<meter_per_second_squared>(9.806_65)
    }

    fn nu(mm2: f64) -> DiffusionCoefficient {
        DiffusionCoefficient::new::<square_meter_per_second>(mm2 * 1e-6)
    }

    // Orifice equation (White, Fluid Mechanics; Idelchik sec. 4), C_d 0.61: 20 L/min through 20 mm take 154.2579 mm
    // at 1.061033 m/s; 40 mm drive 10.18442 L/min. Thin oil, no thickness: only the orifice is left.
    #[test]
    fn a_sharp_hole_in_thin_oil_is_an_orifice() {
        let area = circle_area(mm(20.0));
        let velocity = VolumeRate::new::<liter_per_minute>(20.0) / area;
        assert!((velocity.value / 1.061_033 - 1.0).abs() < 1e-6);
        let [least, most] = head_bounds(velocity, &hole(area, 0.0), nu(1e-6), standard_gravity());
        assert!((most.get::<millimeter>() / 154.257_9 - 1.0).abs() < 1e-6);
        assert!(least < most);
        let [slow, _] = velocity_bounds(mm(40.0), &hole(area, 0.0), nu(1e-6), standard_gravity());
        let flow = (slow * area).get::<liter_per_minute>();
        assert!((flow / 10.184_42 - 1.0).abs() < 1e-6);
    }

    // Sampson against Idelchik's 30/(f² Re) for Re < 10 (text seen): of one hole, the two differ by a quarter.
    #[test]
    fn creeping_flow_agrees_with_a_handbook_within_its_spread() {
        assert!((CREEPING / 30.0 - 1.0).abs() < 0.27);
    }

    // Hagen-Poiseuille (White, ch. 6): 10 L/min of 3000 mm²/s through 120 mm of 22 mm take 9079.0389 Pa at
    // 870 kg/m³; the tube's part of the head is that over ρ g.
    #[test]
    fn a_deep_hole_in_thick_oil_is_a_tube() {
        let area = circle_area(mm(22.0));
        let velocity = VolumeRate::new::<liter_per_minute>(10.0) / area;
        let deep = Opening { area, smaller: mm(22.0), thickness: mm(120.0), height: mm(0.0) };
        let thin = Opening { thickness: mm(0.0), ..deep };
        let of = |o: &Opening| head_bounds(velocity, o, nu(3000.0), standard_gravity())[1];
        let tube = (of(&deep) - of(&thin)).value * 870.0 * 9.806_65;
        assert!((tube / 9_079.038_9 - 1.0).abs() < 1e-6);
    }

    #[test]
    fn head_and_velocity_are_each_other_turned_round() {
        let opening = hole(circle_area(mm(20.0)), 3.0);
        let [slow, fast] = velocity_bounds(mm(25.0), &opening, nu(30.0), standard_gravity());
        let back = head_bounds(slow, &opening, nu(30.0), standard_gravity())[1];
        assert!((back.value / 0.025 - 1.0).abs() < 1e-12);
        assert!(
            (head_bounds(fast, &opening, nu(30.0), standard_gravity())[0].value / 0.025 - 1.0)
                .abs()
                < 1e-12
        );
    }

    // Torricelli, closed form: 0.02 m² through 2 cm² from 60 to 30 mm takes 5.3114093 s, and 1.9128019 s with the pump
    // drawing 12 L/min as well.
    #[test]
    fn a_compartment_holds_as_long_as_the_closed_form_says() {
        let area = Area::new::<uom::si::area::square_centimeter>(2.0);
        let below = |h: Length| Volume::new::<cubic_meter>(0.02 * h.value);
        let time = |litres: f64| {
            let draw = VolumeRate::new::<liter_per_minute>(litres);
            let heights = [mm(60.0), mm(30.0)];
            hold_time(below, heights, &[hole(area, 3.0)], draw, standard_gravity()).value
        };
        assert!((time(0.0) / 5.311_409_3 - 1.0).abs() < 1e-5);
        assert!((time(12.0) / 1.912_801_9 - 1.0).abs() < 1e-5);
    }
}
