//! What the way from an inlet's mouth to the pump takes of the pressure, in thin hot oil and in thick cold oil.

use crate::opening::{circle_area, mean_velocity};
use uom::si::f64::{
    Acceleration, DiffusionCoefficient, Length, MassDensity, Pressure, Ratio, Velocity, VolumeRate,
};
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;

/// Up to this Reynolds number a pipe's flow is laminar, and from the second one on it is turbulent.
const LAMINAR: f64 = 2300.0;
const TURBULENT: f64 = 4000.0;
/// Newton's method doubles the digits of 1/√f in each pass.
const PASSES: u32 = 30;
/// One inch, in metres.
const INCH: f64 = 0.0254;

/// A stream of oil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stream {
    /// How much flows.
    pub flow: VolumeRate,
    /// The oil's density.
    pub density: MassDensity,
    /// Its kinematic viscosity.
    pub viscosity: DiffusionCoefficient,
}

impl Stream {
    /// Mean velocity in a bore.
    pub fn velocity(&self, bore: Length) -> Velocity {
        mean_velocity(self.flow, circle_area(bore))
    }

    /// Half the density times the square of the velocity in a bore.
    pub fn velocity_pressure(&self, bore: Length) -> Pressure {
        let velocity = self.velocity(bore).value;
        Pressure::new::<pascal>(self.density.value * velocity * velocity / 2.0)
    }

    /// The Reynolds number V D/ν in a bore.
    pub fn reynolds(&self, bore: Length) -> Ratio {
        self.velocity(bore) * bore / self.viscosity
    }
}

/// A loss that depends on the Reynolds number: K = K₁/Re + K∞, K∞ times (1 + 1 in/D) where `grows` is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoK {
    /// K₁.
    pub slow: f64,
    /// K∞.
    pub fast: f64,
    /// Whether a small bore makes K∞ larger, as in a bend.
    pub grows: bool,
}

/// A sharp-edged way into a pipe.
pub const ENTRANCE: TwoK = TwoK { slow: 160.0, fast: 0.5, grows: false };
/// A right angle, middle radius of one bore.
pub const BEND: TwoK = TwoK { slow: 800.0, fast: 0.25, grows: true };
/// A right angle, middle radius of one and a half bores.
pub const LONG_BEND: TwoK = TwoK { slow: 800.0, fast: 0.20, grows: true };
/// A turn by 45 degrees.
pub const HALF_BEND: TwoK = TwoK { slow: 500.0, fast: 0.20, grows: true };
/// A right angle without a radius.
pub const MITRE: TwoK = TwoK { slow: 1000.0, fast: 1.15, grows: true };

/// The loss coefficient of a fitting.
///
/// # Formula
/// K = K₁/Re + K∞ (1 + 25.4 mm/D) for bends, K₁/Re + K∞ for an entrance.
/// # Valid for
/// Any Reynolds number.
/// # Source
/// Hooper, Chemical Engineering, August 1981 (2-K method); the table of constants from memory.
pub fn loss_coefficient(fitting: TwoK, reynolds: Ratio, bore: Length) -> Ratio {
    let scale = if fitting.grows { 1.0 + INCH / bore.value } else { 1.0 };
    Ratio::new::<ratio>(fitting.slow / reynolds.value + fitting.fast * scale)
}

/// Darcy's friction factor of a pipe, as the least and the most it can be: two where laminar and turbulent flow are
/// both possible, from Re = 2300 to 4000.
///
/// # Formula
/// 64/Re; 1/√f = −2 log₁₀(ε/(3.7 D) + 2.51/(Re √f)).
/// # Valid for
/// Round pipes, away from the entrance. Newton's method on x = 1/√f.
/// # Source
/// Hagen and Poiseuille; Colebrook and White (White, Fluid Mechanics, ch. 6).
pub fn friction_factor(reynolds: Ratio, relative_roughness: Ratio) -> [Ratio; 2] {
    let (re, rough) = (reynolds.value, relative_roughness.value);
    let laminar = Ratio::new::<ratio>(64.0 / re);
    if re <= LAMINAR {
        return [laminar, laminar];
    }
    let mut x = 7.0;
    for _ in 0..PASSES {
        let inside = rough / 3.7 + 2.51 * x / re;
        let miss = x + 2.0 * libm::log10(inside);
        let slope = 1.0 + 2.0 * core::f64::consts::LOG10_E * (2.51 / re) / inside;
        x -= miss / slope;
    }
    let turbulent = Ratio::new::<ratio>(1.0 / (x * x));
    if re >= TURBULENT { [turbulent, turbulent] } else { [laminar, turbulent] }
}

/// The way from a mouth to the pump.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Bore of the mouth.
    pub mouth: Length,
    /// Length along the middle of the line.
    pub length: Length,
    /// Its bore.
    pub bore: Length,
    /// What bends the flow on the way.
    pub bends: Vec<TwoK>,
}

/// What the way from the oil at rest to the pump takes, the velocity the oil has there included; least and most.
///
/// # Formula
/// ½ρV_m² K_entrance + ½ρV² (1 + K_entrance + Σ K_bends + f L/D), V_m in the mouth, V in the line.
/// # Valid for
/// A smooth line. The mouth and the line each count as an entrance, as with a filter between them; where the line
/// goes on from the mouth without a step, this errs on the high side.
/// # Source
/// Bernoulli with losses (White, Fluid Mechanics, ch. 3 and 6).
pub fn line_loss(stream: &Stream, line: &Line) -> [Pressure; 2] {
    let at_mouth = stream.velocity_pressure(line.mouth)
        * loss_coefficient(ENTRANCE, stream.reynolds(line.mouth), line.mouth);
    let reynolds = stream.reynolds(line.bore);
    let fittings: f64 = core::iter::once(&ENTRANCE)
        .chain(&line.bends)
        .map(|fitting| loss_coefficient(*fitting, reynolds, line.bore).value)
        .sum();
    friction_factor(reynolds, Ratio::new::<ratio>(0.0)).map(|friction| {
        let wall = friction.value * (line.length / line.bore).value;
        at_mouth + stream.velocity_pressure(line.bore) * (1.0 + fittings + wall)
    })
}

/// What a filter takes, from what its maker states at one flow and viscosity.
///
/// # Formula
/// Δp = Δp₀ (Q ν)/(Q₀ ν₀): creeping flow through a fine mesh or felt.
/// # Valid for
/// A clean filter in laminar flow; the change of the oil's density (some 6 % from hot to cold) is not counted.
/// # Source
/// Darcy's law.
pub fn filter_loss(stream: &Stream, drop: Pressure, at: &Stream) -> Pressure {
    drop * ((stream.flow / at.flow).value * (stream.viscosity / at.viscosity).value)
}

/// The pressure that it takes to speed up the oil in a line.
///
/// # Formula
/// Δp = ρ L dV/dt.
/// # Source
/// Unsteady Bernoulli equation.
pub fn inertia(density: MassDensity, length: Length, gain: Acceleration) -> Pressure {
    density * length * gain
}

/// The pressure of a column of oil.
///
/// # Formula
/// Δp = ρ g h, g apparent gravity and h along it, negative for a lift.
/// # Source
/// Hydrostatics.
pub fn head(density: MassDensity, gravity: Acceleration, height: Length) -> Pressure {
    density * gravity * height
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::acceleration::meter_per_second_squared;
    use uom::si::diffusion_coefficient::square_meter_per_second;
    use uom::si::length::millimeter;
    use uom::si::mass_density::kilogram_per_cubic_meter;
    use uom::si::volume_rate::liter_per_minute;

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn stream(litres: f64, density: f64, mm2: f64) -> Stream {
        Stream {
            flow: VolumeRate::new::<liter_per_minute>(litres),
            density: MassDensity::new::<kilogram_per_cubic_meter>(density),
            viscosity: DiffusionCoefficient::new::<square_meter_per_second>(mm2 * 1e-6),
        }
    }

    fn near(found: f64, meant: f64, share: f64) {
        assert!((found / meant - 1.0).abs() < share, "{found} is not {meant}");
    }

    // Hagen-Poiseuille (White, ch. 6), re-derived elsewhere: 10 L/min of 870 kg/m³ and 3000 mm²/s through 120 mm of
    // 22 mm take 9079.0389 Pa at Re = 3.2152514.
    #[test]
    fn cold_oil_takes_what_poiseuille_says() {
        let cold = stream(10.0, 870.0, 3000.0);
        let reynolds = cold.reynolds(mm(22.0));
        near(reynolds.value, 3.215_251_4, 1e-6);
        let [least, most] = friction_factor(reynolds, Ratio::new::<ratio>(0.0));
        assert_eq!(least, most);
        let loss = cold.velocity_pressure(mm(22.0)).value * least.value * 120.0 / 22.0;
        near(loss, 9_079.038_9, 1e-6);
    }

    // Moody diagram / Colebrook-White (White, ch. 6): Re = 1e5, ε/D = 1e-4 gives 0.01851.
    #[test]
    fn a_rough_pipe_has_colebrooks_factor() {
        let [_, f] = friction_factor(Ratio::new::<ratio>(1e5), Ratio::new::<ratio>(1e-4));
        assert!((f.value - 0.018_51).abs() < 2e-5, "{}", f.value);
    }

    #[test]
    fn between_laminar_and_turbulent_both_are_told() {
        let [least, most] = friction_factor(Ratio::new::<ratio>(3000.0), Ratio::new::<ratio>(0.0));
        assert!(most > least * 1.5);
    }

    // Hooper (1981): a screwed right angle of 20 mm at Re = 100 has K = 8.908 (K₁ 800, K∞ 0.40).
    #[test]
    fn an_elbow_has_hoopers_coefficient() {
        let elbow = TwoK { slow: 800.0, fast: 0.40, grows: true };
        near(loss_coefficient(elbow, Ratio::new::<ratio>(100.0), mm(20.0)).value, 8.908, 1e-6);
    }

    // Unsteady Bernoulli: 850 kg/m³, 120 mm, 0.5 m/s in 50 ms take 1020 Pa.
    #[test]
    fn oil_that_is_sped_up_takes_its_inertia() {
        let gain = Acceleration::new::<meter_per_second_squared>(10.0);
        let density = MassDensity::new::<kilogram_per_cubic_meter>(850.0);
        near(inertia(density, mm(120.0), gain).value, 1020.0, 1e-9);
    }

    // Bernoulli with losses (White, ch. 3), worked: 40 L/min through 22 mm, 850 kg/m³, 30 mm of oil over the inlet,
    // the pump 80 mm above it, K 0.5, no wall friction, 10 m/s² over 120 mm, at 101325 Pa: 97.927445 kPa.
    #[test]
    fn the_worked_pressure_at_the_pump_comes_out() {
        let fast = stream(40.0, 850.0, 1e-9);
        let gravity = Acceleration::new::<meter_per_second_squared>(9.806_65);
        let gain = Acceleration::new::<meter_per_second_squared>(10.0);
        // A wide mouth and no length: the entrance of the line alone remains.
        let line = Line { mouth: mm(1e6), length: mm(0.0), bore: mm(22.0), bends: Vec::new() };
        let [_, loss] = line_loss(&fast, &line);
        let found = 101_325.0 + head(fast.density, gravity, mm(30.0 - 80.0)).value
            - loss.value
            - inertia(fast.density, mm(120.0), gain).value;
        near(found, 97_927.445, 1e-6);
    }

    // Darcy: twice the flow of oil three times as thick takes six times the drop.
    #[test]
    fn a_filter_takes_more_of_thick_oil() {
        let drop = Pressure::new::<pascal>(200.0);
        let found = filter_loss(&stream(40.0, 850.0, 21.0), drop, &stream(20.0, 850.0, 7.0));
        near(found.value, 1200.0, 1e-12);
    }
}
