//! Closed forms, and what is refused. Random bodies are in `bodies`, random paths in `paths`.

mod bodies;
mod dams;
mod paths;

use super::*;
use crate::drain::tests::shapes::{Cubes, cuboid, surface_of};
use crate::mesh::Mesh;
use crate::terrain::Outline;
use glam::DVec2;
use uom::si::f64::Ratio;
use uom::si::ratio::ratio;
use uom::si::volume::liter;

fn litres(volume: Volume) -> f64 {
    volume.get::<liter>()
}

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

fn cubic(value: f64) -> Volume {
    Volume::new::<cubic_meter>(value)
}

fn is(found: f64, expected: f64) -> bool {
    (found - expected).abs() < 1.0e-9
}

fn chamber(space: Mesh) -> Chamber {
    let free_share = Ratio::new::<ratio>(1.0);
    Chamber { space, displaced: Vec::new(), dams: Vec::new(), free_share }
}

fn vessel(space: Mesh) -> Vessel {
    Vessel::new(&[chamber(space)], &[]).unwrap()
}

/// Up with the front of the vessel raised.
fn nose_up(degrees: f64) -> DVec3 {
    let angle = degrees * core::f64::consts::PI / 180.0;
    DVec3::new(libm::sin(angle), 0.0, libm::cos(angle))
}

/// Two sumps 175 mm long on both sides of a ridge 50 mm long and 40 mm high, 270 mm wide, the rear one at x < 0.
fn twin_sumps() -> Mesh {
    let is_ridge = |x: i32, z: i32| z == 0 && (x == 7 || x == 8);
    let cubes: Cubes = (0..16)
        .flat_map(|x| (0..10).map(move |z| [x, 0, z]))
        .filter(|&[x, _, z]| !is_ridge(x, z))
        .collect();
    let mut mesh = surface_of(&cubes);
    for point in &mut mesh.points {
        *point = (*point - DVec3::X * 8.0) * DVec3::new(0.025, 0.270, 0.040);
    }
    mesh
}

const FRONT: DVec3 = DVec3::new(0.15, 0.1, 0.01);
const REAR: DVec3 = DVec3::new(-0.15, 0.1, 0.01);

/// What stays in the front sump is the prism under the line through the ridge's front edge, elementary plane geometry:
/// W (40 run − run² tan/2), run = min(40/tan, 175). One level for both sumps is off every time.
#[test]
fn oil_stays_behind_a_ridge_when_the_nose_is_raised() {
    let vessel = vessel(twin_sumps());
    let whole = 4.2e-3;
    for (degrees, printed) in [(12.0, 1_011.211), (18.0, 664.780), (25.0, 463.213), (35.0, 308.480)]
    {
        let slope = libm::tan(degrees * core::f64::consts::PI / 180.0);
        let run = if 40.0 / slope < 175.0 { 40.0 / slope } else { 175.0 };
        let behind = 270.0 * (40.0 * run - run * run * slope / 2.0) * 1e-9;
        assert!((behind * 1e6 - printed).abs() < 1e-3);
        let up = nose_up(degrees);
        let settled = vessel.turned_with(DVec3::Z, up, cubic(whole)).unwrap();
        let (front, rear) = (settled.over(FRONT), settled.over(REAR));
        assert!((front.volume.value - behind).abs() < 1e-15, "{} {behind}", front.volume.value);
        assert!((front.volume.value + rear.volume.value - whole).abs() < 1e-15);
        let at_once = vessel.turned_with(up, up, cubic(whole)).unwrap();
        assert!(at_once.over(FRONT).volume.value < 0.95 * behind);
    }
}

/// Rectangles by hand: each sump holds 175 · 270 · 40 mm³ up to the ridge.
#[test]
fn basins_are_told_with_their_lips_and_what_they_hold() {
    let basins = vessel(twin_sumps()).basins(DVec3::Z).unwrap();
    let all = basins.all();
    assert_eq!(all.len(), 3);
    for sump in &all[..2] {
        assert!(is(sump.lip.unwrap().value, 0.04) && is(litres(sump.capacity), 1.89));
        assert!(is(sump.formed.value, 0.0) && is(sump.deepest.z, 0.0));
    }
    assert!(all[2].lip.is_none() && is(all[2].formed.value, 0.04));
    assert!(is(litres(all[2].capacity), 400.0 * 270.0 * 400.0 * 1e-6 - 50.0 * 270.0 * 40.0 * 1e-6));
    let below = basins.below(metres(0.03));
    assert!(below.len() == 2 && below.iter().all(|pool| is(litres(pool.volume), 1.4175)));
    assert_eq!(basins.below(metres(0.05)).len(), 1);
    assert!(is(vessel(twin_sumps()).joined_above(DVec3::Z).unwrap().value, 0.04));
}

/// Too little to pass over the ridge stays in both sumps as it was, at two levels after a turn.
#[test]
fn what_does_not_reach_a_lip_stays_where_it_is() {
    let vessel = vessel(twin_sumps());
    let settled = vessel.turned_with(DVec3::Z, nose_up(5.0), cubic(1.0e-3)).unwrap();
    for place in [FRONT, REAR] {
        assert!(is(litres(settled.over(place).volume), 0.5));
    }
    assert_eq!(settled.pools().len(), 2);
}

/// Of a pool over both sumps a pump in the rear one takes all above the ridge and what its own sump holds down to the
/// mouth; what stands in the front sump stays. By hand, level: 10 mm over the ridge, drawn to 15 mm.
#[test]
fn drawing_down_leaves_what_falls_behind_a_lip() {
    let vessel = vessel(twin_sumps());
    let volume = cubic((0.350 * 0.040 + 0.400 * 0.010) * 0.270);
    let settled = vessel.turned_with(DVec3::Z, DVec3::Z, volume).unwrap();
    let rear = settled.over(REAR);
    assert!(is(rear.level.value, 0.05) && rear.pool == Some(0));
    let taken = settled.drawn_to(&rear, metres(0.015));
    assert!(is(litres(taken), (400.0 * 10.0 + 175.0 * 25.0) * 270.0 * 1e-6), "{}", litres(taken));
    let short = settled.drawn_to(&rear, metres(0.06));
    assert!(is(litres(short), -400.0 * 10.0 * 270.0 * 1e-6));
    let low = vessel.turned_with(DVec3::Z, DVec3::Z, cubic(1.0e-3)).unwrap();
    let rear = low.over(REAR);
    let to_the_ridge_and_over = litres(low.drawn_to(&rear, metres(0.05)));
    assert!(
        is(to_the_ridge_and_over, 1.0 - litres(volume)),
        "what the other sump lacks is short too"
    );
}

/// A place over a dry sump is told the sump's floor; oil poured in one sump only, by tilting it all there.
#[test]
fn a_dry_basin_stands_as_high_as_its_floor() {
    let vessel = vessel(twin_sumps());
    let settled = vessel.turned_with(nose_up(60.0), nose_up(60.0), cubic(0.2e-3)).unwrap();
    let settled_front = settled.over(FRONT);
    // At one level the rear holds it all, the front lies higher.
    assert!(settled_front.pool.is_none() && is(settled_front.volume.value, 0.0));
    let floor = nose_up(60.0).dot(DVec3::new(0.025, 0.0, 0.0));
    assert!(is(settled_front.level.value, floor), "{} {floor}", settled_front.level.value);
}

/// A vessel of two chambers, the upper with half its room free: a box of 0.4 × 0.3 × 0.1 m under one of 0.2 × 0.2 ×
/// 0.1 m, 3 cubic decimetres of a block through both. By hand: level in the upper at z = 0.03.
#[test]
fn chambers_join_through_their_passage_and_count_by_their_share() {
    let outline = |x: f64, y: f64| {
        let none = metres(0.0);
        Outline::rectangle(DVec2::ZERO, metres(x), metres(y), none).unwrap()
    };
    let block = |x: f64, y: f64, low: f64, high: f64| {
        cuboid(DVec3::new(-x / 2.0, -y / 2.0, low), DVec3::new(x / 2.0, y / 2.0, high))
    };
    let below = Chamber {
        displaced: vec![block(0.1, 0.1, -0.06, 0.0)],
        ..chamber(block(0.4, 0.3, -0.1, 0.0))
    };
    let above = Chamber {
        displaced: vec![block(0.1, 0.1, 0.0, 0.05)],
        free_share: Ratio::new::<ratio>(0.5),
        ..chamber(block(0.2, 0.2, 0.0, 0.1))
    };
    let passages = Passage::between([0, 1], &outline(0.4, 0.3), &outline(0.2, 0.2), metres(0.0));
    assert_eq!(passages.len(), 1);
    let vessel = Vessel::new(&[below, above], &passages).unwrap();
    let volume = 12.0 - 0.6 + 0.5 * (1.2 - 0.3);
    let settled = vessel.turned_with(DVec3::Z, DVec3::Z, cubic(volume * 1e-3)).unwrap();
    assert!(settled.pools().len() == 1 && is(settled.pools()[0].level.value, 0.03));
    // Neither the block's tips nor the upper floor, which is all open, are basins at any tilt.
    for up in [DVec3::Z, nose_up(20.0), DVec3::new(-0.2, 0.3, 1.0).normalize()] {
        assert_eq!(vessel.basins(up).unwrap().all().len(), 1);
    }
    let whole = vessel.basins(DVec3::Z).unwrap().all()[0].capacity;
    assert!(is(litres(whole), 12.0 - 0.6 + 0.5 * (4.0 - 0.5)));
}

/// A closed pan with a case farther back than its opening: oil caught on the ledge is a basin of its own.
#[test]
fn a_ledge_beside_the_passage_holds_oil() {
    let lower = cuboid(DVec3::new(0.0, 0.0, -0.1), DVec3::new(0.2, 0.2, 0.0));
    let upper = cuboid(DVec3::new(-0.1, 0.0, 0.0), DVec3::new(0.2, 0.2, 0.1));
    let square = |low: f64| {
        let corner = |x: f64, y: f64| DVec2::new(x, y);
        let corners = [corner(low, 0.0), corner(0.2, 0.0), corner(0.2, 0.2), corner(low, 0.2)];
        Outline::polygon(&corners).unwrap()
    };
    let passages = Passage::between([0, 1], &square(0.0), &square(-0.1), metres(0.0));
    let vessel = Vessel::new(&[chamber(lower), chamber(upper)], &passages).unwrap();
    let basins = vessel.basins(nose_up(10.0)).unwrap().all();
    assert_eq!(basins.len(), 3);
    // The wedge on the ledge, 0.1² W tan 10°/2.
    let wedge = 0.1 * 0.1 * 0.2 * libm::tan(10.0 * core::f64::consts::PI / 180.0) / 2.0;
    assert!(basins.iter().any(|basin| is(litres(basin.capacity), wedge * 1e3)));
    let apart = Vessel::new(
        &[
            chamber(cuboid(DVec3::ZERO, DVec3::ONE)),
            chamber(cuboid(DVec3::X * 3.0, DVec3::X * 3.0 + DVec3::ONE)),
        ],
        &[],
    );
    assert!(matches!(apart.unwrap().joined_above(DVec3::Z), Err(BasinError::Apart { .. })));
}

#[test]
fn what_is_no_vessel_or_no_oil_is_refused() {
    let pan = cuboid(DVec3::ZERO, DVec3::ONE);
    let mut open = pan.clone();
    open.faces.pop();
    let refused = |space| Vessel::new(&[chamber(space)], &[]).err();
    assert!(matches!(refused(open), Some(BasinError::OpenEdge { .. })));
    assert_eq!(refused(Mesh::default()), Some(BasinError::Empty));
    assert_eq!(Vessel::new(&[], &[]).err(), Some(BasinError::Empty));
    let nowhere = Passage { chambers: [0, 1], outline: vec![DVec3::ZERO] };
    let one = [chamber(pan.clone())];
    assert_eq!(Vessel::new(&one, &[nowhere]).err(), Some(BasinError::NoSuchChamber));
    let vessel = vessel(pan);
    let turned = |up, volume| vessel.turned_with(DVec3::Z, up, cubic(volume)).err();
    assert_eq!(turned(DVec3::Z * 2.0, 0.5), Some(BasinError::UpNotUnit));
    assert_eq!(turned(DVec3::NAN, 0.5), Some(BasinError::NotFinite));
    assert!(matches!(turned(DVec3::X, 1.5), Some(BasinError::TooMuch { .. })));
    assert!(matches!(turned(DVec3::X, -0.5), Some(BasinError::NotAVolume(_))));
    assert!(matches!(turned(DVec3::X, f64::NAN), Some(BasinError::NotAVolume(_))));
    let full = vessel.turned_with(DVec3::Z, DVec3::X, cubic(1.0)).unwrap();
    assert!(is(full.pools()[0].level.value, 1.0));
    let empty = vessel.turned_with(DVec3::Z, DVec3::X, cubic(0.0)).unwrap();
    assert!(empty.pools().is_empty() && empty.over(DVec3::splat(0.5)).pool.is_none());
}
