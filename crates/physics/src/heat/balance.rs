//! Oil, wall and air in balance: as much heat comes through the wall as leaves it.

use super::fin::{efficiency, surface_efficiency};
use uom::si::f64::{
    Area, HeatTransfer, Length, Mass, MassDensity, Power, Ratio, SpecificHeatCapacity,
    TemperatureInterval, ThermalConductivity, ThermodynamicTemperature, Time, VolumeRate,
};
use uom::si::power::watt;
use uom::si::temperature_interval::kelvin as kelvins;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::time::second;

/// Stefan and Boltzmann's constant, W/(m² K⁴), exact in the SI since 2019 to the digits written.
const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;
/// Halvings of the surface's temperature: enough for every digit.
const HALVINGS: u32 = 60;

/// Fins on the outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fins {
    /// Both faces of all of them, with half a thickness more in height for the tips.
    pub area: Area,
    /// The floor that they stand on.
    pub foot: Area,
    /// Mean thickness.
    pub thickness: Length,
    /// Height.
    pub height: Length,
}

/// A pan as heat sees it.
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    /// Floor and sides.
    pub area: Area,
    /// Mean thickness.
    pub thickness: Length,
    /// Conductivity of its metal.
    pub conductivity: ThermalConductivity,
    /// Emissivity of its outside.
    pub emissivity: Ratio,
    /// Sets of fins.
    pub fins: Vec<Fins>,
}

/// What stands on both sides of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sides {
    /// The oil.
    pub oil: ThermodynamicTemperature,
    /// The air, and what the pan radiates to.
    pub air: ThermodynamicTemperature,
    /// Heat transfer from the oil to the wall.
    pub oil_film: HeatTransfer,
}

/// Films of air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Films {
    /// On floor and sides.
    pub wall: HeatTransfer,
    /// On the fins.
    pub fins: HeatTransfer,
}

/// What is shed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shed {
    /// Heat.
    pub heat: Power,
    /// Temperature of the outside.
    pub surface: ThermodynamicTemperature,
}

/// The heat that oil loses through a wall to the air; the films may depend on how warm the surface is over the air.
///
/// # Formula
/// (T_oil − T_s)/(1/h_oil + t/k) A = (h A_free + h_f η A_f)(T_s − T_air) + ε σ A (T_s⁴ − T_air⁴), solved for T_s.
/// # Valid for
/// Oil no colder than the air. What the pan radiates to is taken to be as cold as the air: an exhaust is not.
/// # Source
/// Energy balance, Incropera, chapters 3 and 5, from memory.
pub fn shed(wall: &Wall, sides: &Sides, films: impl Fn(TemperatureInterval) -> Films) -> Shed {
    let (oil, air) = (sides.oil.value, sides.air.value);
    let inward = wall.area.value
        / (1.0 / sides.oil_film.value + wall.thickness.value / wall.conductivity.value);
    let (mut low, mut high) = (air, oil);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        let warmer = TemperatureInterval::new::<kelvins>(middle - air);
        let leaves = outward(wall, &films(warmer)) * (middle - air);
        let surface = ThermodynamicTemperature::new::<kelvin>(middle);
        let shines = radiation(wall.emissivity, wall.area, surface, sides.air).value;
        if leaves + shines > inward * (oil - middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    let surface = f64::midpoint(low, high);
    Shed {
        heat: Power::new::<watt>(inward * (oil - surface)),
        surface: ThermodynamicTemperature::new::<kelvin>(surface),
    }
}

/// Heat for each kelvin from the outside to the air, W/K.
fn outward(wall: &Wall, films: &Films) -> f64 {
    let mut free = wall.area.value;
    let mut fins = 0.0;
    for set in &wall.fins {
        free -= set.foot.value;
        let one = efficiency(films.fins, wall.conductivity, set.thickness, set.height);
        fins += films.fins.value * one.value * set.area.value;
    }
    films.wall.value * free + fins
}

/// How much of the outside works: one for a bare pan.
///
/// # Formula
/// 1 − Σ (A_f/A_t)(1 − η_f).
/// # Source
/// As [`surface_efficiency`].
pub fn working_share(wall: &Wall, film: HeatTransfer) -> Ratio {
    let feet: Area = wall.fins.iter().map(|set| set.foot).sum();
    let fins: Area = wall.fins.iter().map(|set| set.area).sum();
    let total = wall.area - feet + fins;
    let lost: Ratio = wall
        .fins
        .iter()
        .map(|set| {
            let one = efficiency(film, wall.conductivity, set.thickness, set.height);
            let share = surface_efficiency(set.area, total, one);
            share * -1.0 + Ratio::new::<uom::si::ratio::ratio>(1.0)
        })
        .sum();
    Ratio::new::<uom::si::ratio::ratio>(1.0 - lost.value)
}

/// Heat that a grey surface radiates to surroundings of one temperature.
///
/// # Formula
/// ε σ A (T⁴ − T₀⁴).
/// # Source
/// Stefan and Boltzmann; σ CODATA 2018.
pub fn radiation(
    emissivity: Ratio,
    area: Area,
    surface: ThermodynamicTemperature,
    around: ThermodynamicTemperature,
) -> Power {
    let fourth = |t: ThermodynamicTemperature| t.value * t.value * t.value * t.value;
    let net = fourth(surface) - fourth(around);
    Power::new::<watt>(emissivity.value * STEFAN_BOLTZMANN * area.value * net)
}

/// By how much a heat cools a flow of oil.
///
/// # Formula
/// q/(ρ Q c).
/// # Source
/// Energy balance.
pub fn drop_of(
    heat: Power,
    flow: VolumeRate,
    density: MassDensity,
    capacity: SpecificHeatCapacity,
) -> TemperatureInterval {
    let carried = density.value * flow.value * capacity.value;
    TemperatureInterval::new::<kelvins>(heat.value / carried)
}

/// How long oil and pan take to come within 37 % of a new balance.
///
/// # Formula
/// (m_oil c_oil + m_pan c_pan) ΔT/q.
/// # Valid for
/// One temperature throughout; films that do not change with it.
/// # Source
/// Lumped capacitance, Incropera, chapter 5, from memory.
pub fn time_constant(
    oil: (Mass, SpecificHeatCapacity),
    pan: (Mass, SpecificHeatCapacity),
    heat: Power,
    over_air: TemperatureInterval,
) -> Time {
    let stored = oil.0.value * oil.1.value + pan.0.value * pan.1.value;
    Time::new::<second>(stored * over_air.value / heat.value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::area::square_meter;
    use uom::si::heat_transfer::watt_per_square_meter_kelvin;
    use uom::si::length::millimeter;
    use uom::si::mass::kilogram;
    use uom::si::mass_density::kilogram_per_cubic_meter;
    use uom::si::ratio::ratio;
    use uom::si::specific_heat_capacity::joule_per_kilogram_kelvin;
    use uom::si::thermal_conductivity::watt_per_meter_kelvin;
    use uom::si::thermodynamic_temperature::degree_celsius;
    use uom::si::volume_rate::liter_per_minute;

    fn film(value: f64) -> HeatTransfer {
        HeatTransfer::new::<watt_per_square_meter_kelvin>(value)
    }

    fn celsius(value: f64) -> ThermodynamicTemperature {
        ThermodynamicTemperature::new::<degree_celsius>(value)
    }

    fn bare(emissivity: f64) -> Wall {
        Wall {
            area: Area::new::<square_meter>(0.15),
            thickness: Length::new::<millimeter>(4.0),
            conductivity: ThermalConductivity::new::<watt_per_meter_kelvin>(151.0),
            emissivity: Ratio::new::<ratio>(emissivity),
            fins: Vec::new(),
        }
    }

    fn sides() -> Sides {
        Sides { oil: celsius(100.0), air: celsius(20.0), oil_film: film(100.0) }
    }

    // Three resistances in a row, Incropera, section 3.1: A ΔT/(1/100 + t/k + 1/25).
    #[test]
    fn a_bare_wall_is_three_resistances_in_a_row() {
        let films = |_| Films { wall: film(25.0), fins: film(25.0) };
        let found = shed(&bare(0.0), &sides(), films).heat.value;
        let meant = 0.15 * 80.0 / (0.01 + 0.004 / 151.0 + 0.04);
        assert!((found / meant - 1.0).abs() < 1e-9);
    }

    // The finned surface with its efficiency in the same row: Incropera, equation 3.105.
    #[test]
    fn fins_stand_beside_the_wall_between_them() {
        let fins = Fins {
            area: Area::new::<square_meter>(0.10),
            foot: Area::new::<square_meter>(0.01),
            thickness: Length::new::<millimeter>(3.0),
            height: Length::new::<millimeter>(25.0),
        };
        let wall = Wall { fins: vec![fins], ..bare(0.0) };
        let films = |_| Films { wall: film(25.0), fins: film(25.0) };
        let found = shed(&wall, &sides(), films).heat.value;
        let total = 0.15 - 0.01 + 0.10;
        let outside = 1.0 / (working_share(&wall, film(25.0)).value * 25.0 * total);
        let meant = 80.0 / ((0.01 + 0.004 / 151.0) / 0.15 + outside);
        assert!((found / meant - 1.0).abs() < 1e-9);
        assert!((working_share(&bare(0.0), film(25.0)).value - 1.0).abs() < 1e-15);
    }

    // Stefan-Boltzmann, σ CODATA 2018: 0.15 m² of paint (0.85) at 100 degC in 20 degC radiate 86.777549 W.
    #[test]
    fn a_painted_pan_radiates_the_worked_heat() {
        let area = Area::new::<square_meter>(0.15);
        let found = radiation(Ratio::new::<ratio>(0.85), area, celsius(100.0), celsius(20.0)).value;
        assert!((found / 86.777_549 - 1.0).abs() < 1e-6);
    }

    // Energy balance: 500 W out of 10 L/min of 830 kg/m³ and 2100 J/(kg K) are 1.7211704 K. Lumped capacitance (Incropera,
    // ch. 5): 6 kg of 2100 and 4 kg of 963 J/(kg K) at 9 W/K: 30.466667 min.
    #[test]
    fn drop_and_time_constant_are_the_worked_ones() {
        let capacity = SpecificHeatCapacity::new::<joule_per_kilogram_kelvin>;
        let cooler = drop_of(
            Power::new::<watt>(500.0),
            VolumeRate::new::<liter_per_minute>(10.0),
            MassDensity::new::<kilogram_per_cubic_meter>(830.0),
            capacity(2100.0),
        );
        assert!((cooler.value / 1.721_170_4 - 1.0).abs() < 1e-6);
        let mass = Mass::new::<kilogram>;
        let over = TemperatureInterval::new::<kelvins>(80.0);
        let heat = Power::new::<watt>(9.0 * 80.0);
        let found =
            time_constant((mass(6.0), capacity(2100.0)), (mass(4.0), capacity(963.0)), heat, over);
        assert!((found.value / 60.0 / 30.466_667 - 1.0).abs() < 1e-6);
    }
}
