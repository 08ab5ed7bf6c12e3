//! Air in oil: how fast its bubbles rise, which of them get out, and what they do to the oil's stiffness.

use uom::si::f64::{Acceleration, Length, MassDensity, Pressure, Ratio, Time, Velocity};
use uom::si::length::meter;
use uom::si::velocity::meter_per_second;

/// Gas constant of dry air, J/(kg K) (ISO 2533, from memory).
const AIR: f64 = 287.053;

/// Density of dry air.
///
/// # Formula
/// ρ = p / (R T), R = 287.05 J/(kg K).
/// # Valid for
/// Pressures up to some bar.
/// # Source
/// Ideal gas; the constant of ISO 2533, from memory.
pub fn air_density(
    pressure: Pressure,
    temperature: uom::si::f64::ThermodynamicTemperature,
) -> MassDensity {
    MassDensity::new::<uom::si::mass_density::kilogram_per_cubic_meter>(
        pressure.value / (AIR * temperature.value),
    )
}

/// The oil round a bubble.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Around {
    /// Density of the oil.
    pub oil: MassDensity,
    /// Density of the gas.
    pub gas: MassDensity,
    /// Kinematic viscosity of the oil.
    pub viscosity: uom::si::f64::DiffusionCoefficient,
    /// Gravity.
    pub gravity: Acceleration,
}

/// How fast a small bubble rises whose surface does not move with the oil, as surfactants leave it.
///
/// # Formula
/// v = g d² (ρ − ρ_gas) / (18 ν ρ). A clean surface that moves with the oil makes it up to 1.5 times as fast.
/// # Valid for
/// v d/ν < 1.
/// # Source
/// Stokes; Hadamard and Rybczyński (Clift, Grace and Weber, Bubbles, Drops and Particles).
pub fn bubble_rise(diameter: Length, around: &Around) -> Velocity {
    let square = diameter.value * diameter.value;
    let lift = around.gravity.value * (around.oil - around.gas).value;
    let drag = 18.0 * around.viscosity.value * around.oil.value;
    Velocity::new::<meter_per_second>(lift * square / drag)
}

/// The smallest bubble that climbs a height in a time, with a surface that does not move.
///
/// # Formula
/// d = √(18 ν ρ h / (g (ρ − ρ_gas) t)); √1.5 times smaller for a clean surface.
/// # Valid for
/// As [`bubble_rise`], which [`bubble_reynolds`] tells.
/// # Source
/// Stokes, solved for the diameter.
pub fn smallest_bubble(height: Length, time: Time, around: &Around) -> Length {
    let lift = around.gravity.value * (around.oil - around.gas).value;
    let drag = 18.0 * around.viscosity.value * around.oil.value;
    Length::new::<meter>((drag * height.value / (lift * time.value)).sqrt())
}

/// The Reynolds number of a bubble that climbs a height in a time.
///
/// # Formula
/// Re = (h/t) d / ν.
/// # Source
/// Definition.
pub fn bubble_reynolds(diameter: Length, height: Length, time: Time, around: &Around) -> Ratio {
    height / time * diameter / around.viscosity
}

/// Bulk modulus of oil with free air in it, at a pressure.
///
/// # Formula
/// 1/K = (1 − φ)/K_oil + φ p₀/p², φ the share of air by volume at p₀.
/// # Valid for
/// Air that stays free and is squeezed slowly (isothermal); absolute pressures.
/// # Source
/// Compressibilities of two parts added, Boyle's law for the air (fluid power texts).
pub fn stiffness_with_air(
    of_oil: Pressure,
    air_share: Ratio,
    at: Pressure,
    pressure: Pressure,
) -> Pressure {
    let (share, squeezed) = (air_share.value, pressure.value * pressure.value);
    let gives = (1.0 - share) / of_oil.value + share * at.value / squeezed;
    Pressure::new::<uom::si::pressure::pascal>(1.0 / gives)
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::acceleration::meter_per_second_squared;
    use uom::si::diffusion_coefficient::square_meter_per_second;
    use uom::si::length::millimeter;
    use uom::si::mass_density::kilogram_per_cubic_meter;
    use uom::si::pressure::{bar, gigapascal};
    use uom::si::ratio::ratio;
    use uom::si::time::second;

    fn around() -> Around {
        Around {
            oil: MassDensity::new::<kilogram_per_cubic_meter>(850.0),
            gas: MassDensity::new::<kilogram_per_cubic_meter>(1.2),
            // 0.030 Pa·s.
            viscosity: uom::si::f64::DiffusionCoefficient::new::<square_meter_per_second>(
                0.030 / 850.0,
            ),
            gravity: Acceleration::new::<meter_per_second_squared>(9.806_65),
        }
    }

    /// Stokes (Clift, Grace and Weber), re-derived elsewhere: 0.1 mm in oil of 850 kg/m³ and 30 mPa·s rises by
    /// 0.15414601 mm/s, 2.3121901 mm in 15 s; about 0.465 mm climb 50 mm in that time.
    #[test]
    fn bubbles_rise_as_stokes_says() {
        let rise = bubble_rise(Length::new::<millimeter>(0.1), &around());
        assert!((rise.value * 1e3 / 0.154_146_01 - 1.0).abs() < 1e-3);
        assert!((rise.value * 15e3 / 2.312_190_1 - 1.0).abs() < 1e-3);
        let (height, time) = (Length::new::<millimeter>(50.0), Time::new::<second>(15.0));
        let smallest = smallest_bubble(height, time, &around());
        assert!((smallest.value * 1e3 / 0.465_021_71 - 1.0).abs() < 0.05);
        assert!(bubble_reynolds(smallest, height, time, &around()).value < 1.0);
    }

    /// 5 % of air at 1 bar take 1.5 GPa down to about 0.18 GPa at 10 bar and 0.05 GPa at 5 bar (worked from the two
    /// compressibilities by hand).
    #[test]
    fn five_per_cent_of_air_leave_a_small_share_of_the_stiffness() {
        let with = |p: f64| {
            stiffness_with_air(
                Pressure::new::<gigapascal>(1.5),
                Ratio::new::<ratio>(0.05),
                Pressure::new::<bar>(1.0),
                Pressure::new::<bar>(p),
            )
            .value
        };
        assert!((with(10.0) - 0.18e9).abs() < 0.005e9);
        assert!((with(5.0) - 0.05e9).abs() < 0.002e9);
    }

    /// ISO 2533: 1.225 kg/m³ at 101.325 kPa and 288.15 K (table, from memory).
    #[test]
    fn air_at_sea_level_has_the_standard_density() {
        let t = uom::si::f64::ThermodynamicTemperature::new::<
            uom::si::thermodynamic_temperature::kelvin,
        >(288.15);
        let found = air_density(Pressure::new::<uom::si::pressure::pascal>(101_325.0), t);
        assert!((found.value - 1.225).abs() < 1e-3);
    }
}
