//! Where up is for the oil: climbs, side slopes and accelerations as a direction in the pan frame.

use crate::document::duty::{Side, State};
use glam::DVec3;
use uom::si::f64::Angle;

/// ISO 80000-3 standard gravity, in m/s².
pub(super) const STANDARD_GRAVITY: f64 = 9.806_65;

/// Apparent gravity in the pan frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Attitude {
    /// Unit vector up against apparent gravity: the normal of the oil surface at rest.
    pub up: DVec3,
    /// Size of apparent gravity in units of standard gravity.
    pub gravity_ratio: f64,
    /// Up in the vehicle frame (gravity alone) plus acceleration over standard gravity, not normalised.
    pub in_vehicle: DVec3,
}

/// The attitude of a state for a pan whose rail stands nose up by `nose_up` against the road.
///
/// # Formula
/// Up in the vehicle frame is (sin θ, ± sin φ, √(1 − sin²θ − sin²φ)) for climb θ and side slope φ, + with the
/// left side high; the surface normal is that plus a/g for an acceleration a of the vehicle, since apparent
/// gravity is gravity minus acceleration. Pan axes in the vehicle frame: x (cos ν, 0, sin ν), z (−sin ν, 0, cos ν).
///
/// # Source
/// Hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); directions of ISO 8855, from memory.
pub(crate) fn attitude(state: &State, nose_up: Angle) -> Attitude {
    let climb = state.climb.map_or(0.0, |slope| {
        let sine = libm::sin(slope.angle.value.value);
        if slope.descent { -sine } else { sine }
    });
    let side = state.side_slope.map_or(0.0, |slope| {
        let sine = libm::sin(slope.value.value);
        match state.high.map(|word| word.value) {
            Some(Side::Right) => -sine,
            _ => sine,
        }
    });
    let in_gravity = |a: Option<crate::quantity::Stated<uom::si::f64::Acceleration>>| {
        a.map_or(0.0, |a| a.value.value / STANDARD_GRAVITY)
    };
    let cornering = in_gravity(state.cornering)
        * match state.turn.map(|word| word.value) {
            Some(Side::Right) => -1.0,
            _ => 1.0,
        };
    // An uncertainty step may carry the angles past the edge where the reader's check stood.
    let rest = (1.0 - climb * climb - side * side).clamp(0.0, 1.0).sqrt();
    let gravity_up = DVec3::new(climb, side, rest);
    let acceleration =
        DVec3::new(in_gravity(state.accelerating) - in_gravity(state.braking), cornering, 0.0);
    let in_vehicle = gravity_up + acceleration;
    Attitude { up: to_pan(in_vehicle, nose_up), gravity_ratio: in_vehicle.length(), in_vehicle }
}

/// Up in the pan frame on level ground.
pub fn level_ground(nose_up: Angle) -> DVec3 {
    to_pan(DVec3::Z, nose_up)
}

/// A direction in the vehicle as a unit vector in the pan.
pub(crate) fn to_pan(direction: DVec3, nose_up: Angle) -> DVec3 {
    let (sine, cosine) = (libm::sin(nose_up.value), libm::cos(nose_up.value));
    let x = DVec3::new(cosine, 0.0, sine);
    let z = DVec3::new(-sine, 0.0, cosine);
    DVec3::new(direction.dot(x), direction.y, direction.dot(z)).normalize()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::duty::Slope;
    use crate::document::pan::Word;
    use crate::quantity::{Kind, Stated, si};
    use crate::source::{FileId, Span};

    const HERE: Span = Span { file: FileId(0), start: 0, end: 0 };

    fn stated<Q: Kind>(value: f64) -> Stated<Q> {
        Stated { value: si(value), span: HERE }
    }

    fn degrees(angle: f64) -> f64 {
        angle * core::f64::consts::PI / 180.0
    }

    fn at_rest() -> State {
        State {
            span: HERE,
            climb: None,
            side_slope: None,
            high: None,
            braking: None,
            accelerating: None,
            cornering: None,
            turn: None,
            flow: None,
            lasts: None,
            point: None,
        }
    }

    fn tilt(state: &State) -> f64 {
        let up = attitude(state, si(0.0)).up;
        libm::acos(up.z) * 180.0 / core::f64::consts::PI
    }

    fn close(a: f64, b: f64, by: f64) {
        assert!((a - b).abs() <= by, "{a} is not {b} within {by}");
    }

    // The four directions of the document frame (ISO 8855 axes, from memory).
    #[test]
    fn braking_sends_oil_forward() {
        let state = State { braking: Some(stated(0.5 * STANDARD_GRAVITY)), ..at_rest() };
        // Oil stands deepest where up points away from: the surface rises towards −(horizontal up).
        assert!(attitude(&state, si(0.0)).up.x < 0.0);
    }

    #[test]
    fn turning_left_sends_oil_right() {
        let state = State {
            cornering: Some(stated(3.0)),
            turn: Some(Word { value: Side::Left, span: HERE }),
            ..at_rest()
        };
        assert!(attitude(&state, si(0.0)).up.y > 0.0);
    }

    #[test]
    fn a_climb_sends_oil_rearward() {
        let climb = Some(Slope { angle: stated(degrees(30.0)), descent: false });
        let up = attitude(&State { climb, ..at_rest() }, si(0.0)).up;
        close(up.x, 0.5, 1e-15);
        let climb = Some(Slope { angle: stated(degrees(30.0)), descent: true });
        assert!(attitude(&State { climb, ..at_rest() }, si(0.0)).up.x < 0.0);
    }

    #[test]
    fn the_left_side_high_sends_oil_right() {
        let state = State {
            side_slope: Some(stated(degrees(25.0))),
            high: Some(Word { value: Side::Left, span: HERE }),
            ..at_rest()
        };
        assert!(attitude(&state, si(0.0)).up.y > 0.0);
    }

    // atan(0.8) on the level road. Source: hydrostatics in an accelerated frame
    // (White, Fluid Mechanics, ch. 2).
    #[test]
    fn braking_at_eight_tenths_tilts_the_surface_by_38_66_degrees() {
        let state = State { braking: Some(stated(0.8 * STANDARD_GRAVITY)), ..at_rest() };
        close(tilt(&state), 38.659_808, 1e-6);
    }

    // Same source: two axes at once.
    #[test]
    fn braking_in_a_bend_tilts_by_the_root_of_the_squares() {
        let state = State {
            braking: Some(stated(0.6 * STANDARD_GRAVITY)),
            cornering: Some(stated(0.3 * STANDARD_GRAVITY)),
            turn: Some(Word { value: Side::Right, span: HERE }),
            ..at_rest()
        };
        close(tilt(&state), 33.854_515, 1e-6);
    }

    // Same source: descent 20 deg with 0.5 g along the road.
    #[test]
    fn braking_on_a_descent_adds_to_the_slope() {
        let state = State {
            climb: Some(Slope { angle: stated(degrees(20.0)), descent: true }),
            braking: Some(stated(0.5 * STANDARD_GRAVITY)),
            ..at_rest()
        };
        close(tilt(&state), 41.862_219, 1e-6);
    }

    #[test]
    fn a_pan_mounted_nose_up_has_its_oil_rearward_on_level_ground() {
        let up = level_ground(si(degrees(3.0)));
        close(up.x, libm::sin(degrees(3.0)), 1e-15);
    }
}
