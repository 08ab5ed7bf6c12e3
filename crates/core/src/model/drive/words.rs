//! What a vehicle was doing, in words.

use super::tally::Moment;
use crate::document::recording::Motion;
use glam::DVec3;

/// Less than this of an acceleration is not told, in gn.
const TOLD_FORCE: f64 = 0.03;
/// Less than this of a slope is not told, in degrees.
const TOLD_SLOPE: f64 = 1.0;

impl Moment {
    /// When, and what the vehicle was doing: `the drive at 34.2 s, braking 0.60 gn on a 12 deg descent`.
    pub fn words(&self) -> String {
        format!("the drive at {:.1} s, {}", self.time, doing(&self.motion))
    }
}

fn doing(motion: &Motion) -> String {
    match motion.up {
        Some(up) => apart(motion.force - up, up),
        None => alike(motion.force),
    }
}

fn degrees(sine: f64) -> f64 {
    libm::asin(sine.clamp(-1.0, 1.0)) * 180.0 / core::f64::consts::PI
}

/// Acceleration and attitude are recorded each by itself.
fn apart(acceleration: DVec3, up: DVec3) -> String {
    let mut does = Vec::new();
    let DVec3 { x, y, .. } = acceleration;
    if x.abs() >= TOLD_FORCE {
        let what = if x > 0.0 { "accelerating" } else { "braking" };
        does.push(format!("{what} {:.2} gn", x.abs()));
    }
    if y.abs() >= TOLD_FORCE {
        let way = if y > 0.0 { "left" } else { "right" };
        does.push(format!("turning {way} {:.2} gn", y.abs()));
    }
    let mut stands = Vec::new();
    let (climb, side) = (degrees(up.x), degrees(up.y));
    if climb.abs() >= TOLD_SLOPE {
        let what = if climb > 0.0 { "climb" } else { "descent" };
        stands.push(format!("on a {:.0} deg {what}", climb.abs()));
    }
    if side.abs() >= TOLD_SLOPE {
        let which = if side > 0.0 { "left" } else { "right" };
        stands.push(format!("with the {which} side {:.0} deg high", side.abs()));
    }
    if does.is_empty() {
        does.push("driving evenly or standing".to_owned());
    }
    if stands.is_empty() {
        stands.push("on level ground".to_owned());
    }
    format!("{} {}", does.join(" and "), stands.join(" and "))
}

/// Of a specific force alone nobody can tell a slope from an acceleration: both are told.
fn alike(force: DVec3) -> String {
    let mut says = Vec::new();
    let size = force.length();
    let DVec3 { x, y, .. } = force;
    if x.abs() >= TOLD_FORCE {
        let (what, slope) =
            if x > 0.0 { ("accelerating", "climb") } else { ("braking", "descent") };
        says.push(format!(
            "{what} {:.2} gn or a {:.0} deg {slope}",
            x.abs(),
            degrees(x.abs() / size)
        ));
    }
    if y.abs() >= TOLD_FORCE {
        let way = if y > 0.0 { "left" } else { "right" };
        says.push(format!(
            "turning {way} {:.2} gn or the {way} side {:.0} deg high",
            y.abs(),
            degrees(y.abs() / size)
        ));
    }
    if says.is_empty() {
        "upright and even".to_owned()
    } else {
        format!("as under {}", says.join(", and "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(acceleration: DVec3, climb: f64, side: f64) -> String {
        let sine = |angle: f64| libm::sin(angle * core::f64::consts::PI / 180.0);
        let (x, y) = (sine(climb), sine(side));
        let up = DVec3::new(x, y, (1.0 - x * x - y * y).sqrt());
        doing(&Motion { force: acceleration + up, up: Some(up) })
    }

    #[test]
    fn what_is_recorded_apart_is_told_apart() {
        assert_eq!(
            told(DVec3::new(-0.6, 0.0, 0.0), -12.0, 0.0),
            "braking 0.60 gn on a 12 deg descent"
        );
        assert_eq!(
            told(DVec3::new(0.2, 0.35, 0.0), 0.2, 15.0),
            "accelerating 0.20 gn and turning left 0.35 gn with the left side 15 deg high"
        );
        assert_eq!(told(DVec3::ZERO, 0.0, 0.0), "driving evenly or standing on level ground");
    }

    #[test]
    fn a_specific_force_alone_is_told_both_ways() {
        let said = |x, y| doing(&Motion { force: DVec3::new(x, y, 0.8), up: None });
        assert_eq!(said(-0.6, 0.0), "as under braking 0.60 gn or a 37 deg descent");
        assert_eq!(said(0.0, -0.6), "as under turning right 0.60 gn or the right side 37 deg high");
        assert_eq!(said(0.0, 0.01), "upright and even");
    }
}
