//! How deep an inlet has to lie below the surface so that no whirl draws air, by published formulas.
//!
//! All of them come from water in sumps and intakes far larger than an oil pan. Oil is some hundred times as thick,
//! and viscosity weakens a whirl, so that they err on the deep side; of plain uncovering, of slosh and of foam they
//! say nothing.

use uom::si::f64::{Acceleration, Length, Ratio, Velocity};
use uom::si::ratio::ratio;

/// The Froude number of an inlet.
///
/// # Formula
/// Fr = V/√(g D), V mean velocity in the mouth, D its bore, g apparent gravity.
/// # Source
/// Definition (ANSI/HI 9.8).
pub fn froude(velocity: Velocity, gravity: Acceleration, bore: Length) -> Ratio {
    Ratio::new::<ratio>(velocity.value / (gravity.value * bore.value).sqrt())
}

/// Submergence of a bell in a pump sump.
///
/// # Formula
/// S = D (1 + 2.3 Fr).
/// # Valid for
/// Water, bells of about 150 mm and more.
/// # Source
/// ANSI/HI 9.8 after Hecker; the form seen in public text, the standard itself not.
pub fn pump_sump(bore: Length, froude: Ratio) -> Length {
    bore * (1.0 + 2.3 * froude.value)
}

/// Submergence of an intake with an approach from one side.
///
/// # Formula
/// S = 2.27 D Fr, which is 0.724 V √D in metres and seconds at standard gravity.
/// # Valid for
/// Water, hydroelectric intakes.
/// # Source
/// Gordon, Water Power 22 (1970), lateral approach; from memory.
pub fn lateral_intake(bore: Length, froude: Ratio) -> Length {
    bore * (0.724 * STANDARD_GRAVITY.sqrt() * froude.value)
}

/// Submergence of a pump intake: one bore more without anything that breaks the whirl.
///
/// # Formula
/// S = D (1 + Fr); D Fr with an anti-vortex device.
/// # Valid for
/// Water, pump intakes.
/// # Source
/// Reddy and Pickford, Water Power, March 1972; from memory.
pub fn pump_intake(bore: Length, froude: Ratio, with_device: bool) -> Length {
    let still = if with_device { 0.0 } else { 1.0 };
    bore * (still + froude.value)
}

/// ISO 80000-3 standard gravity, m/s².
const STANDARD_GRAVITY: f64 = 9.806_65;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::opening::{circle_area, mean_velocity};
    use uom::si::acceleration::meter_per_second_squared;
    use uom::si::f64::VolumeRate;
    use uom::si::length::millimeter;
    use uom::si::volume_rate::liter_per_minute;

    fn pickup() -> (Length, Ratio) {
        let bore = Length::new::<millimeter>(30.0);
        let flow = VolumeRate::new::<liter_per_minute>(20.0);
        let velocity = mean_velocity(flow, circle_area(bore));
        let gravity = Acceleration::new::<meter_per_second_squared>(9.806_65);
        (bore, froude(velocity, gravity, bore))
    }

    fn close(found: Length, millimetres: f64) {
        let found = found.get::<millimeter>();
        assert!((found / millimetres - 1.0).abs() < 1e-6, "{found} is not {millimetres}");
    }

    // 20 L/min through 30 mm, worked with the sources named at each function.
    #[test]
    fn a_bore_of_30_mm_at_20_litres_a_minute_has_the_worked_depths() {
        let (bore, fr) = pickup();
        assert!((fr.value / 0.869_411_52 - 1.0).abs() < 1e-6);
        close(pump_sump(bore, fr), 89.989_395);
        close(lateral_intake(bore, fr), 59.135_129);
        close(pump_intake(bore, fr, false), 56.082_346);
        close(pump_intake(bore, fr, true), 26.082_346);
    }

    // ANSI/HI 9.8 in US units, S = D + 0.574 Q/D^1.5 (constant from memory): 10 in, 2000 gpm ask 46.30 in.
    #[test]
    fn the_sump_formula_agrees_with_its_form_in_inches_and_gallons() {
        let bore = Length::new::<uom::si::length::inch>(10.0);
        let flow = VolumeRate::new::<uom::si::volume_rate::gallon_per_minute>(2000.0);
        let velocity = mean_velocity(flow, circle_area(bore));
        let fr = froude(velocity, Acceleration::new::<meter_per_second_squared>(9.806_65), bore);
        let inches = pump_sump(bore, fr).get::<uom::si::length::inch>();
        assert!((inches / 46.30 - 1.0).abs() < 1e-3, "{inches}");
    }
}
