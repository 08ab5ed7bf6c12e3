//! Zones that cannot be, and what is said of them.

use super::{close, polygon, rectangle, tan, zone};
use crate::terrain::{Outline, OutlineError, Terrain, TerrainError, Zone, ZoneFault};
use glam::DVec2;

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

#[test]
fn an_outline_that_crosses_itself_is_refused_where_it_does() {
    let bow = [(0., 0.), (0.3, 0.2), (0.3, 0.), (0., 0.2)].map(|(x, y)| DVec2::new(x, y));
    let Err(OutlineError::Crossing { first, second, at }) = Outline::polygon(&bow) else {
        panic!("not seen")
    };
    assert_eq!((first, second), ([0, 1], [2, 3]));
    assert!(at.distance(DVec2::new(0.15, 0.1)) < 1e-15);
}

/// A channel of 20 mm between two wide ends closes at an inset of 10 mm, long before the walls of the ends meet.
#[test]
fn a_channel_that_closes_on_the_way_down_is_refused_at_its_depth() {
    let dumbbell = || {
        polygon(&[
            (0., 0.),
            (100., 0.),
            (100., 40.),
            (200., 40.),
            (200., 0.),
            (300., 0.),
            (300., 100.),
            (200., 100.),
            (200., 60.),
            (100., 60.),
            (100., 100.),
            (0., 100.),
        ])
    };
    let of = |floor: f64| Terrain::build(&[zone(dumbbell(), 0., floor, 10.)]);
    assert!(of(9.99 / tan(10.)).is_ok());
    let Err(TerrainError::Zone { zone: 0, fault: ZoneFault::InsetSplits { depth, near } }) =
        of(10.01 / tan(10.))
    else {
        panic!("it splits")
    };
    assert!(depth.value * 1e3 <= 10.01 / tan(10.) && depth.value * 1e3 > 9.99 / tan(10.));
    assert!((near.y - 0.05).abs() < 1e-4 && near.x > 0.089 && near.x < 0.211, "{near}");
}
