//! Covered or not, without a level, against the level and against closed forms.

use super::{block, close, deep_pan, litres, metres, space, tank};
use crate::level::{LevelError, Mouth, Ray, Reach};
use core::f64::consts::{FRAC_PI_2, TAU};
use glam::DVec3;
use uom::si::angle::{degree, radian};
use uom::si::f64::Angle;

fn inlet(centre: [f64; 3], diameter: f64) -> Mouth {
    Mouth { centre: DVec3::from(centre), normal: DVec3::NEG_Z, diameter: metres(diameter) }
}

fn toward(azimuth: f64) -> Ray {
    Ray { level: DVec3::Z, toward: DVec3::new(libm::cos(azimuth), libm::sin(azimuth), 0.0) }
}

fn degrees(value: f64) -> Angle {
    Angle::new::<degree>(value)
}

fn until(reach: Result<Reach, LevelError>) -> (f64, f64) {
    match reach {
        Ok(Reach::Until { tilt, acceleration }) => (tilt.value, acceleration.value),
        other => panic!("{other:?}"),
    }
}

/// A point at the middle of a box's floor, `rim` over it: while the floor is wetted the surface turns about the
/// middle of the surface, so the depth along the vertical stays V/(LW) − rim; then the oil is a wedge at the low end,
/// and its depth at the middle is √(2V/W·tan τ) − (L/2)·tan τ. The rim is reached where that equals it: with
/// t = √tan τ, (L/2)·t² − √(2V/W)·t + rim = 0. Source: elementary solid geometry, worked here.
#[test]
fn the_steepest_tilt_in_a_box_is_the_closed_form() {
    let volume = litres(4.0);
    let rim = 0.02;
    let mouth = inlet([0.2, 0.135, rim], 0.0);
    let root = (2.0 * volume.value / 0.27_f64).sqrt();
    let t = (root + (root * root - 4.0 * 0.2 * rim).sqrt()) / (2.0 * 0.2);
    for azimuth in [0.0, TAU / 2.0] {
        let reach = tank().steepest(&mouth, metres(0.0), volume, &toward(azimuth), degrees(80.0));
        let (tilt, acceleration) = until(reach);
        close(tilt, libm::atan(t * t), 1e-13);
        // tan τ = a/g, ISO 80000-3 for g.
        close(acceleration, 9.806_65 * t * t, 1e-12);
    }
}

/// In a ball the surface stands as far below the middle at every attitude, so a point c straight below the middle is
/// reached where cos τ = distance/c. Source: the ball's symmetry, worked here.
#[test]
fn the_steepest_tilt_in_a_ball_is_the_closed_form_to_second_order() {
    let miss = |count: u32| {
        let ball = space(&[(1.0, &super::rounds::ball(0.1, count))]);
        let volume = ball.below(DVec3::Z, metres(-0.05)).volume;
        let mouth = inlet([0.0, 0.0, -0.07], 0.0);
        let (tilt, _) =
            until(ball.steepest(&mouth, metres(0.0), volume, &toward(0.3), degrees(80.0)));
        (tilt - libm::acos(0.05 / 0.07)).abs()
    };
    let (coarse, fine) = (miss(16), miss(64));
    assert!(fine < 2e-3 && fine < coarse / 8.0, "{coarse} {fine}");
}

#[test]
fn covered_by_volume_is_covered_by_level() {
    let space = space(&[(1.0, deep_pan().mesh())]);
    let mouth = inlet([0.025, 0.010, -0.066], 0.032);
    let need = metres(0.010);
    let mut found = 0;
    for azimuth in 0..24 {
        let ray = toward(f64::from(azimuth) * TAU / 24.0);
        let reach = space.steepest(&mouth, need, litres(3.5), &ray, degrees(70.0)).unwrap();
        let Reach::Until { tilt, .. } = reach else { continue };
        found += 1;
        let up = ray.at(tilt);
        let level = space.level(up, litres(3.5), None).unwrap();
        assert!((mouth.least_depth(up, level) - need).value.abs() < 1e-13);
        let least = space.least_volume(&mouth, need, up);
        close(least.value, 3.5e-3, 1e-12);
        for part in 0..20 {
            let up = ray.at(tilt * (f64::from(part) / 20.0));
            let level = space.level(up, litres(3.5), None).unwrap();
            assert!(mouth.least_depth(up, level) >= need);
        }
    }
    assert!(found > 12, "{found}");
}

#[test]
fn dry_from_the_start_and_covered_throughout_are_told_apart() {
    let tall = space(&[(1.0, &block([-0.01, -0.01, 0.0], [0.01, 0.01, 1.0]))]);
    let mouth = inlet([0.0, 0.0, 0.05], 0.001);
    let steepest = |volume, up_to| {
        tall.steepest(&mouth, metres(0.0), litres(volume), &toward(0.0), degrees(up_to)).unwrap()
    };
    assert_eq!(steepest(0.01, 60.0), Reach::NeverCovered);
    assert_eq!(steepest(0.2, 60.5), Reach::Throughout { tilt: degrees(60.5) });
}

#[test]
fn a_ray_that_is_none_is_refused() {
    let mouth = inlet([0.2, 0.135, 0.02], 0.0);
    let steepest = |ray: Ray, up_to| tank().steepest(&mouth, metres(0.0), litres(4.0), &ray, up_to);
    let slanted = Ray { level: DVec3::Z, toward: DVec3::new(0.6, 0.0, 0.8) };
    assert!(matches!(steepest(slanted, degrees(60.0)), Err(LevelError::NotADirection(_))));
    let no_unit = Ray { level: DVec3::Z, toward: DVec3::X * 2.0 };
    assert!(matches!(steepest(no_unit, degrees(60.0)), Err(LevelError::NotADirection(_))));
    for tilt in [-0.1, FRAC_PI_2, f64::NAN] {
        let reach = steepest(toward(0.0), Angle::new::<radian>(tilt));
        assert!(matches!(reach, Err(LevelError::NotATilt(_))), "{reach:?}");
    }
}
