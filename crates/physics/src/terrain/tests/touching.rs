//! Zones that share lines, corners or everything, or miss each other by less than can be told.

use super::sections::{Piece, union_by_sections};
use super::{close, frustum, polygon, rectangle, tan, volume, zone};
use crate::terrain::{Outline, Terrain, TerrainError, Zone, ZoneFault};
use core::f64::consts::PI;
use glam::DVec2;

/// Shifts in millimetres, from far less than what is merged, over about as much, to far more.
const SHIFTS: [f64; 11] =
    [0.0, 1e-13, 1e-9, 5e-8, 4.99e-7, 9.9e-7, 1e-6, 1.01e-6, 2e-6, 1e-5, 1e-4];

fn plain(at: (f64, f64), x: f64, y: f64, floor: f64) -> Zone {
    zone(rectangle(at, x, y, 0.), 0., floor, 0.)
}

#[test]
fn of_identical_zones_the_last_is_the_one_too_many() {
    let pan = || zone(rectangle((3., 4.), 400., 260., 25.), 0., 40., 4.);
    for count in 2..5 {
        let zones: Vec<Zone> = (0..count).map(|_| pan()).collect();
        let last = TerrainError::Zone { zone: count - 1, fault: ZoneFault::ChangesNothing };
        assert_eq!(Terrain::build(&zones), Err(last));
    }
}

#[test]
fn nearly_identical_zones_are_either_one_too_many_or_built() {
    for shift in SHIFTS {
        let pan = |at: f64| zone(rectangle((at, 2. * at), 400., 260., 25.), 0., 40., 4.);
        // What the second adds: strips along two walls, in cubic millimetres.
        let more = shift * (260. + 2. * 400.) * 40.;
        match Terrain::build(&[pan(0.), pan(shift)]) {
            Ok(_) => {
                assert!(more > 0.5e-3, "{shift}");
                close(volume(&[pan(0.), pan(shift)]), volume(&[pan(0.)]), 0.02 * shift + 2e-8);
            }
            Err(fault) => {
                let last = TerrainError::Zone { zone: 1, fault: ZoneFault::ChangesNothing };
                assert!(fault == last && (more < 2e-3 || shift < 2e-6), "{shift} {fault:?}");
            }
        }
    }
}

#[test]
fn zones_side_by_side_hold_their_sum() {
    // A whole side in common, and part of one, with floors alike and not.
    for (at, y) in [((150., 0.), 200.), ((150., 30.), 90.), ((150., 100.), 200.)] {
        for floor in [40., 70.] {
            let zones = [plain((0., 0.), 200., 200., 40.), plain(at, 100., y, floor)];
            close(volume(&zones), 200. * 200. * 40. + 100. * y * floor, 1e-14);
        }
    }
}

#[test]
fn zones_that_touch_at_a_corner_hold_their_sum() {
    for floor in [40., 70.] {
        let zones = [plain((0., 0.), 200., 200., 40.), plain((150., 150.), 100., 100., floor)];
        close(volume(&zones), 200. * 200. * 40. + 100. * 100. * floor, 1e-14);
    }
    let ring = [(100., 0.), (0., 100.), (-100., 0.), (0., -100.)];
    let zones: Vec<Zone> = ring.iter().map(|&at| plain(at, 100., 100., 30.)).collect();
    close(volume(&zones), 4. * 100. * 100. * 30., 1e-14);
}

#[test]
fn a_gap_or_overlap_too_narrow_to_see_changes_the_volume_by_no_more() {
    for shift in SHIFTS.iter().flat_map(|&shift| [shift, -shift]) {
        for (x, y) in
            [(150. + shift, 0.), (150. + shift, 30. - shift), (150. + shift, 150. + shift)]
        {
            for (floor, draft) in [(40., 0.), (70., 0.), (40., 5.), (70., 5.)] {
                let zones = [
                    zone(rectangle((0., 0.), 200., 200., 0.), 0., 40., draft),
                    zone(rectangle((x, y), 100., 100., 0.), 0., floor, draft),
                ];
                let sum = frustum(&zones[0].outline, 40., draft)
                    + frustum(&zones[1].outline, floor, draft);
                // The overlap, and what merging may move: a strip along the walls of both.
                let bound = (shift.abs() + 2e-6) * 1200. * floor;
                let found = volume(&zones);
                assert!((found - sum).abs() < bound, "{shift} {x} {y}: {found} {sum}");
            }
        }
    }
}

/// The sump's outline is the shelf's floor, to the last digit or not quite.
#[test]
fn a_sump_that_starts_where_the_shelf_ends_is_a_sum_of_frusta() {
    let lean = 2. * 40. * tan(10.);
    for shift in SHIFTS.iter().flat_map(|&shift| [shift, -shift]) {
        let rail = rectangle((0., 0.), 400., 260., 0.);
        let mouth = rectangle((0., 0.), 400. - lean + shift, 260. - lean + shift, 0.);
        let exact = frustum(&rail, 40., 10.) + frustum(&mouth, 50., 10.);
        let zones = [zone(rail, 0., 40., 10.), zone(mouth, 40., 90., 10.)];
        // Lines nearer than 1e-6 mm are merged: a strip of that width along the walls.
        let bound = if shift.abs() > 1e-12 { 1e-8 } else { 1e-12 };
        close(volume(&zones), exact, bound);
    }
}

#[test]
fn one_outline_with_two_drafts_or_floors_is_the_deeper_of_both() {
    for (corner, first, second) in [
        (0., (40., 5.), (60., 0.)),
        (0., (40., 0.), (60., 20.)),
        (25., (40., 3.), (60., 12.)),
        (25., (30., 0.), (60., 9.)),
    ] {
        let outline = Outline::rectangle_with_chords(
            DVec2::ZERO,
            super::mm(400.),
            super::mm(260.),
            super::mm(corner),
            0.2,
        )
        .unwrap();
        let both = [first, second].map(|(floor, draft)| zone(outline.clone(), 0., floor, draft));
        if first == (40., 5.) {
            let fault = TerrainError::Zone { zone: 0, fault: ZoneFault::ChangesNothing };
            assert_eq!(Terrain::build(&both), Err(fault));
            continue;
        }
        close(volume(&both), union_by_sections(&both.each_ref().map(Piece::of)) * 1e9, 1e-12);
    }
}

#[test]
fn points_on_a_side_and_sides_in_one_line_change_nothing() {
    let stepped = polygon(&[
        (0., 0.),
        (100., 0.),
        (200., 0.),
        (300., 0.),
        (300., 90.),
        (300., 200.),
        (0., 200.),
    ]);
    assert_eq!(stepped.points().len(), 4);
    let alone = frustum(&stepped, 50., 6.);
    close(volume(&[zone(stepped.clone(), 0., 50., 6.)]), alone, 1e-14);
    // Two upright notches whose sides lie in the lines of the first zone's.
    let zones = [
        zone(stepped, 0., 50., 0.),
        plain((50., 100.), 100., 200., 70.),
        plain((250., 100.), 100., 200., 60.),
    ];
    close(volume(&zones), 300. * 200. * 50. + 100. * 200. * (20. + 10.), 1e-14);
}

#[test]
fn round_zones_on_one_middle_are_steps() {
    let circle =
        |diameter: f64| Outline::circle_with_chords(DVec2::ZERO, super::mm(diameter), 0.1).unwrap();
    let area = |diameter: f64| circle(diameter).area().value * 1e6;
    let zones = [
        zone(circle(200.), 0., 20., 0.),
        zone(circle(150.), 20., 50., 0.),
        zone(circle(90.), 50., 60., 0.),
    ];
    close(volume(&zones), area(200.) * 20. + area(150.) * 30. + area(90.) * 10., 1e-13);
}

/// A bundle of thin bars through one middle: each line crosses all others near one place.
#[test]
fn a_star_of_bars_is_closed_at_any_turn() {
    for turn in [0.0, 1e-12, 1e-9, 1e-7, 0.1] {
        let zones: Vec<Zone> = (0..5)
            .map(|bar| {
                let angle = PI * f64::from(bar) / 5.0 + turn * f64::from(bar * bar);
                let (along, across) = (DVec2::from_angle(angle), DVec2::from_angle(angle).perp());
                let corner = |long: f64, wide: f64| along * long + across * wide;
                let corners = [
                    corner(-0.2, -0.01),
                    corner(0.2, -0.01),
                    corner(0.2, 0.01),
                    corner(-0.2, 0.01),
                ];
                zone(Outline::polygon(&corners).unwrap(), 0., 30., 2.)
            })
            .collect();
        let pieces: Vec<Piece> = zones.iter().map(Piece::of).collect();
        close(volume(&zones), union_by_sections(&pieces) * 1e9, 1e-11);
    }
}

/// An upright zone's side lies a quarter of a millionth of a millimetre beside the mitre of another's walls, and its
/// corner on the other's: the corner is moved, and the line where floor and wall are equally deep must still reach
/// the side.
#[test]
fn a_line_of_equal_depth_reaches_a_side_that_was_moved() {
    let round = Outline::circle_with_chords(DVec2::new(0.01, 0.03), super::mm(80.), 0.03).unwrap();
    for shift in SHIFTS.iter().flat_map(|&shift| [shift, -shift, 0.254 * shift]) {
        let bar = |x: f64, y: f64| {
            let low = (-10. + shift, -40.);
            rectangle((low.0 + x / 2., low.1 + y / 2.), x, y, 0.)
        };
        let angle = polygon(&[
            (-10. + shift, -40.),
            (20. + shift, -40.),
            (20. + shift, -10.),
            (10. + shift, -10.),
            (10. + shift, 40.),
            (-10. + shift, 40.),
        ]);
        let wall = zone(round.clone(), 0., 30., 1.773);
        let pieces = [
            Piece::of(&wall),
            Piece::of(&zone(bar(30., 30.), 10., 20., 0.)),
            Piece::of(&zone(bar(20., 80.), 10., 20., 0.)),
        ];
        let bound = if shift.abs() > 0.0 { 1e-7 } else { 1e-12 };
        close(volume(&[wall, zone(angle, 10., 20., 0.)]), union_by_sections(&pieces) * 1e9, bound);
    }
}
