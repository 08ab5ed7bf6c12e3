//! Films of air over a plate: forced and free.

use super::air::Air;
use uom::si::f64::{HeatTransfer, Length, Ratio, TemperatureInterval, Velocity};
use uom::si::heat_transfer::watt_per_square_meter_kelvin;
use uom::si::ratio::ratio;

/// Mean Nusselt number of a laminar stream along a plate.
///
/// # Formula
/// 0.664 Re^½ Pr^⅓.
/// # Valid for
/// Re below 5·10⁵, Pr above 0.6; a stream that is stirred carries away more.
/// # Source
/// Incropera, chapter 7, from memory; held against published solutions.
pub fn laminar(reynolds: Ratio, prandtl: Ratio) -> Ratio {
    Ratio::new::<ratio>(0.664 * reynolds.value.sqrt() * libm::cbrt(prandtl.value))
}

/// Mean Nusselt number of a stream that is turbulent from the edge on.
///
/// # Formula
/// 0.037 Re^0.8 Pr^⅓.
/// # Valid for
/// Re up to 10⁸. Used as an upper bound: neighbours that shade the plate are not counted.
/// # Source
/// Incropera, chapter 7, from memory; the mixed form is held against a published solution.
pub fn turbulent(reynolds: Ratio, prandtl: Ratio) -> Ratio {
    Ratio::new::<ratio>(0.037 * libm::pow(reynolds.value, 0.8) * libm::cbrt(prandtl.value))
}

/// Mean Nusselt number of a hot plate that faces down in still air.
///
/// # Formula
/// 0.27 Ra^¼ with the length area over perimeter.
/// # Valid for
/// Ra from 10⁵ to 10¹⁰.
/// # Source
/// McAdams, in Incropera, equation 9.32 of the 6th edition, from memory; later editions give 0.52 Ra^0.2.
pub fn facing_down(rayleigh: Ratio) -> Ratio {
    Ratio::new::<ratio>(0.27 * rayleigh.value.sqrt().sqrt())
}

/// Reynolds number of a stream over a length.
pub fn reynolds(speed: Velocity, length: Length, air: &Air) -> Ratio {
    Ratio::new::<ratio>(speed.value * length.value / air.viscosity.value)
}

/// Rayleigh number of a warm surface over a length.
///
/// # Formula
/// g ΔT L³/(T ν²) Pr.
/// # Source
/// Definition; air as an ideal gas.
pub fn rayleigh(warmer: TemperatureInterval, length: Length, air: &Air) -> Ratio {
    let cube = length.value * length.value * length.value;
    let nu = air.viscosity.value;
    let grashof = 9.806_65 * warmer.value * cube / (air.temperature.value * nu * nu);
    Ratio::new::<ratio>(grashof * air.prandtl.value)
}

/// The film of a Nusselt number over a length.
pub fn film(nusselt: Ratio, length: Length, air: &Air) -> HeatTransfer {
    let film = nusselt.value * air.conductivity.value / length.value;
    HeatTransfer::new::<watt_per_square_meter_kelvin>(film)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(value: f64) -> Ratio {
        Ratio::new::<ratio>(value)
    }

    // Laminar plate: Incropera, example 7.1, from memory (10 m/s, 0.5 m, 5.21e-4 m²/s, Pr 0.687: 57.4); Cengel, Heat
    // Transfer, problem 7-21, published solution seen (3 m/s, 1.2 m, 1.896e-5 m²/s, Pr 0.7202: 259.7).
    #[test]
    fn a_laminar_plate_has_the_published_nusselt_numbers() {
        let first = laminar(number(10.0 * 0.5 / 5.21e-4), number(0.687)).value;
        assert!((first - 57.4).abs() < 0.1);
        let second = laminar(number(3.0 * 1.2 / 1.896e-5), number(0.7202)).value;
        assert!((second / 259.7 - 1.0).abs() < 0.002);
    }

    // Cengel and Ghajar, problem 7-129, published solution seen: 8 m/s, 6 m, 2.548e-5 m²/s, Pr 0.7154, mixed: 2687, that
    // is the turbulent form less 871 Pr^⅓.
    #[test]
    fn a_turbulent_plate_has_the_published_nusselt_number() {
        let pr = number(0.7154);
        let mixed =
            turbulent(number(8.0 * 6.0 / 2.548e-5), pr).value - 871.0 * libm::cbrt(pr.value);
        assert!((mixed / 2687.0 - 1.0).abs() < 0.002);
    }

    // Incropera, equation 9.32 of the 6th edition (McAdams): Ra 1e7 gives 15.183216.
    #[test]
    fn a_plate_facing_down_has_the_worked_nusselt_number() {
        assert!((facing_down(number(1e7)).value / 15.183_216 - 1.0).abs() < 1e-6);
    }
}
