//! What must hold for any closed body, any weights and any attitude.

use super::clipped::volume_below;
use super::{block, deep_pan, metres, space};
use crate::level::OilSpace;
use crate::mesh::{Mesh, larger, prism};
use crate::terrain::{Outline, Terrain, Zone};
use core::f64::consts::TAU;
use glam::{DMat3, DVec2, DVec3};
use proptest::prelude::*;
use uom::si::angle::degree;
use uom::si::f64::{Angle, Volume};
use uom::si::volume::cubic_meter;

fn direction() -> impl Strategy<Value = DVec3> {
    let any = [-1.0..1.0_f64, -1.0..1.0, -1.0..1.0]
        .prop_map(DVec3::from)
        .prop_filter("too short to point", |vector| vector.length() > 0.1)
        .prop_map(DVec3::normalize);
    // Along the axes whole faces lie in the surface.
    prop_oneof![6 => any, 1 => prop::sample::select(DVec3::AXES.to_vec()), 1 => Just(DVec3::NEG_Z)]
}

/// An upright column over corners on an ellipse.
fn column() -> impl Strategy<Value = Mesh> {
    let corners = prop::collection::vec(0.05..1.0_f64, 3..12);
    (corners, 0.02..0.3_f64, 0.02..0.3_f64, 0.01..0.2_f64).prop_map(|(gaps, x, y, tall)| {
        let whole: f64 = gaps.iter().sum();
        let mut angle = 0.0;
        let corners: Vec<DVec2> = gaps
            .iter()
            .map(|gap| {
                angle += gap / whole * TAU;
                DVec2::new(x * libm::cos(angle), y * libm::sin(angle))
            })
            .collect();
        prism(&Outline::polygon(&corners).unwrap(), metres(-tall), metres(0.0)).unwrap()
    })
}

/// A rail and a sump that may stick out of it, with drafted walls that may cross.
fn pan() -> impl Strategy<Value = Mesh> {
    let zone = |opens: f64| {
        (0.1..0.4_f64, 0.1..0.4_f64, 0.0..0.04_f64, -0.1..0.1_f64, 0.01..0.08_f64, 0.0..20.0_f64)
            .prop_map(move |(x, y, corner, at, deep, draft)| Zone {
                outline: Outline::rectangle_with_chords(
                    DVec2::new(at, -at / 2.0),
                    metres(x),
                    metres(y),
                    metres(corner),
                    0.1,
                )
                .unwrap(),
                opens_at: metres(opens),
                floor: metres(opens + deep),
                slope: None,
                draft: Angle::new::<degree>(draft),
            })
    };
    (zone(0.0), zone(0.02)).prop_filter_map("a zone too many", |(rail, sump)| {
        Terrain::build(&[rail, sump]).ok().map(|terrain| terrain.mesh().clone())
    })
}

fn body() -> impl Strategy<Value = Mesh> {
    prop_oneof![column(), pan(), Just(deep_pan().mesh().clone())]
}

/// A body, the free part of a case above it, less the body's own ground at part of its depth.
fn weighted() -> impl Strategy<Value = OilSpace> {
    let displaced = prop_oneof![Just(1.0), 0.1..1.0_f64];
    (body(), 0.1..1.0_f64, 0.1..0.9_f64, displaced).prop_map(|(mesh, free, share, displaced)| {
        let [low, high] = mesh.bounds().unwrap();
        let case = block([low.x, low.y, high.z], [high.x, high.y, high.z + 0.05]);
        let flatter = turned(&mesh, DMat3::from_diagonal(DVec3::new(1.0, 1.0, share)), DVec3::ZERO);
        space(&[(1.0, &mesh), (free, &case), (-displaced, &flatter)])
    })
}

fn turned(mesh: &Mesh, turn: DMat3, shift: DVec3) -> Mesh {
    Mesh {
        points: mesh.points.iter().map(|&point| turn * point + shift).collect(),
        faces: mesh.faces.clone(),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn below_is_what_a_clipped_mesh_encloses(mesh in body(), up in direction(), share in 0.0..1.0_f64) {
        let space = space(&[(1.0, &mesh)]);
        let [low, high] = [space.lowest(up).unwrap(), space.highest(up).unwrap()];
        let height = low + (high - low) * share;
        let whole = space.capacity().value;
        let clipped = volume_below(&mesh, up, height.value);
        prop_assert!((space.below(up, height).volume.value - clipped).abs() < 2e-14 * whole);
    }

    #[test]
    fn below_and_above_are_the_whole(space in weighted(), up in direction(), share in 0.0..1.0_f64) {
        let [low, high] = [space.lowest(up).unwrap(), space.highest(up).unwrap()];
        let height = low + (high - low) * share;
        let (below, above) = (space.below(up, height), space.below(-up, -height));
        let whole = space.capacity();
        prop_assert!(((below.volume + above.volume - whole) / whole).value.abs() < 1e-13);
        // A face that lies in the surface counts as below neither way.
        if up.abs().max_element() < 1.0 {
            prop_assert!((below.surface - above.surface).value.abs() < 1e-14);
        }
        prop_assert!(below.surface.value > -1e-15);
    }

    #[test]
    fn turning_body_and_gravity_together_keeps_the_level(
        mesh in body(), up in direction(), axis in direction(), angle in 0.0..6.3_f64, share in 0.001..0.999_f64,
    ) {
        let turn = DMat3::from_axis_angle(axis, angle);
        let shift = DVec3::new(3.0, -2.0, 1.0);
        let still = space(&[(1.0, &mesh)]);
        let moved = space(&[(1.0, &turned(&mesh, turn, shift))]);
        let volume = still.capacity() * share;
        let one = still.level(up, volume, None).unwrap();
        let way = (turn * up).normalize();
        let other = moved.level(way, volume, None).unwrap().value - way.dot(shift);
        // Coordinates of 3 m are rounded to 4e-16 m; where the surface is small that moves the level by more.
        let surface = still.below(up, one).surface.value;
        let [_, size] = mesh.bounds().unwrap();
        let bound = 1e-14 + 1e-15 * size.length_squared() / larger(surface, 1e-9);
        prop_assert!((one.value - other).abs() < bound, "{} {other} {bound}", one.value);
    }

    #[test]
    fn a_level_holds_the_volume_it_was_asked_for(space in weighted(), up in direction(), share in 0.0..1.0_f64) {
        let capacity = space.capacity().value;
        for share in [share, share * 1e-3, share * 1e-6, share * 1e-9, share * 1e-12] {
            let volume = Volume::new::<cubic_meter>(capacity * share);
            let height = space.level(up, volume, None).unwrap();
            let cut = space.below(up, height);
            // Sums of the whole body are rounded, and a change of the height's last digit cannot be answered for.
            let bound = 1e-12 * volume.value + 1e-15 * capacity + 1e-16 * larger(cut.surface.value, 0.0);
            prop_assert!((cut.volume - volume).value.abs() <= bound, "{:?} for {volume:?}", cut.volume);
        }
    }

    #[test]
    fn more_oil_never_stands_lower(
        space in weighted(), up in direction(), share in 0.0..1.0_f64, more in 0.0..1.0_f64,
    ) {
        let volume = space.capacity() * share;
        let fuller = volume + (space.capacity() - volume) * more;
        let one = space.level(up, volume, None).unwrap();
        let other = space.level(up, fuller, Some(one)).unwrap();
        // Between two heights that hold the same but for rounding either may come.
        let same = (fuller - volume).value.abs() <= 1e-13 * space.capacity().value;
        prop_assert!(same || other >= one, "{one:?} {other:?}");
    }
}
