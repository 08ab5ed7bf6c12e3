//! Straight fins.

use uom::si::f64::{Area, HeatTransfer, Length, Ratio, ThermalConductivity};
use uom::si::length::meter;
use uom::si::ratio::ratio;

/// How much of a fin works: heat shed over what it would shed if all of it were as warm as its foot.
///
/// # Formula
/// tanh(m L)/(m L), m = √(2 h/(k t)), L height plus half the thickness.
/// # Valid for
/// h t/k below 0.1; one film over the whole fin; for a fin that thins out, its mean thickness.
/// # Source
/// Incropera, section 3.6, equation 3.94 of the 6th edition, from memory.
pub fn efficiency(
    film: HeatTransfer,
    conductivity: ThermalConductivity,
    thickness: Length,
    height: Length,
) -> Ratio {
    let corrected = height.value + thickness.value / 2.0;
    let m = (2.0 * film.value / (conductivity.value * thickness.value)).sqrt();
    let reach = m * corrected;
    Ratio::new::<ratio>(if reach > 0.0 { libm::tanh(reach) / reach } else { 1.0 })
}

/// How much of a finned surface works.
///
/// # Formula
/// 1 − (A_f/A_t)(1 − η_f), A_f all fins, A_t fins and what is left between them.
/// # Source
/// Incropera, equation 3.102 of the 6th edition, from memory.
pub fn surface_efficiency(fins: Area, total: Area, one: Ratio) -> Ratio {
    Ratio::new::<ratio>(1.0 - fins.value / total.value * (1.0 - one.value))
}

/// The spacing of upright channels that sheds most heat from a given area in still air.
///
/// # Formula
/// 2.714 L/Ra^¼, Ra over the length of the channel.
/// # Valid for
/// Fins that stand upright, open below and above, all at one temperature. For fins that hang under a floor it only
/// indicates: their channels are closed above, and want more room.
/// # Source
/// Bar-Cohen and Rohsenow, Journal of Heat Transfer 106 (1984), from memory.
pub fn best_spacing(length: Length, rayleigh: Ratio) -> Length {
    Length::new::<meter>(2.714 * length.value / rayleigh.value.sqrt().sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::area::square_meter;
    use uom::si::heat_transfer::watt_per_square_meter_kelvin;
    use uom::si::length::millimeter;
    use uom::si::thermal_conductivity::watt_per_meter_kelvin;

    fn one() -> Ratio {
        let mm = Length::new::<millimeter>;
        let film = HeatTransfer::new::<watt_per_square_meter_kelvin>(50.0);
        efficiency(
            film,
            ThermalConductivity::new::<watt_per_meter_kelvin>(170.0),
            mm(3.0),
            mm(25.0),
        )
    }

    // Incropera, section 3.6, equation 3.94 (6th ed.): k 170, h 50, 3 by 25 mm: 0.95649588; the exact solution with a tip
    // that sheds heat (table 3.4 case A) is 0.95650316.
    #[test]
    fn a_straight_fin_works_as_the_textbook_has_it() {
        assert!((one().value / 0.956_495_88 - 1.0).abs() < 1e-7);
        assert!((one().value / 0.956_503_16 - 1.0).abs() < 1e-5);
    }

    // Incropera, equation 3.102 (6th ed.): 12 of these fins, 0.30 m long, on a floor of 0.30 by 0.20 m: 0.96541423.
    #[test]
    fn twelve_of_them_make_the_worked_surface() {
        let square = Area::new::<square_meter>;
        let fins = 12.0 * 2.0 * (0.025 + 0.0015) * 0.30;
        let total = fins + 0.30 * 0.20 - 12.0 * 0.003 * 0.30;
        let found = surface_efficiency(square(fins), square(total), one()).value;
        assert!((found / 0.965_414_23 - 1.0).abs() < 1e-7, "{found}");
    }

    // Bar-Cohen and Rohsenow (1984), from memory, worked: 0.10 m, β 0.003, 60 K, 1.8e-5 and 2.6e-5 m²/s: 6.1584726 mm.
    #[test]
    fn upright_plates_want_the_worked_spacing() {
        let ra = 9.806_65 * 0.003 * 60.0 * 1e-3 / (1.8e-5 * 2.6e-5);
        let found = best_spacing(Length::new::<millimeter>(100.0), Ratio::new::<ratio>(ra));
        assert!((found.value * 1e3 / 6.158_472_6 - 1.0).abs() < 1e-3);
    }
}
