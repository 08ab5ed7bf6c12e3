//! Soundings against closed forms, and against zones of the same shape.

use super::{close, mm, polygon, rectangle, tan, zone};
use crate::mesh::{check, larger};
use crate::terrain::{
    LineFault, Outline, Sounding, SoundingFault, Soundings, SoundingsError, Terrain, ZoneFault,
};
use core::f64::consts::{PI, TAU};
use glam::DVec2;
use uom::si::angle::degree;
use uom::si::f64::Angle;

pub(super) fn soundings(outline: Outline, draft: f64, points: &[(f64, f64, f64)]) -> Soundings {
    let sounding = |&(x, y, depth): &(f64, f64, f64)| Sounding {
        at: DVec2::new(x, y) / 1e3,
        depth: mm(depth),
    };
    Soundings {
        outline,
        draft: Angle::new::<degree>(draft),
        points: points.iter().map(sounding).collect(),
        lines: Vec::new(),
        tip: mm(0.0),
        deeper: mm(0.0),
    }
}

fn built(soundings: &Soundings) -> Terrain {
    let terrain = Terrain::from_soundings(soundings).unwrap();
    assert_eq!(check(terrain.mesh()), Ok(()));
    terrain
}

fn volume(terrain: &Terrain) -> f64 {
    terrain.mesh().volume().value * 1e9
}

/// Numbers in [0, 1) without a crate: the golden ratio and another irrational, well spread and not in a grid.
fn scattered(count: u32) -> impl Iterator<Item = (f64, f64)> {
    let part = |value: f64| value - value.floor();
    (0..count).map(move |at| {
        let at = f64::from(at);
        (part(at * 0.754_877_666_246_692_8), part(at * 0.569_840_290_998_053_2))
    })
}

/// The same, by a linear congruence: clumps and gaps, as a careless hand leaves them.
fn careless(count: u32) -> impl Iterator<Item = (f64, f64)> {
    let mut state: u64 = 0x2545_F491_4F6C_DD1D;
    let mut next = move || {
        state =
            state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    (0..count).map(move |_| (next(), next()))
}

/// A bowl of radius 150 and depth 90 with `inner` soundings in it and as many on its rim as keep the spacing.
fn bowl(spread: impl Iterator<Item = (f64, f64)>, inner: u32) -> Soundings {
    let depth = |x: f64, y: f64| 90.0 * (1.0 - (x * x + y * y) / 22_500.0);
    let rim = (PI * 2.0 * (f64::from(inner) / PI).sqrt()).ceil();
    let mut points: Vec<(f64, f64, f64)> = spread
        .map(|(share, turn)| {
            let (radius, angle) = (149.0 * share.sqrt(), turn * TAU);
            (radius * libm::cos(angle), radius * libm::sin(angle))
        })
        .map(|(x, y)| (x, y, depth(x, y)))
        .collect();
    let mut at = 0.0;
    while at < rim {
        let angle = TAU * at / rim;
        points.push((150.0 * libm::cos(angle), 150.0 * libm::sin(angle), 0.0));
        at += 1.0;
    }
    soundings(Outline::circle(DVec2::ZERO, mm(300.0)).unwrap(), 0.0, &points)
}

/// A paraboloid of revolution holds half of the cylinder around it: π/2·R²·h (Archimedes, from memory).
const BOWL: f64 = PI / 2.0 * 22_500.0 * 90.0;

/// Source: chords over triangles with sides a, b, c under-read a floor of curvature k by k·(a² + b² + c²)/24 on the average
/// (the integral of the error of linear interpolation of a quadratic); least over equilateral ones (L. Fejes Tóth, from
/// memory), of which n in the bowl make 2π/(√3·n)·R² of the square of a side, so 2π/(2√3·n) = 1.81/n of the whole.
#[test]
fn soundings_of_a_bowl_come_near_it_by_the_square_of_their_spacing() {
    for spread in 0..2 {
        let errors: Vec<(f64, f64)> = [50, 200, 1000, 5000]
            .into_iter()
            .map(|count| {
                let bowl = if spread == 0 {
                    bowl(careless(count), count)
                } else {
                    bowl(scattered(count), count)
                };
                (bowl.points.len() as f64, 1.0 - volume(&built(&bowl)) / BOWL)
            })
            .collect();
        for (count, error) in &errors {
            let times_best = error * count / (PI / 3.0_f64.sqrt());
            let worst = if spread == 0 { 3.0 } else { 2.2 };
            assert!(times_best > 1.0 && times_best < worst, "{count}: {error}, {times_best}");
        }
        let [first, .., last] = errors.as_slice() else { panic!("four") };
        let order = libm::log(first.1 / last.1) / libm::log(last.0 / first.0);
        assert!((order - 1.0).abs() < 0.1, "per point, so half of that per spacing: {order}");
    }
}

#[test]
fn the_doubt_of_a_bowl_is_about_what_its_chords_under_read() {
    for count in [60, 250, 1000, 4000] {
        for soundings in [bowl(careless(count), count), bowl(scattered(count), count)] {
            let terrain = built(&soundings);
            let missing = (BOWL - volume(&terrain)) / (PI * 22_500.0);
            let doubt = terrain.doubt().value * 1e3;
            assert!(doubt > 0.85 * missing && doubt < 1.5 * missing, "{count}: {doubt} {missing}");
        }
    }
}

#[test]
fn all_of_the_doubt_on_one_side_moves_the_volume_by_it() {
    let plain = bowl(scattered(400), 400);
    let terrain = built(&plain);
    let moved = built(&Soundings { deeper: terrain.doubt(), ..plain.clone() });
    let more = (volume(&moved) - volume(&terrain)) / (PI * 22_500.0);
    // The rim's own doubt is part of the mean; chords take 8e-6 of the area.
    close(more, terrain.doubt().value * 1e3, 1e-4);
    assert_eq!(moved.doubt(), terrain.doubt());
}

#[test]
fn soundings_of_a_plane_give_the_plane() {
    let depth = |x: f64, y: f64| 50.0 + 0.1 * x - 0.05 * y;
    let mut points: Vec<(f64, f64, f64)> = careless(100)
        .map(|(x, y)| ((x - 0.5) * 300.0, (y - 0.5) * 200.0))
        .map(|(x, y)| (x, y, depth(x, y)))
        .collect();
    for at in 0..15 {
        let along = f64::from(at) * 20.0;
        points.extend(
            [(along - 150., -100.), (150. - along, 100.)].map(|(x, y)| (x, y, depth(x, y))),
        );
    }
    for at in 0..10 {
        let along = f64::from(at) * 20.0;
        points.extend(
            [(150., along - 100.), (-150., 100. - along)].map(|(x, y)| (x, y, depth(x, y))),
        );
    }
    let outline = || rectangle((0., 0.), 300., 200., 0.);
    let terrain = built(&soundings(outline(), 0.0, &points));
    close(volume(&terrain), 300. * 200. * 50., 1e-12);
    assert!(terrain.doubt().value < 1e-12, "a plane has nothing between its points");
    // On a slope g a ball of radius r touches before its lowest point does, by r·(√(1 + g²) − 1) (plain geometry).
    let tip = Soundings { tip: mm(4.0), ..soundings(outline(), 0.0, &points) };
    close(built(&tip).doubt().value * 1e3, 4.0 * ((1.0_f64 + 0.0125).sqrt() - 1.0), 1e-9);
}

#[test]
fn a_level_floor_goes_on_to_the_walls() {
    let inner = [(-50., -30., 40.), (60., -20., 40.), (10., 50., 40.)];
    let outline = || rectangle((0., 0.), 300., 200., 10.);
    let terrain = built(&soundings(outline(), 5.0, &inner));
    let zone = Terrain::build(&[zone(outline(), 0., 40., 5.)]).unwrap();
    close(volume(&terrain), volume(&zone), 1e-12);
    close(terrain.deepest().value, 0.04, 1e-12);
    close(terrain.chord_share(), zone.chord_share(), 1e-4);
}

/// A shelf and a sump traced along its upper and its lower edge: with these as lines it is the zones' own solid.
#[test]
fn traced_edges_make_soundings_the_same_as_zones() {
    let rail = || rectangle((0., 0.), 400., 260., 0.);
    let zones =
        [zone(rail(), 0., 42., 4.), zone(rectangle((20., 0.), 230., 200., 0.), 42., 118., 6.)];
    let terrain = Terrain::build(&zones).unwrap();
    let mut points =
        vec![(-180., -110., 42.), (-180., 110., 42.), (185., -110., 42.), (185., 110., 42.)];
    let lean = 76.0 * tan(6.);
    let mut lines = Vec::new();
    for (inset, depth) in [(0.0, 42.0), (lean, 118.0)] {
        let first = points.len();
        for (x, y) in [(1., 1.), (-1., 1.), (-1., -1.), (1., -1.)] {
            points.push((20. + x * (115. - inset), y * (100. - inset), depth));
        }
        lines.extend((0..4).map(|at| [first + at, first + (at + 1) % 4]));
    }
    let traced = built(&Soundings { lines, ..soundings(rail(), 4.0, &points) });
    close(volume(&traced), volume(&terrain), 1e-12);
    assert!(traced.doubt().value < 1e-12);
    let untraced = built(&soundings(rail(), 4.0, &points));
    assert!((volume(&untraced) / volume(&terrain) - 1.0).abs() > 1e-3, "lines matter here");
}

/// A sounding in a wall, nearer to the rail than any other but behind a traced edge, says nothing of the shelf in front.
#[test]
fn no_depth_is_led_on_across_a_traced_edge() {
    let rail = || rectangle((0., 0.), 400., 260., 0.);
    let mut points =
        vec![(190., -120., 42.), (190., 120., 42.), (-190., 120., 42.), (-190., -120., 42.)];
    for (inset, depth) in [(0.0, 42.0), (8.0, 118.0)] {
        for (x, y) in [(1., 1.), (-1., 1.), (-1., -1.), (1., -1.)] {
            points.push((x * (150. - inset), y * (100. - inset), depth));
        }
    }
    let lines: Vec<_> = [4, 8]
        .iter()
        .flat_map(|from| (0..4).map(move |at| [from + at, from + (at + 1) % 4]))
        .collect();
    let traced = |points: &[(f64, f64, f64)]| {
        built(&Soundings { lines: lines.clone(), ..soundings(rail(), 0.0, points) })
    };
    let without = volume(&traced(&points));
    points.push((0., -96., 80.));
    let with = traced(&points);
    close(volume(&with), without, 1e-12);
    close(with.depth_at(DVec2::new(0., -0.125)).unwrap().value, 0.042, 1e-12);
}

/// A grid laid over a sump knows its walls to a spacing: whatever it misses, one standard uncertainty covers it.
#[test]
fn the_doubt_of_a_grid_covers_where_walls_may_stand() {
    let rail = || rectangle((0., 0.), 400., 260., 0.);
    let zones =
        [zone(rail(), 0., 42., 4.), zone(rectangle((20., 0.), 230., 200., 0.), 42., 118., 6.)];
    let truth = Terrain::build(&zones).unwrap();
    let mut worst: f64 = 0.0;
    for spacing in [5.0, 8.0, 10.0, 15.0] {
        for shift in [0.0, 0.3, 0.6, 0.9] {
            let mut points = Vec::new();
            let mut y = -125.0 + shift * spacing / 2.0;
            while y <= 125.0 {
                let mut x = -195.0 + shift * spacing / 3.0;
                while x <= 195.0 {
                    let depth = truth.depth_at(DVec2::new(x, y) / 1e3).unwrap().value * 1e3;
                    points.push((x, y, depth));
                    x += spacing;
                }
                y += spacing;
            }
            let terrain = built(&soundings(rail(), 4.0, &points));
            let missed = (volume(&terrain) - volume(&truth)) / (400. * 260.);
            let ratio = missed.abs() / (terrain.doubt().value * 1e3);
            assert!(
                ratio < 2.0,
                "{spacing} {shift}: {missed} mm of {}",
                terrain.doubt().value * 1e3
            );
            worst = larger(worst, ratio);
        }
    }
    assert!(worst > 0.3, "no doubt so wide that it says nothing: {worst}");
}

#[test]
fn a_concave_outline_is_filled_and_not_spanned() {
    let angle =
        || polygon(&[(0., 0.), (300., 0.), (300., 100.), (120., 100.), (120., 220.), (0., 220.)]);
    let points =
        [(20., 20., 50.), (280., 20., 50.), (20., 200., 50.), (280., 80., 50.), (100., 200., 50.)];
    close(
        volume(&built(&soundings(angle(), 0.0, &points))),
        (300. * 100. + 120. * 120.) * 50.,
        1e-12,
    );
}

#[test]
fn soundings_at_fault_are_all_named() {
    let rail = || rectangle((0., 0.), 400., 260., 0.);
    let good = [(0., 0., 40.), (50., 0., 41.), (0., 50., 42.)];
    let fault = |more: &[(f64, f64, f64)]| {
        let points: Vec<_> = good.iter().chain(more).copied().collect();
        Terrain::from_soundings(&soundings(rail(), 0.0, &points)).unwrap_err()
    };
    let SoundingsError::Points(outside) =
        fault(&[(203., 0., 40.), (0., 131., 40.), (200.05, 0., 40.)])
    else {
        panic!("outside")
    };
    let by = |at: usize| match outside[at] {
        (position, SoundingFault::Outside { by }) => (position, (by.value * 1e6).round()),
        other => panic!("{other:?}"),
    };
    assert_eq!((outside.len(), by(0), by(1)), (2, (3, 3000.0), (4, 1000.0)));
    assert_eq!(
        fault(&[(0., 0., 40.5), (10., 10., -1.)]),
        SoundingsError::Points(vec![(4, SoundingFault::AboveRail)])
    );
    assert_eq!(
        fault(&[(0., 0., 40.5), (50., 0., 41.), (0., 50., 40.)]),
        SoundingsError::Points(vec![
            (3, SoundingFault::Differs { from: 0 }),
            (5, SoundingFault::Differs { from: 2 })
        ])
    );
    assert_eq!(
        fault(&[(f64::NAN, 0., 40.)]),
        SoundingsError::Points(vec![(3, SoundingFault::NotANumber)])
    );
    let only = |points: &[(f64, f64, f64)]| {
        Terrain::from_soundings(&soundings(rail(), 0.0, points)).unwrap_err()
    };
    assert_eq!(only(&[]), SoundingsError::TooFew { count: 0 });
    assert_eq!(
        only(&[(0., 0., 5.), (1., 0., 5.), (0., 0., 5.)]),
        SoundingsError::TooFew { count: 2 }
    );
    assert_eq!(only(&[(0., 0., 0.), (1., 0., 0.), (0., 1., 0.)]), SoundingsError::NoDepth);
    let walls = Terrain::from_soundings(&soundings(
        rectangle((0., 0.), 120., 60., 0.),
        45.0,
        &[(0., 0., 40.), (50., 0., 41.), (0., 20., 42.)],
    ));
    assert!(matches!(walls, Err(SoundingsError::Walls(ZoneFault::WallsMeet { .. }))), "{walls:?}");
    let draft = Terrain::from_soundings(&soundings(rail(), 90.0, &good));
    assert!(matches!(draft, Err(SoundingsError::Walls(ZoneFault::DraftOutOfRange { .. }))));
}

#[test]
fn lines_that_cross_are_all_named() {
    let angle =
        polygon(&[(0., 0.), (300., 0.), (300., 100.), (120., 100.), (120., 220.), (0., 220.)]);
    let points = [
        (20., 20., 50.),
        (80., 80., 50.),
        (20., 80., 50.),
        (80., 20., 50.),
        (100., 200., 50.),
        (280., 80., 50.),
        (50., 50., 40.),
    ];
    let lines = vec![[0, 1], [2, 3], [4, 5]];
    let crossing = |points: &[(f64, f64, f64)], lines: &[[usize; 2]]| {
        Terrain::from_soundings(&Soundings {
            lines: lines.to_vec(),
            ..soundings(angle.clone(), 0.0, points)
        })
    };
    assert_eq!(
        crossing(&points[..6], &lines).unwrap_err(),
        SoundingsError::Lines(vec![
            LineFault { line: 1, with: Some(0) },
            LineFault { line: 2, with: None }
        ])
    );
    // A sounding where they meet is a corner of both.
    assert!(crossing(&points, &lines[..2]).is_ok());
    // A line along another one, twice, there and back, and one from a point to itself are no crossings.
    assert!(crossing(&points, &[[0, 1], [0, 6], [1, 0], [2, 2], [6, 1]]).is_ok());
}

mod any {
    use super::*;
    use proptest::prelude::*;

    /// Places in a coarse grid, with shifts around what is merged, so that lines and points in common are the rule.
    fn place() -> impl Strategy<Value = (f64, f64)> {
        let nudge = || {
            prop_oneof![
                3 => Just(0.0),
                1 => (-10.0..-3.0_f64, any::<bool>())
                    .prop_map(|(power, back)| libm::pow(10.0, power) * if back { -1e3 } else { 1e3 }),
            ]
        };
        (-11_i32..12, -8_i32..9, nudge(), nudge())
            .prop_map(|(x, y, dx, dy)| (f64::from(x) * 10.0 + dx, f64::from(y) * 10.0 + dy))
    }

    fn outlines() -> impl Strategy<Value = Outline> {
        let size = || (4_i32..20).prop_map(|size| f64::from(size) * 10.0);
        prop_oneof![
            (size(), size(), prop_oneof![Just(0.0), Just(15.0)])
                .prop_map(|(x, y, corner)| rectangle((0., 0.), x, y, corner)),
            size()
                .prop_map(|size| Outline::circle_with_chords(DVec2::ZERO, mm(size), 0.05).unwrap()),
            Just(polygon(&[
                (-100., -70.),
                (100., -70.),
                (100., 0.),
                (0., 0.),
                (0., 70.),
                (-100., 70.)
            ])),
            prop::collection::vec(place(), 3..8).prop_filter_map("no outline", |points| {
                let points: Vec<DVec2> =
                    points.into_iter().map(|(x, y)| DVec2::new(x, y) / 1e3).collect();
                Outline::polygon(&points).ok()
            }),
        ]
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn no_outline_and_no_soundings_cause_a_panic(
            outline in outlines(),
            points in prop::collection::vec((place(), prop_oneof![Just(40.0), Just(0.0), 0.0..90.0_f64]), 0..40),
            lines in prop::collection::vec((0_usize..40, 0_usize..42), 0..12),
            draft in prop_oneof![Just(0.0), Just(5.0), 0.0..60.0_f64],
            tip in prop_oneof![Just(0.0), Just(2.0)],
        ) {
            // Only what lies inside, so that most are built; what lies outside is refused by its own test.
            let points: Vec<(f64, f64, f64)> = points
                .into_iter()
                .map(|((x, y), depth)| (x, y, depth))
                .filter(|&(x, y, _)| outline.contains(DVec2::new(x, y) / 1e3))
                .collect();
            let lines = lines.into_iter().map(|(from, to)| [from, to]);
            let lines = lines.filter(|ends| ends.iter().all(|&end| end < points.len() + 1)).collect();
            let all = Soundings { lines, tip: mm(tip), ..soundings(outline.clone(), draft, &points) };
            match Terrain::from_soundings(&all) {
                Ok(terrain) => {
                    prop_assert_eq!(check(terrain.mesh()), Ok(()));
                    let deepest = points.iter().map(|point| point.2).fold(0.0, larger) / 1e3;
                    prop_assert!(terrain.deepest().value <= deepest + 1e-7);
                    let most = outline.area().value * deepest;
                    prop_assert!(terrain.mesh().volume().value <= most + 1e-9);
                    prop_assert!(terrain.doubt().value.is_finite());
                    let shifted = Soundings { deeper: terrain.doubt(), ..all.clone() };
                    if let Ok(deeper) = Terrain::from_soundings(&shifted) {
                        prop_assert_eq!(check(deeper.mesh()), Ok(()));
                        prop_assert!(deeper.mesh().volume() >= terrain.mesh().volume() * (1.0 - 1e-9));
                    }
                    if draft == 0.0 {
                        for (at, point) in points.iter().enumerate() {
                            // A sounding at the outline may have been moved on to it.
                            let place = DVec2::new(point.0, point.1) / 1e3;
                            let found = terrain.depth_at(place).map_or(0.0, |depth| depth.value);
                            let rim = outline.edges().any(|[from, to]| {
                                let way = (to - from).normalize();
                                way.perp_dot(place - from).abs() < 2e-4
                            });
                            let close = points.iter().enumerate().any(|(other, near)| {
                                other != at && DVec2::new(near.0, near.1).distance(place * 1e3) < 0.2
                            });
                            prop_assert!(rim || close || (found - point.2 / 1e3).abs() < 2e-7, "{at}: {found}");
                        }
                    }
                }
                Err(SoundingsError::TooTangled { near }) => prop_assert!(false, "tangled near {near}"),
                Err(_) => {}
            }
        }
    }
}
