//! Floors that fall to one side.

use super::sections::{Piece, union_by_sections};
use super::{close, mm, polygon, rectangle, tan, volume, zone};
use crate::terrain::{Outline, Slope, Terrain, TerrainError, Zone, ZoneFault};
use core::f64::consts::PI;
use glam::DVec2;
use uom::si::angle::degree;
use uom::si::f64::Angle;

fn falls(zone: Zone, deeper: DVec2, by: f64) -> Zone {
    Zone { slope: Some(Slope { deeper, by: Angle::new::<degree>(by) }), ..zone }
}

/// Source: the volume of an obliquely cut prism is its base times the height at the base's centroid (elementary solid
/// geometry, from memory).
#[test]
fn a_slanted_prism_is_its_base_times_the_depth_at_its_centroid() {
    let square = falls(zone(rectangle((30., -20.), 300., 200., 0.), 0., 60., 0.), DVec2::X, 5.0);
    close(volume(&[square]), 300. * 200. * 60., 1e-14);
    // The middle of the rectangle around a triangle is not its centroid: that lies a sixth of its length farther back.
    let triangle = polygon(&[(0., 0.), (300., 0.), (0., 200.)]);
    let triangle = falls(zone(triangle, 0., 60., 0.), DVec2::NEG_X, 8.0);
    close(volume(&[triangle]), 30_000. * (60. + 50. * tan(8.)), 1e-14);
}

/// Source: the section at depth z is (200 − 2·t)·(300 − t − max(t, z/tan by − …)), quadratic between the depths at which
/// the floor's edge meets the walls; integrated by Simpson's rule, which is exact for it.
#[test]
fn a_sloped_floor_inside_a_drafted_pan_agrees_with_its_sections() {
    for (draft, by) in [(4., 2.), (10., 5.), (20., 12.), (1., 30.)] {
        for deeper in [DVec2::X, DVec2::NEG_X, DVec2::Y, DVec2::NEG_Y] {
            let outline = rectangle((10., 5.), 300., 200., 0.);
            let pan = falls(zone(outline, 0., 100., draft), deeper, by);
            close(
                volume(core::slice::from_ref(&pan)),
                union_by_sections(&[Piece::of(&pan)]) * 1e9,
                1e-13,
            );
        }
    }
}

/// The closed form for walls of draft a and a floor that falls along x: with upright ends in x only the two long walls
/// lean, which a polygon cannot say, so the oracle is the integral of min(wall, floor) over x and y, column by column.
#[test]
fn a_sloped_floor_agrees_with_columns_by_definition() {
    let pan = falls(zone(rectangle((0., 0.), 240., 160., 15.), 0., 70., 8.), DVec2::X, 6.0);
    let piece = Piece::of(&pan);
    let (nx, ny) = (1200, 800);
    let mut sum = 0.0;
    for row in 0..ny {
        for column in 0..nx {
            let at = |count: i32, index: i32, size: f64| {
                ((f64::from(index) + 0.5) / f64::from(count) - 0.5) * size
            };
            let point = DVec2::new(at(nx, column, 240.), at(ny, row, 160.)) / 1e3;
            sum += piece.depth_at(point).unwrap_or(0.0);
        }
    }
    let columns = sum * 240. * 160. / f64::from(nx * ny) * 1e3;
    // Midpoints miss the second order at kinks and the rim by at most a cell's width of the perimeter's depth.
    close(volume(&[pan]), columns, 2e-5);
}

#[test]
fn a_floor_is_as_deep_as_stated_at_the_middle_and_falls_the_way_said() {
    let pan = falls(zone(rectangle((10., 0.), 200., 100., 0.), 0., 50., 3.), DVec2::Y, 4.0);
    let terrain = Terrain::build(&[pan]).unwrap();
    let depth = |x: f64, y: f64| terrain.depth_at(DVec2::new(x, y) / 1e3).unwrap().value * 1e3;
    assert!((depth(10., 0.) - 50.0).abs() < 1e-9);
    assert!((depth(10., 30.) - (50.0 + 30.0 * tan(4.))).abs() < 1e-9);
    assert!((depth(60., -30.) - (50.0 - 30.0 * tan(4.))).abs() < 1e-9);
}

/// A ramp comes up out of the shelf: above the shelf's floor the shelf is deeper and wins.
#[test]
fn a_ramp_out_of_a_shelf_ends_where_it_comes_up() {
    let rail = zone(rectangle((0., 0.), 400., 260., 0.), 0., 40., 0.);
    let ramp = falls(zone(rectangle((0., 0.), 200., 100., 0.), 40., 45., 0.), DVec2::X, 10.0);
    // The ramp lies below the shelf from where it is 40 deep on: 5/tan 10° behind its middle, 28.4 mm.
    let start = 100. - 5. / tan(10.);
    let ramp_more = 0.5 * (200. - start) * (200. - start) * tan(10.) * 100.;
    close(volume(&[rail, ramp]), 400. * 260. * 40. + ramp_more, 1e-13);
}

#[test]
fn a_zone_across_two_others_and_out_of_its_own_is_the_deepest_of_all() {
    let zones = [
        zone(rectangle((0., 0.), 400., 260., 20.), 0., 40., 4.),
        zone(rectangle((-90., 0.), 120., 160., 10.), 40., 80., 6.),
        zone(rectangle((80., 20.), 130., 150., 0.), 40., 95., 10.),
        // Across both sumps, and out through the side of the rail.
        falls(zone(rectangle((0., 60.), 260., 200., 0.), 40., 60., 3.), DVec2::X, 3.0),
        // It opens at a sump's floor and leaves it.
        zone(rectangle((-120., 0.), 100., 60., 0.), 80., 100., 5.),
    ];
    let pieces: Vec<Piece> = zones.iter().map(Piece::of).collect();
    close(volume(&zones), union_by_sections(&pieces) * 1e9, 1e-12);
}

/// A deep end may narrow until the walls meet: at the deepest depth of the floor they would, above it they do not.
#[test]
fn walls_that_would_meet_only_below_the_floor_do_no_harm() {
    let outline = || rectangle((0., 0.), 300., 40., 0.);
    // Opposite walls of 30° meet 34.6 mm down. The floor falls to 35.8 at its end, but there the end wall has cut it off.
    let pan = falls(zone(outline(), 0., 24., 30.), DVec2::X, 4.5);
    assert!(volume(core::slice::from_ref(&pan)) > 0.0);
    close(volume(core::slice::from_ref(&pan)), union_by_sections(&[Piece::of(&pan)]) * 1e9, 1e-12);
    let deep = falls(zone(outline(), 0., 33., 30.), DVec2::X, 8.0);
    let Err(TerrainError::Zone { zone: 0, fault: ZoneFault::WallsMeet { depth } }) =
        Terrain::build(&[deep])
    else {
        panic!("they meet above the floor")
    };
    // A side is gone a nanometre early: so much less deep, over the lean.
    close(depth.value * 1e3, 20. / tan(30.), 1e-7);
}

#[test]
fn falls_that_cannot_be_are_named() {
    let rail = || rectangle((0., 0.), 400., 260., 0.);
    let fault = |zone: Zone| match Terrain::build(&[zone]) {
        Err(TerrainError::Zone { zone: 0, fault }) => fault,
        other => panic!("{other:?}"),
    };
    let by = Angle::new::<degree>(90.0);
    assert_eq!(
        fault(falls(zone(rail(), 0., 40., 0.), DVec2::X, 90.0)),
        ZoneFault::SlopeOutOfRange { by }
    );
    assert!(matches!(
        fault(falls(zone(rail(), 0., 40., 0.), DVec2::X, -1.0)),
        ZoneFault::SlopeOutOfRange { .. }
    ));
    let ZoneFault::FloorAboveRail { depth } =
        fault(falls(zone(rail(), 0., 40., 4.), DVec2::X, 15.0))
    else {
        panic!("it comes up")
    };
    close(depth.value * 1e3, 40. - 200. * tan(15.), 1e-12);
}

/// A slot is a rectangle with half-round ends: width·(length − width) + π/4·width².
#[test]
fn a_slot_is_a_rectangle_with_round_ends() {
    let slot = Outline::rectangle(DVec2::ZERO, mm(40.), mm(120.), mm(20.)).unwrap();
    let exact = (40. * 80. + PI * 400.) * 1e-6;
    close(slot.area().value / (1.0 - slot.chord_share()), exact, 1e-13);
}
