//! Zones a fuzzer draws, against their sections and against depths by definition.

use super::sections::{Piece, union_by_sections};
use super::{mm, zone};
use crate::mesh::{check, larger, smaller};
use crate::terrain::{Outline, Slope, Terrain, TerrainError, Zone, ZoneFault};
use core::f64::consts::TAU;
use glam::{DVec2, DVec3};
use proptest::prelude::*;
use uom::si::angle::degree;
use uom::si::f64::Angle;

/// A zone, and the convex zones that it is the union of.
#[derive(Debug, Clone)]
struct Drawn {
    zone: Zone,
    pieces: Vec<Piece>,
}

/// Shifts in metres around what is merged, or none.
fn nudge() -> impl Strategy<Value = f64> {
    prop_oneof![
        2 => Just(0.0),
        1 => (-13.0..-7.0_f64, any::<bool>())
            .prop_map(|(power, back)| libm::pow(10.0, power) * if back { -1.0 } else { 1.0 }),
    ]
}

/// Outlines with the convex outlines that cover them. Sizes are tens of millimetres, so that lines, corners and
/// depths in common are the rule.
fn outlines() -> impl Strategy<Value = Vec<Outline>> {
    let size = || (2_i32..20).prop_map(|size| f64::from(size) * 10.0);
    let corner = prop_oneof![Just(0.0), Just(5.0), Just(10.0)];
    let rectangle = (size(), size(), corner).prop_map(|(x, y, corner)| {
        Outline::rectangle_with_chords(DVec2::ZERO, mm(x), mm(y), mm(corner), 0.1)
    });
    let circle = size().prop_map(|size| Outline::circle_with_chords(DVec2::ZERO, mm(size), 0.03));
    let ellipse =
        (size(), size(), prop::collection::vec(0.1..1.0_f64, 3..7)).prop_map(|(x, y, gaps)| {
            let whole: f64 = gaps.iter().sum();
            let mut angle = 0.0;
            let corners: Vec<DVec2> = gaps
                .iter()
                .map(|gap| {
                    angle += gap / whole * TAU;
                    DVec2::new(x * libm::cos(angle), y * libm::sin(angle)) / 2e3
                })
                .collect();
            Outline::polygon(&corners)
        });
    let convex = prop_oneof![3 => rectangle, 1 => circle, 2 => ellipse]
        .prop_filter_map("no outline", |outline| outline.ok().map(|outline| vec![outline]));
    prop_oneof![3 => convex, 1 => angle(size(), size())]
}

/// An angle of two legs: what walls of one draft leave of it is what they leave of the two bars.
fn angle(
    x: impl Strategy<Value = f64>,
    y: impl Strategy<Value = f64>,
) -> impl Strategy<Value = Vec<Outline>> {
    let width = || 1_i32..6;
    (x, y, width(), width(), any::<bool>()).prop_filter_map(
        "no angle",
        |(x, y, across, up, mirrored)| {
            let (across, up) = (f64::from(across) * 10.0, f64::from(up) * 10.0);
            if across >= x || up >= y {
                return None;
            }
            let side = if mirrored { -1e-3 } else { 1e-3 };
            let outline = |points: &[(f64, f64)]| {
                let points: Vec<DVec2> =
                    points.iter().map(|&(x, y)| DVec2::new(x * side, y * 1e-3)).collect();
                Outline::polygon(&points).unwrap()
            };
            let bar = |x: f64, y: f64| outline(&[(0., 0.), (x, 0.), (x, y), (0., y)]);
            let whole = outline(&[(0., 0.), (x, 0.), (x, up), (across, up), (across, y), (0., y)]);
            Some(vec![whole, bar(x, up), bar(across, y)])
        },
    )
}

fn drawn() -> impl Strategy<Value = Drawn> {
    let draft = prop_oneof![Just(0.0), Just(5.0), Just(45.0), 0.0..30.0_f64];
    let fall = prop_oneof![
        2 => Just(None),
        1 => (prop::sample::select(vec![DVec2::X, DVec2::NEG_X, DVec2::Y, DVec2::NEG_Y]),
            prop_oneof![Just(45.0), Just(2.0), 0.1..20.0_f64]).prop_map(Some)
    ];
    let place = (-5_i32..6, -5_i32..6, nudge(), nudge());
    (outlines(), place, 0_i32..3, 1_i32..5, draft, fall).prop_map(
        |(outlines, place, opens, deep, draft, fall)| {
            let at = DVec2::new(
                f64::from(place.0) * 0.01 + place.2,
                f64::from(place.1) * 0.01 + place.3,
            );
            let (opens, floor) = (f64::from(opens) * 10.0, f64::from(opens + deep) * 10.0);
            let of = |outline: &Outline| {
                let moved: Vec<DVec2> = outline.points().iter().map(|&point| point + at).collect();
                zone(Outline::polygon(&moved).unwrap(), opens, floor, draft)
            };
            // An angle and its bars state their depths at middles of their own.
            let slope = fall
                .filter(|_| outlines.len() == 1)
                .map(|(deeper, by)| Slope { deeper, by: Angle::new::<degree>(by) });
            let zones: Vec<Zone> =
                outlines.iter().map(|outline| Zone { slope, ..of(outline) }).collect();
            let convex = if zones.len() > 1 { &zones[1..] } else { &zones };
            Drawn { pieces: convex.iter().map(Piece::of).collect(), zone: zones[0].clone() }
        },
    )
}

/// A group of zones with what is known of them by definition.
struct Known {
    pieces: Vec<Piece>,
    /// How far, in metres of depth, merging may move the ground.
    blur: f64,
    /// How far, in cubic metres, it may move the volume.
    strip: f64,
}

impl Known {
    fn of(zones: &[Drawn]) -> Self {
        let pieces: Vec<Piece> = zones.iter().flat_map(|drawn| drawn.pieces.clone()).collect();
        let leans = zones.iter().map(|drawn| libm::tan(drawn.zone.draft.value));
        let falls = zones.iter().filter_map(|drawn| drawn.zone.slope);
        let lean = leans.chain(falls.map(|fall| 1.0 / libm::tan(fall.by.value)));
        let lean = lean.filter(|lean| *lean > 0.0).fold(1.0, smaller);
        let deepest = pieces.iter().map(|piece| piece.floor).fold(0.0, larger);
        let sides = zones.iter().flat_map(|drawn| drawn.zone.outline.edges());
        let length: f64 = sides.map(|[from, to]| from.distance(to)).sum();
        Self { pieces, blur: 4e-9 * (1.0 + 1.0 / lean), strip: 2e-9 * length * deepest }
    }

    fn depth_at(&self, point: DVec2) -> Option<f64> {
        self.pieces.iter().filter_map(|piece| piece.depth_at(point)).reduce(larger)
    }
}

fn must_agree(terrain: &Terrain, known: &Known, points: &[DVec2]) -> Result<(), TestCaseError> {
    prop_assert_eq!(check(terrain.mesh()), Ok(()));
    let (volume, sections) = (terrain.mesh().volume().value, union_by_sections(&known.pieces));
    let bound = 1e-12 * sections + known.strip;
    prop_assert!((volume - sections).abs() < bound, "{volume} for {sections}");
    for &point in points {
        let (found, expected) =
            (terrain.depth_at(point).map(|depth| depth.value), known.depth_at(point));
        prop_assert_eq!(found.is_some(), expected.is_some(), "at {}", point);
        let (Some(found), Some(expected)) = (found, expected) else { continue };
        prop_assert!((found - expected).abs() < known.blur, "{found} for {expected} at {point}");
        // Straight down from just below the rail there is as much room as the ground is deep.
        let top = point.extend(-1e-6);
        let room = terrain.nearest_wall(top, DVec3::NEG_Z).map(|room| room.value + 1e-6);
        prop_assert!(
            room.is_some_and(|room| (room - expected).abs() < known.blur),
            "{room:?} for {expected} at {point}"
        );
    }
    Ok(())
}

fn paths_must_agree(terrain: &Terrain, known: &Known, ends: &[DVec2]) -> Result<(), TestCaseError> {
    for pair in ends.windows(2).filter(|pair| pair[0] != pair[1]) {
        let profile = terrain.profile(pair[0], pair[1]);
        let along = (pair[1] - pair[0]).normalize();
        prop_assert!(profile[0].0.value.abs() < 1e-15);
        for stops in profile.windows(2) {
            let [(from, start), (to, end)] =
                [stops[0], stops[1]].map(|(at, depth)| (at.value, depth.value));
            prop_assert!(to >= from);
            let middle = pair[0] + along * f64::midpoint(from, to);
            // Pieces shorter than this may lie within what is merged.
            if to - from > 1e-7 {
                let expected = known.depth_at(middle).unwrap_or(0.0);
                let found = f64::midpoint(start, end);
                prop_assert!(
                    (found - expected).abs() < known.blur,
                    "{found} for {expected} at {middle}"
                );
            }
        }
    }
    Ok(())
}

fn footprints_must_agree(
    terrain: &Terrain,
    known: &Known,
    points: &[DVec2],
) -> Result<(), TestCaseError> {
    for pair in points.windows(2) {
        let (low, size) = (pair[0], (pair[1] - pair[0]).abs() / 3.0 + DVec2::splat(1e-3));
        let corner = |x: f64, y: f64| low + size * DVec2::new(x, y);
        let under =
            terrain.under(&[corner(0., 0.), corner(1., 0.), corner(1., 1.), corner(0., 1.)]);
        let mut outside = 0_u32;
        let count = 20;
        for cell in 0..count * count {
            let middle = |at: u32| (f64::from(at) + 0.5) / f64::from(count);
            let point = corner(middle(cell % count), middle(cell / count));
            let Some(depth) = known.depth_at(point) else {
                outside += 1;
                continue;
            };
            prop_assert!(depth > under.least_depth.value - known.blur, "{depth} {under:?}");
            prop_assert!(depth < under.greatest_depth.value + known.blur, "{depth} {under:?}");
        }
        // Cells that a rim passes through are counted whole; a rim of many zones passes through a row or two each.
        let share = under.outside.value / (size.x * size.y);
        let counted = f64::from(outside) / f64::from(count * count);
        prop_assert!((share - counted).abs() < 0.25, "{share} for {counted}");
    }
    Ok(())
}

/// What is said of zones at fault must be so.
fn fault_must_be_so(
    zones: &[Drawn],
    known: &Known,
    fault: TerrainError,
) -> Result<(), TestCaseError> {
    let TerrainError::Zone { zone, fault } = fault else {
        return Err(TestCaseError::fail(format!("{fault:?}")));
    };
    match fault {
        ZoneFault::ChangesNothing => {
            let others: Vec<Piece> = zones
                .iter()
                .enumerate()
                .filter(|(at, _)| *at != zone)
                .flat_map(|(_, drawn)| drawn.pieces.clone())
                .collect();
            let more = union_by_sections(&known.pieces) - union_by_sections(&others);
            prop_assert!(more < 1e-12 + known.strip, "it adds {more}");
        }
        ZoneFault::FloorAboveRail { depth } => {
            prop_assert!(depth.value <= 1e-9);
            prop_assert!((zones[zone].pieces[0].least - depth.value).abs() < 1e-15);
        }
        ZoneFault::FloorNotDeeper { floor, opens_at } => {
            prop_assert!(floor.value <= opens_at.value + 1e-9);
            prop_assert!((zones[zone].pieces[0].floor - floor.value).abs() < 1e-15);
        }
        ZoneFault::WallsMeet { depth } if zones[zone].zone.slope.is_some() => {
            // Above the depth at which they meet there is room, and the floor goes deeper still.
            let deep = Zone { slope: None, floor: depth * 10.0, ..zones[zone].zone.clone() };
            let walls = Piece::of(&deep);
            prop_assert!(walls.section(depth.value - 1e-6) > 0.0);
            prop_assert!(walls.section(depth.value + 1e-6) <= 0.0);
            prop_assert!(zones[zone].pieces[0].section(depth.value - 1e-6) > 0.0);
        }
        ZoneFault::WallsMeet { depth } => {
            let [piece] = zones[zone].pieces.as_slice() else {
                return Err(TestCaseError::fail("a concave outline comes apart"));
            };
            prop_assert!(piece.section(depth.value - 1e-6) > 0.0);
            prop_assert!(piece.section(depth.value + 1e-6) <= 0.0);
        }
        ZoneFault::InsetSplits { depth, .. } => {
            let drawn = &zones[zone];
            prop_assert!(drawn.pieces.len() == 2);
            prop_assert!(drawn.pieces.iter().any(|piece| piece.section(depth.value + 1e-6) <= 0.0));
        }
        other => return Err(TestCaseError::fail(format!("{other:?}"))),
    }
    Ok(())
}

fn places() -> impl Strategy<Value = Vec<DVec2>> {
    prop::collection::vec((-0.15..0.15_f64, -0.15..0.15_f64).prop_map(DVec2::from), 12)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn zones_are_what_their_definition_says(zones in prop::collection::vec(drawn(), 1..5), points in places()) {
        let known = Known::of(&zones);
        let built: Vec<Zone> = zones.iter().map(|drawn| drawn.zone.clone()).collect();
        match Terrain::build(&built) {
            Ok(terrain) => {
                must_agree(&terrain, &known, &points)?;
                paths_must_agree(&terrain, &known, &points)?;
                footprints_must_agree(&terrain, &known, &points)?;
            }
            Err(fault) => fault_must_be_so(&zones, &known, fault)?,
        }
    }
}
