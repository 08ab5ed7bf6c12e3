//! Zones that overlap and whose walls cross.

use super::sections::{Piece, union_by_sections};
use super::{close, frustum, polygon, rectangle, volume, zone};
use crate::terrain::Terrain;

#[test]
fn upright_zones_that_overlap_hold_their_union() {
    let zones = [
        zone(rectangle((0., 0.), 400., 260., 0.), 0., 40., 0.),
        zone(rectangle((50., 0.), 200., 100., 0.), 40., 90., 0.),
        zone(rectangle((180., 60.), 160., 80., 0.), 40., 70., 0.),
    ];
    // The third sticks out of the first by 60 mm over its width of 80, and shares 50 × 30 with the second.
    let exact = 400. * 260. * 40. + 200. * 100. * 50. + 160. * 80. * 30. + 60. * 80. * 40.
        - 50. * 30. * 30.;
    close(volume(&zones), exact, 1e-14);
}

#[test]
fn the_rim_of_a_concave_outline_is_no_hole_in_itself() {
    let sliver = polygon(&[(-63., 24.), (-20., 19.), (-12., 20.), (-10., 20.)]);
    let exact = sliver.area().value * 1e6 * 10.0;
    close(volume(&[zone(sliver, 0., 10., 0.)]), exact, 1e-13);
}

/// Two drafted zones from the rail whose walls cross: inclusion–exclusion with the common part, itself the
/// frustum of the common rectangle wherever the same sides bound it at every depth.
#[test]
fn drafted_zones_that_cross_hold_what_inclusion_and_exclusion_say() {
    let (one, two) = (rectangle((0., 0.), 300., 120., 0.), rectangle((0., 0.), 120., 300., 0.));
    let common = rectangle((0., 0.), 120., 120., 0.);
    let exact = frustum(&one, 80., 8.) + frustum(&two, 80., 8.) - frustum(&common, 80., 8.);
    close(volume(&[zone(one, 0., 80., 8.), zone(two, 0., 80., 8.)]), exact, 1e-14);
}

#[test]
fn zones_whose_walls_cross_hold_their_sections() {
    // Middle and size along x and y, opening, floor, draft.
    let zones = [
        ([0., 0.], [300., 200.], 0., 60., 10.),
        ([70., 30.], [220., 120.], 0., 90., 6.),
        ([-40., -50.], [160., 180.], 0., 75., 15.),
        ([10., 20.], [90., 400.], 0., 50., 3.),
        ([20., -30.], [60., 60.], 35., 120., 2.),
    ];
    let zones = zones.map(|(at, size, opens_at, floor, draft)| {
        zone(rectangle((at[0], at[1]), size[0], size[1], 0.), opens_at, floor, draft)
    });
    let pieces: Vec<Piece> = zones.iter().map(Piece::of).collect();
    for count in 1..=zones.len() {
        close(volume(&zones[..count]), union_by_sections(&pieces[..count]) * 1e9, 1e-12);
    }
}

/// The sections themselves against closed forms: one frustum, and two that cross.
#[test]
fn sections_add_up_to_closed_forms() {
    let (one, two) = (rectangle((0., 0.), 300., 120., 0.), rectangle((0., 0.), 120., 300., 0.));
    let common = rectangle((0., 0.), 120., 120., 0.);
    let pieces = [one.clone(), two.clone()].map(|outline| Piece::of(&zone(outline, 0., 80., 8.)));
    let of = |outline| frustum(&outline, 80., 8.);
    close(union_by_sections(&pieces[..1]) * 1e9, of(one.clone()), 1e-14);
    close(union_by_sections(&pieces) * 1e9, of(one) + of(two) - of(common), 1e-14);
}

#[test]
fn the_demo_pans_are_sums_of_frusta() {
    for (shelf, sump, draft) in [(42., 78., 10.), (42., 118., 6.), (32., 54., 6.)] {
        let rail = rectangle((0., 0.), 412., 268., 25.);
        let mouth = rectangle((20., 0.), 230., 236., 20.);
        let exact = frustum(&rail, shelf, 4.) + frustum(&mouth, sump - shelf, draft);
        let zones = [zone(rail, 0., shelf, 4.), zone(mouth, shelf, sump, draft)];
        close(volume(&zones), exact, 1e-14);
        let pan = Terrain::build(&zones).unwrap();
        close(pan.deepest().value, sump / 1e3, 1e-15);
        assert!(pan.chord_share() < 1e-5);
    }
}
