//! One zone against closed forms.

use super::{close, frustum, mm, order, polygon, rectangle, tan, volume, zone};
use crate::mesh::larger;
use crate::terrain::{Outline, Terrain};
use core::f64::consts::{PI, TAU};
use glam::DVec2;
use proptest::prelude::*;

#[test]
fn a_box_holds_its_sides_times_its_depth() {
    close(volume(&[zone(rectangle((10., -7.), 400., 270., 0.), 0., 90., 0.)]), 9_720_000.0, 1e-14);
}

/// A pan of 0.400 × 0.270 m drawn in to 0.340 × 0.210 m over 0.090 m holds 8.019 L. Source:
/// prismatoid formula h/6·(A₁ + 4Aₘ + A₂), elementary solid geometry; verified with a convex hull's volume.
#[test]
fn a_drafted_pan_is_the_prismatoid_of_the_handbook() {
    let draft = libm::atan(30.0 / 90.0) * 180.0 / PI;
    close(volume(&[zone(rectangle((0., 0.), 400., 270., 0.), 0., 90., draft)]), 8_019_000.0, 1e-14);
}

/// A frustum of a cone, 0.150 m to 0.100 m radius over 0.120 m, holds 5.969026 L. Source:
/// elementary solid geometry; verified by quadrature of the section's area.
#[test]
fn a_round_drafted_zone_is_a_frustum_of_a_cone_within_its_chords() {
    let exact = PI / 3.0 * 0.12 * (0.0225 + 0.015 + 0.01);
    close(exact, 5.969_026e-3, 1e-6);
    let draft = libm::atan(50.0 / 120.0) * 180.0 / PI;
    let error = |times: f64| {
        let outline = Outline::circle_with_chords(DVec2::ZERO, mm(300.0), times).unwrap();
        1.0 - volume(&[zone(outline, 0., 120., draft)]) / (exact * 1e9)
    };
    let (coarse, fine) = (error(0.1), error(0.2));
    assert!((libm::log2(coarse / fine) - 2.0).abs() < 0.03, "{coarse} {fine}");
    let cone =
        Terrain::build(&[zone(Outline::circle(DVec2::ZERO, mm(300.0)).unwrap(), 0., 120., draft)]);
    let most = cone.unwrap().chord_share();
    assert!(error(1.0) > 0.5 * most && error(1.0) < most && most < 2e-5, "{} {most}", error(1.0));
}

#[test]
fn a_rounded_drafted_zone_is_the_steiner_form() {
    for (corner, draft) in [(40.0, 7.0), (25.0, 4.0), (20.0, 10.0), (0.0, 15.0)] {
        let outline = rectangle((20., 5.), 300., 200., corner);
        close(
            volume(&[zone(outline.clone(), 0., 80., draft)]),
            frustum(&outline, 80., draft),
            1e-14,
        );
    }
}

/// The volume of a drafted rectangle whose corners are true arcs: the sharp one less what the arcs take away, whose
/// section is (4 − π)·(r − t)² while the inset t is less than the radius.
fn rounded_frustum(x: f64, y: f64, corner: f64, height: f64, draft: f64) -> f64 {
    let sharp = frustum(&rectangle((0., 0.), x, y, 0.), height, draft);
    let lean = tan(draft) * height;
    let left = larger(corner - lean, 0.0);
    let tips = (corner * corner * corner - left * left * left) / (3.0 * tan(draft));
    sharp - (4.0 - PI) * tips
}

/// Chords at their usual number lose at most 1e-5 of the volume, and a 16th of it with four times as many.
#[test]
fn rounded_drafted_zones_miss_true_arcs_by_the_second_order() {
    for (x, y, corner, height, draft) in [
        (412., 268., 25., 42., 4.),
        (230., 236., 20., 118., 6.),
        (300., 200., 40., 80., 7.),
        (120., 80., 30., 60., 12.),
        (300., 200., 5., 20., 10.),
    ] {
        let exact = rounded_frustum(x, y, corner, height, draft);
        let miss = |times: f64| {
            let outline =
                Outline::rectangle_with_chords(DVec2::ZERO, mm(x), mm(y), mm(corner), times);
            1.0 - volume(&[zone(outline.unwrap(), 0., height, draft)]) / exact
        };
        let (plain, fine) = (miss(1.0), miss(4.0));
        assert!(plain > 0.0 && plain < 1e-5, "{plain}");
        assert!((order(plain, fine) - 2.0).abs() < 0.02, "{plain} {fine}");
    }
}

/// A 5 mm corner, 10 degrees, 100 mm deep loses its chords on the way down: below them the walls go on as those
/// of the sharp rectangle, above them as those of the rounded one.
#[test]
fn a_small_corner_gives_way_to_a_mitre() {
    let sharp = rectangle((0., 0.), 300., 200., 0.);
    let whole = frustum(&sharp, 100., 10.);
    // What the roundings take away is a tip: its section is (4 − π)·(r − t)² at inset t, with true arcs.
    let tips = (4.0 - PI) * 125.0 / (3.0 * tan(10.));
    let error = |times: f64| {
        let outline =
            Outline::rectangle_with_chords(DVec2::ZERO, mm(300.), mm(200.), mm(5.), times);
        (whole - volume(&[zone(outline.unwrap(), 0., 100., 10.)])) / tips - 1.0
    };
    let (coarse, fine) = (error(2.0), error(8.0));
    assert!(fine > 0.0 && fine < 1e-3, "{fine}");
    assert!((order(coarse, fine) - 2.0).abs() < 0.1, "{coarse} {fine}");
}

#[test]
fn a_concave_zone_with_draft_is_its_own_steiner_form() {
    let angle =
        polygon(&[(0., 0.), (300., 0.), (300., 100.), (120., 100.), (120., 220.), (0., 220.)]);
    close(volume(&[zone(angle.clone(), 0., 60., 12.)]), frustum(&angle, 60., 12.), 1e-14);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    /// Source: Steiner's formula, which holds while no side has vanished; sides of at least 60 mm do not.
    #[test]
    fn any_convex_polygon_with_draft_is_its_steiner_form(
        corners in 3_u32..9, at in -80.0..80.0_f64, shake in prop::collection::vec(-0.15..0.15_f64, 9),
        height in 5.0..60.0_f64, draft in 0.0..15.0_f64,
    ) {
        let points: Vec<(f64, f64)> = (0..corners)
            .map(|corner| {
                let angle = (f64::from(corner) + shake[corner as usize]) / f64::from(corners) * TAU;
                (at + 150. * libm::cos(angle), 150. * libm::sin(angle) - at)
            })
            .collect();
        let outline = polygon(&points);
        close(volume(&[zone(outline.clone(), 0., height, draft)]), frustum(&outline, height, draft), 1e-12);
    }
}
