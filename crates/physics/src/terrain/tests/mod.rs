//! Terrains against closed forms, and whatever zones a fuzzer thinks of.

use super::*;
use crate::mesh::check;
use core::f64::consts::PI;
use proptest::prelude::*;
use uom::si::angle::degree;
use uom::si::length::millimeter;

fn mm(value: f64) -> Length {
    Length::new::<millimeter>(value)
}

fn tan(degrees: f64) -> f64 {
    libm::tan(degrees * PI / 180.0)
}

fn zone(outline: Outline, opens_at: f64, floor: f64, draft: f64) -> Zone {
    Zone { outline, opens_at: mm(opens_at), floor: mm(floor), draft: Angle::new::<degree>(draft) }
}

fn rectangle(middle: (f64, f64), x: f64, y: f64, corner: f64) -> Outline {
    let middle = DVec2::new(middle.0, middle.1) / 1e3;
    Outline::rectangle(middle, mm(x), mm(y), mm(corner)).unwrap()
}

fn polygon(points: &[(f64, f64)]) -> Outline {
    let points: Vec<DVec2> = points.iter().map(|&(x, y)| DVec2::new(x, y) / 1e3).collect();
    Outline::polygon(&points).unwrap()
}

/// Builds, checks that the mesh is closed, and gives the volume in cubic millimetres.
fn volume(zones: &[Zone]) -> f64 {
    let terrain = Terrain::build(zones).unwrap();
    assert_eq!(check(terrain.mesh()), Ok(()));
    terrain.mesh().volume().value * 1e9
}

fn close(value: f64, exact: f64, relative: f64) {
    assert!((value / exact - 1.0).abs() <= relative, "{value} for {exact}");
}

/// The volume of a drafted zone by Steiner's formula for a convex outline inset by t: A − P·t + K·t², where K is
/// the sum of tan(turn/2) over the corners, while none of its sides has vanished.
fn frustum(outline: &Outline, height: f64, draft: f64) -> f64 {
    let sides: Vec<DVec2> = outline.edges().map(|[from, to]| (to - from) * 1e3).collect();
    let perimeter: f64 = sides.iter().map(|side| side.length()).sum();
    let corners: f64 = (0..sides.len())
        .map(|at| libm::tan(sides[at].angle_to(sides[(at + 1) % sides.len()]) / 2.0))
        .sum();
    let lean = tan(draft) * height;
    height * (outline.area().value * 1e6 - perimeter * lean / 2.0 + corners * lean * lean / 3.0)
}

#[test]
fn a_box_holds_its_sides_times_its_depth() {
    close(volume(&[zone(rectangle((10., -7.), 400., 270., 0.), 0., 90., 0.)]), 9_720_000.0, 1e-14);
}

/// Check value A12: a pan of 0.400 × 0.270 m drawn in to 0.340 × 0.210 m over 0.090 m holds 8.019 L. Source:
/// prismatoid formula h/6·(A₁ + 4Aₘ + A₂), elementary solid geometry; verified with a convex hull's volume.
#[test]
fn a_drafted_pan_is_the_prismatoid_of_the_handbook() {
    let draft = libm::atan(30.0 / 90.0) * 180.0 / PI;
    close(volume(&[zone(rectangle((0., 0.), 400., 270., 0.), 0., 90., draft)]), 8_019_000.0, 1e-14);
}

/// Check value A11: a frustum of a cone, 0.150 m to 0.100 m radius over 0.120 m, holds 5.969026 L. Source:
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
    assert!((libm::log2(coarse / fine) / 2.0 - 2.0).abs() < 0.1, "{coarse} {fine}");
}

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

/// A drafted rectangle from the rail, in millimetres: middle and size along x and y, floor, draft in degrees.
struct Frustum {
    at: [f64; 2],
    size: [f64; 2],
    floor: f64,
    draft: f64,
}

/// The volume of a union of drafted rectangles from level sections: at each depth the sections are rectangles, the
/// area of their union follows from inclusion and exclusion, and between the depths at which sides of two zones
/// pass each other it is quadratic, so Simpson's rule is exact.
fn union_by_sections(zones: &[Frustum]) -> f64 {
    // Each side moves linearly with the depth: its place at the rail and its speed.
    let side = |zone: &Frustum, axis: usize, sign: f64| {
        (zone.at[axis] + sign * zone.size[axis] / 2.0, -sign * tan(zone.draft))
    };
    let mut stops = vec![0.0];
    for axis in 0..2 {
        let sides: Vec<(f64, f64)> =
            zones.iter().flat_map(|zone| [side(zone, axis, 1.0), side(zone, axis, -1.0)]).collect();
        for one in &sides {
            stops.extend(sides.iter().map(|other| (other.0 - one.0) / (one.1 - other.1)));
        }
    }
    let deepest = zones.iter().map(|zone| zone.floor).fold(0.0, larger);
    stops.extend(zones.iter().map(|zone| zone.floor));
    stops.retain(|stop| *stop >= 0.0 && *stop <= deepest);
    stops.sort_by(f64::total_cmp);
    let area = |depth: f64, middle: f64| -> f64 {
        let subsets = 1_usize..1 << zones.len();
        let common = subsets.map(|subset| {
            let chosen = || zones.iter().enumerate().filter(move |(at, _)| subset >> at & 1 == 1);
            if chosen().any(|(_, zone)| zone.floor < middle) {
                return 0.0;
            }
            let widths = [0, 1].map(|axis| {
                let reach = |sign: f64| {
                    chosen()
                        .map(move |(_, zone)| side(zone, axis, sign))
                        .map(move |(place, speed)| sign * (place + speed * depth))
                };
                let least = |one: f64, other: f64| if other < one { other } else { one };
                larger(
                    reach(1.0).fold(f64::INFINITY, least) + reach(-1.0).fold(f64::INFINITY, least),
                    0.0,
                )
            });
            let sign = if subset.count_ones() % 2 == 1 { 1.0 } else { -1.0 };
            sign * widths[0] * widths[1]
        });
        common.sum()
    };
    let pieces = stops.windows(2).map(|piece| {
        let middle = f64::midpoint(piece[0], piece[1]);
        (piece[1] - piece[0]) / 6.0
            * (area(piece[0], middle) + 4.0 * area(middle, middle) + area(piece[1], middle))
    });
    pieces.sum()
}

#[test]
fn zones_whose_walls_cross_hold_their_sections() {
    let zones = [
        Frustum { at: [0., 0.], size: [300., 200.], floor: 60., draft: 10. },
        Frustum { at: [70., 30.], size: [220., 120.], floor: 90., draft: 6. },
        Frustum { at: [-40., -50.], size: [160., 180.], floor: 75., draft: 15. },
        Frustum { at: [10., 20.], size: [90., 400.], floor: 50., draft: 3. },
    ];
    for count in 1..=zones.len() {
        let built: Vec<Zone> = zones[..count]
            .iter()
            .map(|of| {
                let outline = rectangle((of.at[0], of.at[1]), of.size[0], of.size[1], 0.);
                zone(outline, 0., of.floor, of.draft)
            })
            .collect();
        close(volume(&built), union_by_sections(&zones[..count]), 1e-13);
    }
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

#[test]
fn a_concave_zone_with_draft_is_its_own_steiner_form() {
    let angle =
        polygon(&[(0., 0.), (300., 0.), (300., 100.), (120., 100.), (120., 220.), (0., 220.)]);
    close(volume(&[zone(angle.clone(), 0., 60., 12.)]), frustum(&angle, 60., 12.), 1e-14);
}

#[test]
fn zones_at_fault_are_named() {
    let rail = || zone(rectangle((0., 0.), 400., 260., 0.), 0., 40., 4.);
    let fault = |wrong: Zone| match Terrain::build(&[rail(), wrong]) {
        Err(TerrainError::Zone { zone: 1, fault }) => fault,
        Err(other) => panic!("{other:?}"),
        Ok(_) => panic!("built"),
    };
    let small = || rectangle((0., 0.), 40., 40., 0.);
    assert_eq!(fault(zone(small(), 30., 40., 0.)), ZoneFault::ChangesNothing);
    assert_eq!(fault(rail()), ZoneFault::ChangesNothing);
    assert!(matches!(fault(zone(small(), 40., 40., 0.)), ZoneFault::FloorNotDeeper { .. }));
    assert!(matches!(fault(zone(small(), 40., f64::NAN, 0.)), ZoneFault::FloorNotDeeper { .. }));
    assert!(matches!(fault(zone(small(), 40., 50., 90.)), ZoneFault::DraftOutOfRange { .. }));
    let ZoneFault::WallsMeet { depth } = fault(zone(small(), 40., 80., 45.)) else {
        panic!("they meet")
    };
    close(depth.value, 0.060, 1e-12);
    let waist = polygon(&[(0., 0.), (20., 9.), (40., 0.), (40., 20.), (20., 11.), (0., 20.)]);
    let ZoneFault::InsetSplits { depth, near } = fault(zone(waist, 40., 80., 20.)) else {
        panic!("it splits")
    };
    // The two corners 2 mm apart move along the upright, each by 1/cos of the sides' slope for each of inset.
    let inset = 1.0 / libm::hypot(1.0, 9.0 / 20.0);
    close(depth.value * 1e3, 40.0 + inset / tan(20.), 1e-9);
    assert!(near.distance(DVec2::new(0.02, 0.01)) < 1e-9);
    let swallowed = [rail(), zone(rectangle((0., 0.), 420., 280., 0.), 0., 90., 0.)];
    let first = TerrainError::Zone { zone: 0, fault: ZoneFault::ChangesNothing };
    assert_eq!(Terrain::build(&swallowed), Err(first));
    assert_eq!(Terrain::build(&[]), Err(TerrainError::NoZones));
}

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

#[derive(Debug, Clone)]
enum Form {
    Rectangle(f64, f64, f64),
    Circle(f64),
    Polygon(Vec<(f64, f64)>),
}

fn form() -> impl Strategy<Value = Form> {
    // Whole millimetres make shared lines, shared corners and equal depths likely: the hard cases.
    let size = || (20_i32..200).prop_map(f64::from);
    prop_oneof![
        4 => (size(), size(), 0.0..0.5_f64).prop_map(|(x, y, share)| Form::Rectangle(x, y, share)),
        1 => (size()).prop_map(Form::Circle),
        2 => proptest::collection::vec((-60_i32..60, -60_i32..60), 3..8)
            .prop_map(|points| Form::Polygon(points.iter().map(|&(x, y)| (f64::from(x), f64::from(y))).collect())),
    ]
}

fn any_zone() -> impl Strategy<Value = Zone> {
    let draft = prop_oneof![Just(0.0), Just(5.0), 0.0..30.0_f64];
    let depths = (0_i32..4, 1_i32..6, draft);
    // Shifts around what is merged make lines that nearly coincide.
    let nudge = prop_oneof![4 => Just(0.0), 1 => Just(4e-10), 1 => Just(1.1e-9), 1 => Just(-7e-12), 1 => Just(2.3e-8)];
    (form(), -6_i32..7, -6_i32..7, depths, nudge).prop_filter_map(
        "no outline",
        |(form, x, y, (opens, deep, draft), nudge)| {
            let middle = DVec2::new(f64::from(x) + nudge * 1e2, f64::from(y) - nudge * 7e1) / 100.0;
            let outline = match form {
                Form::Rectangle(x, y, share) => {
                    let corner =
                        if share < 0.2 { 0.0 } else { (share * if x < y { x } else { y }).floor() };
                    Outline::rectangle_with_chords(middle, mm(x), mm(y), mm(corner), 0.2)
                }
                Form::Circle(diameter) => Outline::circle_with_chords(middle, mm(diameter), 0.03),
                Form::Polygon(points) => {
                    let points: Vec<DVec2> =
                        points.iter().map(|&(x, y)| middle + DVec2::new(x, y) / 1e3).collect();
                    Outline::polygon(&points)
                }
            };
            let opens = f64::from(opens) * 10.0;
            outline.ok().map(|outline| zone(outline, opens, opens + f64::from(deep) * 10.0, draft))
        },
    )
}

/// The mean depth over a lattice of columns, with the ground of each zone found from its outline alone: the
/// least distance to a wall's line for convex outlines, none for concave ones.
fn columns(zones: &[Zone]) -> Option<f64> {
    let lean: Vec<f64> = zones.iter().map(|zone| libm::tan(zone.draft.value)).collect();
    let sides: Vec<Vec<[DVec2; 2]>> =
        zones.iter().map(|zone| zone.outline.edges().collect()).collect();
    let is_convex = |zone: usize| {
        let sides = &sides[zone];
        let way = |at: usize| sides[at % sides.len()][1] - sides[at % sides.len()][0];
        (0..sides.len()).all(|at| way(at).perp_dot(way(at + 1)) > 0.0)
    };
    if (0..zones.len()).any(|zone| lean[zone] > 0.0 && !is_convex(zone)) {
        return None;
    }
    let depth = |point: DVec2, zone: usize| {
        if !zones[zone].outline.contains(point) {
            return 0.0;
        }
        let (opens, floor) = (zones[zone].opens_at.value, zones[zone].floor.value);
        let off = |[from, to]: &[DVec2; 2]| (*to - *from).normalize().perp_dot(point - *from);
        let least = sides[zone]
            .iter()
            .map(off)
            .fold(f64::INFINITY, |least, off| if off < least { off } else { least });
        let sloping = opens + if lean[zone] > 0.0 { least / lean[zone] } else { f64::INFINITY };
        if sloping < floor { sloping } else { floor }
    };
    let count = 400;
    let step = 0.4 / f64::from(count);
    let mut sum = 0.0;
    for column in 0..count * count {
        // A place within each cell that follows no line: its coordinates run through a low-discrepancy sequence.
        let jitter = DVec2::new(0.754_877_666_2, 0.569_840_290_9) * f64::from(column);
        let cell = DVec2::new(f64::from(column % count), f64::from(column / count));
        let point = (cell + jitter.fract()) * step - 0.2;
        sum += (0..zones.len()).map(|zone| depth(point, zone)).fold(0.0, larger);
    }
    Some(sum * step * step)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn whatever_the_zones_the_mesh_is_closed(zones in proptest::collection::vec(any_zone(), 1..5)) {
        match Terrain::build(&zones) {
            Ok(terrain) => prop_assert_eq!(check(terrain.mesh()), Ok(())),
            Err(TerrainError::TooTangled { near }) => prop_assert!(false, "tangled near {near}"),
            Err(_) => {}
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_volume_is_that_of_many_columns(zones in proptest::collection::vec(any_zone(), 1..4)) {
        let step = 0.001;
        if let (Ok(terrain), Some(columns)) = (Terrain::build(&zones), columns(&zones)) {
            let found = terrain.mesh().volume().value;
            // A cell through which a side passes is wrong by 0.3 of its column at a guess, and no two alike: six
            // standard deviations of their sum.
            let sides: f64 = zones.iter().map(|zone| zone.outline.edges().map(|[a, b]| a.distance(b)).sum::<f64>()).sum();
            let bound = 2.0 * terrain.deepest().value * step * step * (sides / step + 100.0).sqrt();
            prop_assert!((found - columns).abs() < bound, "{} for {}", found, columns);
        }
    }
}
