//! The moments of the oil and its surface, against closed forms and against themselves turned round.

use super::{block, close, deep_pan, litres, metres, pitched, space, tank};
use crate::level::{Moments, OilSpace};
use core::f64::consts::PI;
use glam::{DMat3, DVec3};

fn near(found: Option<DVec3>, meant: [f64; 3], by: f64) {
    let found = found.unwrap();
    assert!((found - DVec3::from(meant)).length() <= by, "{found} is not {meant:?}");
}

/// A box filled to a depth: middle at half the depth, surface L × W, second moments WL³/12 and LW³/12. Source:
/// elementary; Bronshtein/Semendyayev, Handbook of Mathematics, moments of plane figures (from memory).
#[test]
fn a_level_box_has_the_moments_of_its_rectangle() {
    let moments = tank().moments(DVec3::Z, metres(0.05));
    close(moments.volume.value, 0.4 * 0.27 * 0.05, 1e-14);
    close(moments.surface.value, 0.108, 1e-14);
    near(moments.centroid, [0.2, 0.135, 0.025], 1e-15);
    near(moments.surface_centroid, [0.2, 0.135, 0.05], 1e-15);
    close(moments.second[0].value, 0.27 * 0.064 / 12.0, 1e-13);
    close(moments.second[1].value, 0.4 * 0.27 * 0.27 * 0.27 / 12.0, 1e-13);
    close(moments.longest.unwrap().x.abs(), 1.0, 1e-14);
}

/// A box pitched until part of the floor is dry: the oil is a triangular prism of base b and height b·tan, its middle
/// at a third of each; the surface is W by b/cos. Source: elementary solid geometry, worked here; the base 285.31866
/// mm at 20° and 4 L is the wetted length held elsewhere.
#[test]
fn a_pitched_box_has_the_moments_of_its_prism() {
    let up = pitched(20.0);
    let level = tank().level(up, litres(4.0), None).unwrap();
    let moments = tank().moments(up, level);
    let base = (2.0 * 4e-3 / 0.27 * up.z / up.x).sqrt();
    close(base, 285.318_66e-3, 1e-5);
    let deep = base * up.x / up.z;
    close(moments.volume.value, 4e-3, 1e-13);
    near(moments.centroid, [base / 3.0, 0.135, deep / 3.0], 1e-14);
    let slant = base / up.z;
    close(moments.surface.value, 0.27 * slant, 1e-13);
    near(moments.surface_centroid, [base / 2.0, 0.135, deep / 2.0], 1e-14);
    close(moments.second[0].value, 0.27 * slant * slant * slant / 12.0, 1e-12);
    close(moments.second[1].value, slant * 0.27 * 0.27 * 0.27 / 12.0, 1e-12);
}

/// A half-ball's middle lies 3R/8 below its flat face, whose second moments are πR⁴/4. Source: elementary solid
/// geometry (Bronshtein/Semendyayev, Handbook of Mathematics, stereometry; from memory).
#[test]
fn a_half_ball_has_its_moments_to_second_order() {
    let miss = |count: u32| {
        let ball = space(&[(1.0, &super::rounds::ball(0.1, count))]);
        let moments = ball.moments(DVec3::Z, metres(0.0));
        let depth = moments.centroid.unwrap().z / -0.0375 - 1.0;
        let second = moments.second[1].value / (PI * 1e-4 / 4.0) - 1.0;
        [depth.abs(), second.abs()]
    };
    let (coarse, fine) = (miss(16), miss(64));
    assert!(fine[0] < 1e-3 && fine[0] < coarse[0] / 12.0, "{coarse:?} {fine:?}");
    assert!(fine[1] < 5e-3 && fine[1] < coarse[1] / 12.0, "{coarse:?} {fine:?}");
}

fn pan_with_filter() -> OilSpace {
    let filter = block([-0.08, -0.06, -0.05], [0.1, 0.07, -0.02]);
    let case = block([-0.19, -0.12, 0.0], [0.19, 0.12, 0.08]);
    space(&[(1.0, deep_pan().mesh()), (-1.0, &filter), (0.5, &case)])
}

#[test]
fn volume_and_surface_are_those_of_the_tree() {
    let space = pan_with_filter();
    for (at, up) in [[0.3, 0.1, 0.9], [-0.4, 0.2, 0.8], [0.0, 0.6, 0.7]].into_iter().enumerate() {
        let up = DVec3::from(up).normalize();
        let height = metres(-0.03 + 0.02 * f64::from(u8::try_from(at).unwrap()));
        let (moments, cut) = (space.moments(up, height), space.below(up, height));
        close(moments.volume.value, cut.volume.value, 1e-13);
        close(moments.surface.value, cut.surface.value, 1e-13);
    }
}

/// ∂V/∂d = −A·S along the surface: at constant volume the surface turns about its middle. Source: the first theorem
/// of Dupin on isocarenes (naval architecture, from memory).
#[test]
fn at_constant_volume_the_surface_turns_about_its_middle() {
    let space = pan_with_filter();
    let up = DVec3::new(0.3, 0.1, 0.9).normalize();
    let height = space.level(up, litres(5.0), None).unwrap();
    let middle = space.moments(up, height).surface_centroid.unwrap();
    let miss = |angle: f64| {
        let turned = DMat3::from_axis_angle(up.any_orthonormal_vector(), angle) * up;
        let level = space.level(turned, litres(5.0), None).unwrap().value;
        (level - turned.dot(middle)).abs()
    };
    // To first order exact: ten times the angle misses by a hundred times as much.
    assert!(
        miss(1e-4) < 2e-8 && miss(1e-4) * 1e2 < 2.0 * miss(1e-3),
        "{} {}",
        miss(1e-4),
        miss(1e-3)
    );
}

#[test]
fn far_from_the_origin_the_moments_are_the_same() {
    let shift = DVec3::new(14.0, -9.0, 5.0);
    let up = DVec3::new(0.3, 0.1, 0.9).normalize();
    let mut mesh = deep_pan().mesh().clone();
    let here = space(&[(1.0, &mesh)]).moments(up, metres(-0.05));
    for point in &mut mesh.points {
        *point += shift;
    }
    let there = space(&[(1.0, &mesh)]).moments(up, metres(-0.05 + up.dot(shift)));
    near(there.centroid.map(|at| at - shift), here.centroid.unwrap().to_array(), 1e-13);
    close(there.second[0].value, here.second[0].value, 1e-11);
    close(there.second[1].value, here.second[1].value, 1e-11);
}

#[test]
fn without_oil_there_is_no_middle() {
    let Moments { centroid, surface_centroid, longest, .. } =
        tank().moments(DVec3::Z, metres(-0.1));
    assert_eq!((centroid, surface_centroid, longest), (None, None, None));
}
