//! Boxes at any attitude.

use super::{block, close, litres, metres, pitched, space, tank};
use glam::DVec3;
use proptest::prelude::*;
use uom::si::f64::Volume;
use uom::si::volume::{cubic_meter, liter};

/// 4.0 L in a box of 0.400 × 0.270 m. Source: elementary solid geometry; verified with a clipped convex polyhedron.
#[test]
fn a_level_box_stands_at_volume_over_area() {
    let height = tank().level(DVec3::Z, litres(4.0), None).unwrap();
    close(height.value, 37.037_037e-3, 1e-6);
    close(height.value, 4e-3 / 0.108, 1e-15);
}

/// The depth at the low end of the pitched box, square to its floor, with the
/// floor wetted (5°) and part of it dry (20°), and the wetted length. Source: elementary solid geometry; verified
/// with a clipped convex polyhedron and a root search.
#[test]
fn a_pitched_box_is_deep_at_its_low_end_by_the_closed_form() {
    for (degrees, printed) in [(5.0, 54.534_77e-3), (20.0, 103.847_5e-3)] {
        let up = pitched(degrees);
        let depth = tank().level(up, litres(4.0), None).unwrap().value / up.z;
        close(depth, printed, 1e-5);
        let slope = up.x / up.z;
        let wetted = 4e-3 / 0.108 + 0.2 * slope;
        let exact = if wetted >= 0.4 * slope { wetted } else { (2.0 * 4e-3 / 0.27 * slope).sqrt() };
        close(depth, exact, 1e-13);
        if degrees > 10.0 {
            close(depth / slope, 285.318_66e-3, 1e-5);
        }
    }
}

/// 10.491477°, the pitch at which the floor starts to show. Source: tan = 2V/(W·L²), elementary solid
/// geometry; verified with a clipped convex polyhedron and a root search.
#[test]
fn the_floor_shows_from_the_stated_pitch_on() {
    let far_end = |degrees: f64| {
        let up = pitched(degrees);
        tank().level(up, litres(4.0), None).unwrap().value - 0.4 * up.x
    };
    assert!(far_end(10.491_477 - 1e-5) > 0.0 && far_end(10.491_477 + 1e-5) < 0.0);
}

/// The diagonal cut of a box. Source: elementary solid geometry; verified with a clipped convex
/// polyhedron.
#[test]
fn a_plane_through_two_opposite_edges_halves_a_box() {
    let space = space(&[(1.0, &block([0., 0., 0.], [0.4, 0.27, 0.09]))]);
    let up = DVec3::new(0.09, 0.0, 0.4).normalize();
    let height = up.dot(DVec3::new(0.4, 0.0, 0.0));
    close(space.below(up, metres(height)).volume.get::<liter>(), 4.86, 1e-14);
    close(space.level(up, litres(4.86), None).unwrap().value, height, 1e-14);
}

/// The corner cut abc/6. Source: elementary solid geometry; verified with a clipped convex
/// polyhedron.
#[test]
fn a_corner_cut_is_a_tetrahedron() {
    let space = space(&[(1.0, &block([0., 0., 0.], [0.5, 0.5, 0.5]))]);
    let normal = DVec3::new(1.0 / 0.3, 1.0 / 0.2, 1.0 / 0.1);
    let cut = space.below(normal.normalize(), metres(1.0 / normal.length()));
    close(cut.volume.get::<liter>(), 1.0, 1e-14);
    // The surface is the triangle between the three intercepts.
    let [a, b, c] = [DVec3::X * 0.3, DVec3::Y * 0.2, DVec3::Z * 0.1];
    close(cut.surface.value, (b - a).cross(c - a).length() / 2.0, 1e-14);
}

/// The unit cube below x + 2y + 3z = 2.5. Source: Scardovelli & Zaleski, J. Comput. Phys. 164
/// (2000) 228–237; verified with a clipped convex polyhedron and a count of random points.
#[test]
fn a_cube_is_cut_as_published() {
    let space = space(&[(1.0, &block([0., 0., 0.], [1., 1., 1.]))]);
    let normal = DVec3::new(1.0, 2.0, 3.0);
    let cut = space.below(normal.normalize(), metres(2.5 / normal.length()));
    close(cut.volume.value, 0.336_805_56, 1e-7);
    let cubes: f64 = [2.5_f64, 1.5, 0.5, -0.5]
        .iter()
        .map(|d: &f64| if *d > 0.0 { d * d * d } else { 0.0 })
        .zip([1.0, -1.0, -1.0, 0.0])
        .map(|(cube, sign)| cube * sign)
        .sum();
    close(cut.volume.value, cubes / 36.0, 1e-14);
}

/// The rise at the low side wall on a side slope of 20°, floor wetted: (W/2)·tan. Source: elementary solid
/// geometry; verified with a clipped convex polyhedron.
#[test]
fn oil_rises_at_the_low_side_wall_by_half_the_width_times_the_slope() {
    let up = pitched(20.0);
    let across = DVec3::new(0.0, up.x, up.z);
    let volume = litres(10.0);
    let level = tank().level(DVec3::Z, volume, None).unwrap();
    let wall = tank().level(across, volume, None).unwrap() / up.z;
    close((wall - level).value, 49.135_982e-3, 1e-7);
    close((wall - level).value, 0.135 * up.x / up.z, 1e-13);
}

/// The volume of the unit cube below n·x = d for positive n, by inclusion and exclusion of corner cuts.
fn cut_cube(n: DVec3, d: f64) -> f64 {
    let mut sum = 0.0;
    for corner in 0..8_u32 {
        let has = |axis: u32| f64::from(corner >> axis & 1);
        let rest = d - n.dot(DVec3::new(has(0), has(1), has(2)));
        let sign = if corner.count_ones() % 2 == 0 { 1.0 } else { -1.0 };
        if rest > 0.0 {
            sum += sign * rest * rest * rest;
        }
    }
    sum / (6.0 * n.x * n.y * n.z)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_tilted_box_stands_by_its_closed_form(slope in 0.0..1.5_f64, fill in 0.01..2.0_f64) {
        let volume = Volume::new::<cubic_meter>(fill * 4e-3);
        let up = DVec3::new(slope, 0.0, 1.0).normalize();
        let depth = tank().level(up, volume, None).unwrap().value / up.z;
        let covered = volume.value / 0.108 + 0.2 * slope;
        let exact = if covered >= 0.4 * slope { covered } else { (2.0 * volume.value / 0.27 * slope).sqrt() };
        prop_assert!((depth - exact).abs() < 1e-14);
    }

    /// Source: Scardovelli & Zaleski, J. Comput. Phys. 164 (2000) 228–237, for all attitudes.
    #[test]
    fn a_cube_is_cut_by_any_plane_as_published(
        x in 0.05..1.0_f64, y in 0.05..1.0_f64, z in 0.05..1.0_f64, share in 0.0..1.0_f64,
        flip in (any::<bool>(), any::<bool>(), any::<bool>()),
    ) {
        let n = DVec3::new(x, y, z);
        let d = share * (x + y + z);
        // A cube on the other side of the middle, with the plane mirrored, holds the same.
        let side = |turned: bool| if turned { -1.0 } else { 1.0 };
        let mirror = DVec3::new(side(flip.0), side(flip.1), side(flip.2));
        let corner = mirror.min(DVec3::ZERO);
        let cube = space(&[(1.0, &block(corner.to_array(), (corner + DVec3::ONE).to_array()))]);
        let held = cube.below((n * mirror).normalize(), metres(d / n.length())).volume.value;
        // The published sum itself cancels by the product of the components.
        let bound = 1e-15 * (1.0 + d * d * d / (x * y * z));
        prop_assert!((held - cut_cube(n, d)).abs() < bound, "{held} {}", cut_cube(n, d));
    }
}
