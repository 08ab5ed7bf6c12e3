//! What is asked of a terrain, on cases worked by hand.

use super::{close, rectangle, tan, zone};
use crate::distance::{Convex, distance};
use crate::terrain::Terrain;
use glam::{DVec2, DVec3};

fn deep_pan() -> Terrain {
    let zones = [
        zone(rectangle((0., 0.), 412., 268., 25.), 0., 42., 4.),
        zone(rectangle((20., 0.), 230., 236., 20.), 42., 118., 0.),
    ];
    Terrain::build(&zones).unwrap()
}

#[test]
fn depths_are_those_of_the_ground_and_the_deeper_at_a_wall() {
    let pan = deep_pan();
    let depth =
        |x: f64, y: f64| pan.depth_at(DVec2::new(x, y) / 1e3).map(|depth| depth.value * 1e3);
    close(depth(20., 0.).unwrap(), 118.0, 1e-15);
    close(depth(-150., 0.).unwrap(), 42.0, 1e-15);
    close(depth(-95., 30.).unwrap(), 118.0, 1e-15);
    close(depth(205., 20.).unwrap(), 1.0 / tan(4.), 1e-12);
    assert_eq!(depth(206.01, 0.), None);
    assert_eq!(depth(205., 133.), None);
}

#[test]
fn a_footprint_finds_the_ground_below_it_and_what_hangs_out() {
    let pan = deep_pan();
    let square = |x: f64, y: f64, side: f64| {
        [(-1., -1.), (1., -1.), (1., 1.), (-1., 1.)]
            .map(|(a, b)| DVec2::new(x + a * side / 2., y + b * side / 2.) / 1e3)
    };
    let inside = pan.under(&square(20., 0., 30.));
    close(inside.least_depth.value, 0.118, 1e-15);
    assert_eq!((inside.greatest_depth, inside.outside.value), (inside.least_depth, 0.0));
    let step = pan.under(&square(-95., 0., 30.));
    close(step.least_depth.value, 0.042, 1e-15);
    close(step.greatest_depth.value, 0.118, 1e-15);
    // Touching the sump's wall from the shelf is not lying on the sump.
    close(pan.under(&square(-110., 0., 30.)).greatest_depth.value, 0.042, 1e-15);
    let mut out = square(206., 0., 20.);
    out.reverse();
    let out = pan.under(&out);
    close(out.outside.value, 10.0 * 20.0 * 1e-6, 1e-12);
    assert!(out.least_depth.value.abs() < 1e-15);
    let away = pan.under(&square(400., 0., 20.));
    close(away.outside.value, 400e-6, 1e-12);
    assert!(away.greatest_depth.value.abs() < 1e-300);
}

#[test]
fn a_profile_has_both_sides_of_every_wall() {
    let pan = deep_pan();
    let profile = pan.profile(DVec2::new(-0.3, 0.0), DVec2::new(0.3, 0.0));
    let lean = 42.0 * tan(4.);
    let expected = [
        (-300., 0.),
        (-206., 0.),
        (-206. + lean, 42.),
        (-95., 42.),
        (-95., 118.),
        (135., 118.),
        (135., 42.),
        (206. - lean, 42.),
        (206., 0.),
        (300., 0.),
    ];
    let found: Vec<(f64, f64)> = profile
        .iter()
        .map(|(along, depth)| (along.value * 1e3 - 300.0, depth.value * 1e3))
        .collect();
    assert_eq!(found.len(), expected.len(), "{found:?}");
    for (found, expected) in found.iter().zip(expected) {
        assert!(
            (found.0 - expected.0).abs() < 1e-9 && (found.1 - expected.1).abs() < 1e-9,
            "{found:?}"
        );
    }
    assert!(pan.profile(DVec2::ZERO, DVec2::ZERO).is_empty());
}

#[test]
fn walls_are_as_far_as_the_outline_says() {
    let pan = deep_pan();
    let from = |point: [f64; 3], direction: DVec3| {
        pan.nearest_wall(DVec3::from(point) / 1e3, direction).map(|distance| distance.value * 1e3)
    };
    close(from([20., 0., -60.], DVec3::X).unwrap(), 115.0, 1e-12);
    close(from([20., 0., -60.], DVec3::NEG_X).unwrap(), 115.0, 1e-12);
    close(from([20., 0., -60.], DVec3::NEG_Z).unwrap(), 58.0, 1e-12);
    close(from([20., 0., -60.], DVec3::Z).unwrap(), 60.0, 1e-12);
    close(from([20., 0., -20.], DVec3::Y).unwrap(), 134.0 - 20.0 * tan(4.), 1e-12);
    assert_eq!(from([500., 0., -60.], DVec3::X), None);
}

/// What the tree passes over is farther than what it gives: the least is that of all faces, and few are looked at.
#[test]
fn the_faces_near_a_box_hold_the_nearest_of_all() {
    let mesh = Terrain::of_mesh(deep_pan().mesh().clone());
    let faces: Vec<[DVec3; 3]> =
        (0..mesh.mesh().faces.len()).map(|face| mesh.mesh().corners(face).unwrap()).collect();
    let mut looked_at = 0;
    for step in 0..60_u32 {
        let turn = f64::from(step);
        let at = DVec3::new(0.35 * libm::cos(turn), 0.3 * libm::sin(turn), -0.01 - 0.003 * turn);
        let round = [at - DVec3::splat(0.03), at + DVec3::splat(0.03)];
        let other = Convex::block(round[0], round[1]);
        let apart = |corners: [DVec3; 3]| {
            distance(&Convex::Points(corners.to_vec()), &other).map_or(0.0, |found| found.0.value)
        };
        let smaller = |one: f64, two: f64| if two < one { two } else { one };
        let meant = faces.iter().copied().map(apart).fold(f64::INFINITY, smaller);
        let mut least = f64::INFINITY;
        mesh.faces_near(round, least, |corners| {
            looked_at += 1;
            least = smaller(least, apart(corners));
            least
        });
        assert!((least - meant).abs() <= 0.0, "{least} {meant} at {at}");
    }
    assert!(looked_at < 20 * faces.len(), "{looked_at} of {} in all", 60 * faces.len());
}
