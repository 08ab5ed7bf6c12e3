//! Cylinders, cones and balls, within their chords.

use super::{close, litres, metres, order, space};
use crate::mesh::{Axis, Mesh, Solid, check, prism};
use crate::terrain::{Outline, Terrain, Zone};
use core::f64::consts::PI;
use glam::{DVec2, DVec3};
use uom::si::angle::radian;
use uom::si::f64::Angle;
use uom::si::volume::liter;

/// The part of a standing cylinder between its base and the plane z = rise·(x − (radius − base))/base, drawn with
/// so many times the chords.
fn wedge(radius: f64, base: f64, rise: f64, times: f64) -> f64 {
    let circle = Outline::circle_with_chords(DVec2::ZERO, metres(2.0 * radius), times).unwrap();
    let column = prism(&circle, metres(0.0), metres(2.0 * rise * radius / base)).unwrap();
    let up = DVec3::new(-rise / base, 0.0, 1.0);
    let height = -(rise / base) * (radius - base);
    space(&[(1.0, &column)]).below(up.normalize(), metres(height / up.length())).volume.value
}

/// Asserts that a figure drawn with chords misses by at most `share`, and by a 16th with four times the chords.
fn met_to_second_order(drawn: impl Fn(f64) -> f64, exact: f64, share: f64) {
    let miss = |times: f64| 1.0 - drawn(times) / exact;
    let (coarse, plain, fine) = (miss(0.25), miss(1.0), miss(4.0));
    assert!(plain.abs() < share, "{plain}");
    assert!((order(coarse, plain) - 2.0).abs() < 0.05, "{coarse} {plain}");
    assert!((order(plain, fine) - 2.0).abs() < 0.05, "{plain} {fine}");
}

/// 2/3·R²·h with R = 0.100 m, h = 0.150 m: 1.0 L. Source: Archimedes, The Method; CRC Standard Mathematical Tables,
/// cylindrical wedge; verified by quadrature.
#[test]
fn a_plane_through_the_diameter_cuts_the_wedge_of_archimedes() {
    met_to_second_order(|times| wedge(0.1, 0.1, 0.15, times), 1e-3, 1.5e-5);
}

/// h/(3b)·[a(3R² − a²) + 3R²(b − R)φ] with R = 0.100 m, b = 0.060 m, h = 0.120 m: 0.39235822 L. Source: CRC Standard
/// Mathematical Tables, cylindrical ungula, from memory; verified by quadrature.
#[test]
fn a_smaller_wedge_is_the_handbook_formula() {
    let (radius, base, rise) = (0.1_f64, 0.06, 0.12);
    let half = (radius * radius - (radius - base) * (radius - base)).sqrt();
    let angle = libm::acos((radius - base) / radius);
    let square = 3.0 * radius * radius;
    let exact =
        rise / (3.0 * base) * (half * (square - half * half) + square * (base - radius) * angle);
    close(exact, 0.392_358_22e-3, 1e-7);
    met_to_second_order(|times| wedge(radius, base, rise, times), exact, 5e-5);
}

/// A lying cylinder of 0.2 m, 0.5 m long, filled 0.05 m deep: 3.0709242 L. Source: elementary solid geometry;
/// verified with `fluids.geometry.V_from_h`.
#[test]
fn a_lying_cylinder_holds_its_segment_times_its_length() {
    let angle = libm::acos(0.5);
    let exact = 0.5 * 0.01 * (angle - libm::sin(2.0 * angle) / 2.0);
    close(exact, 3.070_924_2e-3, 1e-7);
    for along in [Axis::X, Axis::Y] {
        let lying = Solid::Cylinder {
            middle: DVec3::ZERO,
            along,
            diameter: metres(0.2),
            length: metres(0.5),
        };
        let space = space(&[(1.0, &lying.mesh().unwrap())]);
        close(space.below(DVec3::Z, metres(-0.05)).volume.value, exact, 3e-5);
        let height = space.level(DVec3::Z, litres(3.070_924_2), None).unwrap();
        assert!((height.value + 0.05).abs() < 6e-7);
    }
    // The same segment in a standing drum that lies because gravity does, with more and fewer chords.
    let drum = |times: f64| {
        let circle = Outline::circle_with_chords(DVec2::ZERO, metres(0.2), times).unwrap();
        let drum = prism(&circle, metres(0.0), metres(0.5)).unwrap();
        space(&[(1.0, &drum)]).below(DVec3::X, metres(-0.05)).volume.value
    };
    met_to_second_order(drum, exact, 3e-5);
}

/// A cone of 0.150 m to 0.100 m radius over 0.120 m: 5.969026 L when full; filled to z, where
/// its radius is r, it holds π/3·z·(r₀² + r₀·r + r²). Source:
/// elementary solid geometry; verified by quadrature of the section's area.
#[test]
fn a_frustum_of_a_cone_fills_by_its_closed_form() {
    let below = |z: f64| {
        let radius = 0.1 + z * 50.0 / 120.0;
        PI / 3.0 * z * (0.01 + 0.1 * radius + radius * radius)
    };
    close(below(0.12), 5.969_026e-3, 1e-7);
    let cone = |times: f64| {
        let outline = Outline::circle_with_chords(DVec2::ZERO, metres(0.3), times).unwrap();
        let draft = Angle::new::<radian>(libm::atan(50.0 / 120.0));
        let zone = Zone { outline, opens_at: metres(0.0), floor: metres(0.12), slope: None, draft };
        let terrain = Terrain::build(&[zone]).unwrap();
        space(&[(1.0, terrain.mesh())])
    };
    for z in [0.12, 0.07, 0.02] {
        met_to_second_order(
            |times| cone(times).below(DVec3::Z, metres(z - 0.12)).volume.value,
            below(z),
            2e-5,
        );
    }
}

/// A ball of latitude rings, `count` of them, each of twice as many points.
pub(super) fn ball(radius: f64, count: u32) -> Mesh {
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

/// The spherical cap, R = 0.100 m, 0.040 m high: 0.43563418 L. Source: elementary solid geometry; verified with
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
    assert!((order(coarse, fine) - 2.0).abs() < 0.02, "{coarse} {fine}");
    assert!(fine < 1e-3);
}
