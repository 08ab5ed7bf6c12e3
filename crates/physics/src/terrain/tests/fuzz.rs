//! Whatever zones a fuzzer thinks of.

use super::{mm, zone};
use crate::mesh::{check, larger};
use crate::terrain::{Outline, Terrain, TerrainError, Zone};
use glam::DVec2;
use proptest::prelude::*;

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
