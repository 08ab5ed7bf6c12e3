//! Levels against closed forms.

use super::*;
use crate::mesh::{Axis, Mesh, Solid, check, larger, prism};
use crate::terrain::{Outline, Terrain, Zone};
use core::f64::consts::PI;
use glam::{DMat3, DVec2, DVec3};
use proptest::prelude::*;
use std::sync::Arc;
use uom::si::angle::degree;
use uom::si::f64::{Angle, Length, Volume};
use uom::si::length::{meter, millimeter};
use uom::si::volume::{cubic_meter, liter};

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

fn litres(value: f64) -> Volume {
    Volume::new::<liter>(value)
}

fn space(meshes: &[(f64, &Mesh)]) -> OilSpace {
    OilSpace {
        parts: meshes
            .iter()
            .map(|&(weight, mesh)| (weight, Arc::new(Body::new(mesh).unwrap())))
            .collect(),
    }
}

fn block(min: [f64; 3], max: [f64; 3]) -> Mesh {
    Solid::Block { min: DVec3::from(min), max: DVec3::from(max) }.mesh().unwrap()
}

/// The box of the check values: 0.400 × 0.270 m, floor at z = 0, high enough never to run over.
fn tank() -> OilSpace {
    space(&[(1.0, &block([0., 0., 0.], [0.4, 0.27, 1.0]))])
}

/// Up against gravity with the low end of the box at x = 0.
fn pitched(degrees: f64) -> DVec3 {
    let angle = degrees * PI / 180.0;
    DVec3::new(libm::sin(angle), 0.0, libm::cos(angle))
}

fn close(value: f64, exact: f64, relative: f64) {
    assert!((value / exact - 1.0).abs() <= relative, "{value} for {exact}");
}

/// Check value A01. Source: elementary solid geometry; verified with a clipped convex polyhedron.
#[test]
fn a_level_box_stands_at_volume_over_area() {
    let height = tank().level(DVec3::Z, litres(4.0), None).unwrap();
    close(height.value, 37.037_037e-3, 1e-6);
    close(height.value, 4e-3 / 0.108, 1e-15);
}

/// Check values A02, A03 and A04: the depth at the low end of the pitched box, square to its floor, with the
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

/// Check value A05: the pitch at which the floor starts to show. Source: tan = 2V/(W·L²), elementary solid
/// geometry; verified with a clipped convex polyhedron and a root search.
#[test]
fn the_floor_shows_from_the_stated_pitch_on() {
    let far_end = |degrees: f64| {
        let up = pitched(degrees);
        tank().level(up, litres(4.0), None).unwrap().value - 0.4 * up.x
    };
    assert!(far_end(10.491_477 - 1e-5) > 0.0 && far_end(10.491_477 + 1e-5) < 0.0);
}

/// Check value A06: the diagonal cut of a box. Source: elementary solid geometry; verified with a clipped convex
/// polyhedron.
#[test]
fn a_plane_through_two_opposite_edges_halves_a_box() {
    let space = space(&[(1.0, &block([0., 0., 0.], [0.4, 0.27, 0.09]))]);
    let up = DVec3::new(0.09, 0.0, 0.4).normalize();
    let height = up.dot(DVec3::new(0.4, 0.0, 0.0));
    close(space.below(up, metres(height)).volume.get::<liter>(), 4.86, 1e-14);
    close(space.level(up, litres(4.86), None).unwrap().value, height, 1e-14);
}

/// Check value A07: the corner cut abc/6. Source: elementary solid geometry; verified with a clipped convex
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

/// Check value A08: the unit cube below x + 2y + 3z = 2.5. Source: Scardovelli & Zaleski, J. Comput. Phys. 164
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

/// Half a standing cylinder's base with a plane through its diameter, and a smaller segment.
fn wedge(radius: f64, base: f64, rise: f64) -> f64 {
    let circle = Outline::circle(DVec2::ZERO, metres(2.0 * radius)).unwrap();
    let column = prism(&circle, metres(0.0), metres(2.0 * rise * radius / base + 1.0)).unwrap();
    // The wedge between the floor and the plane z = rise·(x − (radius − base))/base lies above that plane's
    // mirror image: turned upside down it is what lies below a plane.
    let up = DVec3::new(-rise / base, 0.0, 1.0);
    let height = -(rise / base) * (radius - base);
    space(&[(1.0, &column)]).below(up.normalize(), metres(height / up.length())).volume.value
}

/// Check value A09: the cylindrical wedge 2/3·R²·h. Source: Archimedes, The Method; CRC Standard Mathematical
/// Tables; verified by quadrature.
#[test]
fn a_plane_through_the_diameter_cuts_the_wedge_of_archimedes() {
    close(wedge(0.1, 0.1, 0.15) * 1e3, 1.0, 2e-5);
}

/// Check value A10: the general wedge h/(3b)·[a(3R² − a²) + 3R²(b − R)φ]. Source: CRC Standard Mathematical
/// Tables, from memory; verified by quadrature.
#[test]
fn a_smaller_wedge_is_the_handbook_formula() {
    close(wedge(0.1, 0.06, 0.12) * 1e3, 0.392_358_22, 5e-5);
}

/// Check value A13: a lying cylinder of 0.2 m, 0.5 m long, filled 0.05 m deep. Source: elementary solid geometry;
/// verified with `fluids.geometry.V_from_h`.
#[test]
fn a_lying_cylinder_holds_its_segment_times_its_length() {
    let lying = |along| Solid::Cylinder {
        middle: DVec3::ZERO,
        along,
        diameter: metres(0.2),
        length: metres(0.5),
    };
    for along in [Axis::X, Axis::Y] {
        let space = space(&[(1.0, &lying(along).mesh().unwrap())]);
        close(space.below(DVec3::Z, metres(-0.05)).volume.get::<liter>(), 3.070_924_2, 5e-5);
        let height = space.level(DVec3::Z, litres(3.070_924_2), None).unwrap();
        assert!((height.value + 0.05).abs() < 1e-6);
    }
}

/// A ball of latitude rings, `count` of them, each of twice as many points.
fn ball(radius: f64, count: u32) -> Mesh {
    let turn = |part: u32, whole: u32| PI * f64::from(part) / f64::from(whole);
    let mut mesh = Mesh { points: vec![DVec3::NEG_Z * radius], faces: Vec::new() };
    for ring in 1..count {
        for at in 0..2 * count {
            let (polar, around) = (turn(ring, count), turn(at, count));
            let flat = DVec2::new(libm::cos(around), libm::sin(around)) * libm::sin(polar);
            mesh.points.push(flat.extend(-libm::cos(polar)) * radius);
        }
    }
    mesh.points.push(DVec3::Z * radius);
    let point = |ring: u32, at: u32| match ring {
        0 => 0,
        ring if ring == count => 2 * count * (count - 1) + 1,
        ring => 1 + (ring - 1) * 2 * count + at % (2 * count),
    };
    for ring in 0..count {
        for at in 0..2 * count {
            let [a, b, c, d] = [
                point(ring, at),
                point(ring, at + 1),
                point(ring + 1, at),
                point(ring + 1, at + 1),
            ];
            if a != b {
                mesh.faces.push([a, b, d]);
            }
            if c != d {
                mesh.faces.push([a, d, c]);
            }
        }
    }
    mesh
}

/// Check value A14: the spherical cap. Source: elementary solid geometry; verified with
/// `fluids.geometry.V_partial_sphere`.
#[test]
fn a_ball_cap_is_met_to_second_order() {
    let error = |count: u32| {
        let mesh = ball(0.1, count);
        assert_eq!(check(&mesh), Ok(()));
        1.0 - space(&[(1.0, &mesh)]).below(DVec3::Z, metres(-0.06)).volume.get::<liter>()
            / 0.435_634_18
    };
    let (coarse, fine) = (error(40), error(160));
    assert!((libm::log2(coarse / fine) / 2.0 - 2.0).abs() < 0.1, "{coarse} {fine}");
    assert!(fine < 1e-3);
}

fn deep_pan() -> Terrain {
    let mm = Length::new::<millimeter>;
    let zone = |x: f64, sizes: [f64; 3], opens_at: f64, floor: f64, draft: f64| Zone {
        outline: Outline::rectangle(DVec2::new(x, 0.0), mm(sizes[0]), mm(sizes[1]), mm(sizes[2]))
            .unwrap(),
        opens_at: mm(opens_at),
        floor: mm(floor),
        draft: Angle::new::<degree>(draft),
    };
    let zones =
        [zone(0.0, [412., 268., 25.], 0., 42., 4.), zone(0.02, [230., 236., 20.], 42., 118., 6.)];
    Terrain::build(&zones).unwrap()
}

#[test]
fn any_guess_leads_to_the_same_level() {
    let space = space(&[(1.0, deep_pan().mesh())]);
    let up = DVec3::new(0.5, 0.1, 0.86).normalize();
    for share in [1e-12, 1e-6, 1e-3, 0.2, 0.5, 0.9, 0.999_999, 1.0 - 1e-13] {
        let volume = space.capacity() * share;
        let cold = space.level(up, volume, None).unwrap();
        // Near the top the surface is small and heights that hold the same volume lie apart: volumes are compared.
        let holds = |height: Length| {
            let cut = space.below(up, height);
            // A change of the height's last digit cannot be answered for.
            let bound = 1e-12 * volume.value + 3e-17 * cut.surface.value;
            (cut.volume - volume).value.abs() <= bound
        };
        assert!(holds(cold), "{share}");
        for guess in [-1e9, -0.13, -0.05, 0.0, 0.1, 1e9, f64::NAN] {
            assert!(
                holds(space.level(up, volume, Some(metres(guess))).unwrap()),
                "{share} {guess}"
            );
        }
    }
}

#[test]
fn empty_is_the_lowest_point_and_full_the_highest() {
    let space = space(&[(1.0, deep_pan().mesh())]);
    assert_eq!(space.level(DVec3::Z, litres(0.0), None).ok(), space.lowest(DVec3::Z));
    assert_eq!(space.level(DVec3::Z, space.capacity(), None).ok(), space.highest(DVec3::Z));
    close(space.lowest(DVec3::Z).unwrap().value, -0.118, 1e-15);
}

#[test]
fn a_volume_without_a_level_says_why() {
    let tank = tank();
    let capacity = tank.capacity();
    assert_eq!(tank.level(DVec3::Z, litres(108.1), None), Err(LevelError::TooMuch { capacity }));
    assert_eq!(
        OilSpace::default().level(DVec3::Z, litres(1.0), None),
        Err(LevelError::NothingThere)
    );
    assert!(matches!(tank.level(DVec3::Z, litres(-1.0), None), Err(LevelError::NotAVolume(_))));
    assert!(matches!(tank.level(DVec3::Z, litres(f64::NAN), None), Err(LevelError::NotAVolume(_))));
    assert!(matches!(tank.level(DVec3::ONE, litres(1.0), None), Err(LevelError::NotADirection(_))));
    assert!(matches!(tank.level(DVec3::NAN, litres(1.0), None), Err(LevelError::NotADirection(_))));
}

/// A block of 100 × 100 × 20 mm takes away a slice of the box it stands in, a half-free case above adds half.
#[test]
fn displaced_bodies_and_a_half_free_case_count_with_their_weights() {
    let interior = block([0., 0., -0.1], [0.4, 0.27, 0.0]);
    let filter = block([0.1, 0.1, -0.06], [0.2, 0.2, -0.04]);
    let case = block([0., 0., 0.], [0.4, 0.27, 0.08]);
    let space = space(&[(1.0, &interior), (-1.0, &filter), (0.5, &case)]);
    close(space.capacity().get::<liter>(), 10.8 - 0.2 + 4.32, 1e-14);
    let below = |z: f64| space.below(DVec3::Z, metres(z));
    close(below(-0.05).volume.get::<liter>(), 5.4 - 0.1, 1e-13);
    close(below(-0.05).surface.value, 0.108 - 0.01, 1e-13);
    close(below(0.04).surface.value, 0.054, 1e-13);
    close(space.level(DVec3::Z, litres(10.6 + 2.16), None).unwrap().value, 0.04, 1e-13);
}

fn direction() -> impl Strategy<Value = DVec3> {
    [-1.0..1.0_f64, -1.0..1.0, -1.0..1.0]
        .prop_map(DVec3::from)
        .prop_filter("too short to point", |vector| vector.length() > 0.1)
        .prop_map(DVec3::normalize)
}

fn turned(mesh: &Mesh, turn: DMat3, shift: DVec3) -> Mesh {
    Mesh {
        points: mesh.points.iter().map(|&point| turn * point + shift).collect(),
        faces: mesh.faces.clone(),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn below_and_above_are_the_whole(up in direction(), share in 0.0..1.0_f64) {
        let pan = deep_pan();
        let space = space(&[(1.0, pan.mesh())]);
        let [low, high] = [space.lowest(up).unwrap(), space.highest(up).unwrap()];
        let height = low + (high - low) * share;
        let (below, above) = (space.below(up, height), space.below(-up, -height));
        let whole = pan.mesh().volume();
        prop_assert!(((below.volume + above.volume - whole) / whole).value.abs() < 1e-14);
        prop_assert!((below.surface - above.surface).value.abs() < 1e-14);
        prop_assert!(below.surface.value > -1e-15);
    }

    #[test]
    fn turning_body_and_gravity_together_keeps_the_level(
        up in direction(), axis in direction(), angle in 0.0..6.3_f64, share in 0.001..0.999_f64,
    ) {
        let pan = deep_pan();
        let turn = DMat3::from_axis_angle(axis, angle);
        let still = space(&[(1.0, pan.mesh())]);
        let moved = space(&[(1.0, &turned(pan.mesh(), turn, DVec3::new(3.0, -2.0, 1.0)))]);
        let volume = still.capacity() * share;
        let one = still.level(up, volume, None).unwrap().value;
        let way = (turn * up).normalize();
        let other = moved.level(way, volume, None).unwrap().value - way.dot(DVec3::new(3.0, -2.0, 1.0));
        prop_assert!((one - other).abs() < 1e-13, "{one} {other}");
    }

    #[test]
    fn a_level_holds_the_volume_it_was_asked_for(up in direction(), share in 0.0..1.0_f64, more in 0.0..0.5_f64) {
        let space = space(&[(1.0, deep_pan().mesh()), (0.5, &block([-0.19, -0.12, 0.], [0.19, 0.12, 0.08]))]);
        let volume = space.capacity() * share;
        let height = space.level(up, volume, None).unwrap();
        let held = space.below(up, height).volume;
        // A change of the height's last digit cannot be answered for.
        let digit = 1e-16 * larger(space.below(up, height).surface.value, 0.0);
        prop_assert!((held - volume).value.abs() <= 1e-12 * volume.value + digit);
        let fuller = volume + (space.capacity() - volume) * more;
        prop_assert!(space.level(up, fuller, Some(height)).unwrap() >= height - metres(1e-16));
    }

    #[test]
    fn a_tilted_box_stands_by_its_closed_form(slope in 0.0..1.5_f64, fill in 0.01..2.0_f64) {
        let volume = Volume::new::<cubic_meter>(fill * 4e-3);
        let up = DVec3::new(slope, 0.0, 1.0).normalize();
        let depth = tank().level(up, volume, None).unwrap().value / up.z;
        let covered = volume.value / 0.108 + 0.2 * slope;
        let exact = if covered >= 0.4 * slope { covered } else { (2.0 * volume.value / 0.27 * slope).sqrt() };
        prop_assert!((depth - exact).abs() < 1e-14);
    }
}
