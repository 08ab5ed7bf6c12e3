//! Areas of openings that oil passes: bores, slots, and the curtain under a pipe's mouth.
//!
//! Sizes are taken as they come; a size that is not a number gives an area that is not one, and no comparison
//! with that can succeed.

use core::f64::consts::{FRAC_PI_4, PI};

use uom::si::f64::{Area, Length, Velocity, VolumeRate};

/// The area of a circle.
///
/// # Formula
/// A = π/4 d².
/// # Source
/// Elementary geometry.
pub fn circle_area(diameter: Length) -> Area {
    diameter * diameter * FRAC_PI_4
}

/// The area of a rectangle.
///
/// # Formula
/// A = a b.
/// # Source
/// Elementary geometry.
pub fn rectangle_area(length: Length, width: Length) -> Area {
    length * width
}

/// The area of a slot with round ends, `length` over all; `None` when it is shorter than wide.
///
/// # Formula
/// A = (l − w) w + π/4 w²: a rectangle between two half circles.
/// # Source
/// Elementary geometry.
pub fn slot_area(length: Length, width: Length) -> Option<Area> {
    (length >= width).then(|| (length - width) * width + circle_area(width))
}

/// The area of the cylindrical curtain that oil crosses on its way into a mouth held `gap` over a floor.
///
/// # Formula
/// A = π D h. It equals the mouth's own area at h = D/4; below that the gap throttles.
/// # Valid for
/// A round mouth parallel to a floor that reaches well beyond it.
/// # Source
/// Elementary geometry.
pub fn curtain_area(diameter: Length, gap: Length) -> Area {
    diameter * gap * PI
}

/// The mean velocity of a flow through an opening.
///
/// # Formula
/// v = Q / A.
/// # Valid for
/// Any flow; the mean over the area, not the fastest point.
/// # Source
/// Continuity.
pub fn mean_velocity(flow: VolumeRate, area: Area) -> Velocity {
    flow / area
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::area::square_millimeter;
    use uom::si::length::millimeter;

    use super::*;

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn close(area: Area, square_millimetres: f64) -> bool {
        (area.get::<square_millimeter>() / square_millimetres - 1.0).abs() < 1.0e-9
    }

    // Continuity: 20 L/min through 30 mm are 0.4715702 m/s.
    #[test]
    fn twenty_litres_a_minute_go_through_30_mm_at_0_47_metres_a_second() {
        let flow = VolumeRate::new::<uom::si::volume_rate::liter_per_minute>(20.0);
        let velocity = mean_velocity(flow, circle_area(mm(30.0)));
        assert!((velocity.value / 0.471_570_2 - 1.0).abs() < 1.0e-6);
    }

    #[test]
    fn areas_have_their_hand_values() {
        // π/4 · 32² and π · 32 · 12, worked by hand.
        assert!(close(circle_area(mm(32.0)), 804.247_719_3));
        assert!(close(curtain_area(mm(32.0), mm(12.0)), 1_206.371_579));
        assert!(close(rectangle_area(mm(66.0), mm(14.0)), 924.0));
        // 52 · 14 + π/4 · 196 = 728 + 153.938 04.
        assert!(close(slot_area(mm(66.0), mm(14.0)).unwrap(), 881.938_040_03));
    }

    /// π D h = π D²/4 at h/D = 0.25: elementary geometry, worked for a bell of 30 mm.
    #[test]
    fn the_curtain_equals_the_mouth_at_a_quarter_of_its_bore() {
        let bell = mm(30.0);
        let ratio = curtain_area(bell, bell * 0.25) / circle_area(bell);
        assert!((ratio.value - 1.0).abs() < 1.0e-9);
        assert!(curtain_area(bell, bell * 0.249) < circle_area(bell));
    }

    #[test]
    fn a_slot_as_long_as_wide_is_a_circle_and_a_shorter_one_is_none() {
        assert_eq!(slot_area(mm(14.0), mm(14.0)), Some(circle_area(mm(14.0))));
        assert_eq!(slot_area(mm(13.9), mm(14.0)), None);
    }

    proptest! {
        #[test]
        fn a_slot_lies_between_its_circle_and_its_rectangle(
            width in 1.0_f64..100.0,
            longer in 0.0_f64..100.0,
        ) {
            let (length, width) = (mm(width + longer), mm(width));
            let slot = slot_area(length, width).unwrap();
            prop_assert!(slot >= circle_area(width));
            prop_assert!(slot <= rectangle_area(length, width));
        }
    }
}
