//! Closed forms, and what is refused. Random bodies are in `properties`.

mod properties;
pub(crate) mod shapes;

use glam::DVec3;
use uom::si::f64::Volume;
use uom::si::volume::liter;

use super::*;
use shapes::{cuboid, surface_of, trough, turned, with_void};

fn litres(volume: Volume) -> f64 {
    volume.get::<liter>()
}

/// Litres that stay, in all and in pools that hold the outlet.
fn shares(drained: &Drained) -> (f64, f64) {
    let sum = |keep: fn(&&Pool) -> bool| {
        drained.pools.iter().filter(keep).map(|pool| litres(pool.volume)).sum()
    };
    (sum(|_| true), sum(|pool| pool.holds_outlet))
}

fn is(found: f64, expected: f64) -> bool {
    (found - expected).abs() < 1.0e-9
}

/// Elementary solid geometry (e.g. Bronshtein/Semendyayev, Handbook of Mathematics, stereometry): A h = 0.30 L for a
/// flat floor of 0.05 m² and a side drain whose lowest point is 6 mm above it.
#[test]
fn a_side_drain_leaves_the_floor_area_times_its_height() {
    let pan = cuboid(DVec3::ZERO, DVec3::new(0.25, 0.20, 0.10));
    let drained = pools_after_draining(&pan, DVec3::Z, DVec3::new(0.0, 0.10, 0.006)).unwrap();
    let [pool] = drained.pools[..] else { panic!("one pool") };
    assert!((litres(pool.volume) / 0.30 - 1.0).abs() < 1.0e-6);
    assert!(pool.holds_outlet && is(pool.level.value, 0.006) && is(pool.deepest.z, 0.0));
    assert_eq!(drained.stays(), (pool.volume, pool.volume));
    assert!(is(drained.moved.value, 0.0));
}

/// The wedge L² W tan/2, elementary solid geometry as above: 0.40 × 0.27 m parked 2° nose down with the drain at the
/// rear floor edge keeps 0.75428862 L; re-derived elsewhere by clipping a convex polyhedron.
#[test]
fn a_pan_parked_nose_down_keeps_a_wedge_from_a_rear_drain() {
    let pan = cuboid(DVec3::ZERO, DVec3::new(0.40, 0.27, 0.10));
    let tilt = 2.0 * core::f64::consts::PI / 180.0;
    let up = DVec3::new(-libm::sin(tilt), 0.0, libm::cos(tilt));
    let drained = pools_after_draining(&pan, up, DVec3::new(0.0, 0.135, 0.0)).unwrap();
    let (all, at_outlet) = shares(&drained);
    assert!((all / 0.754_288_62 - 1.0).abs() < 1.0e-6);
    assert!(is(all, at_outlet));
}

/// Two sumps, floors at 0 and 10 mm, with a ridge 50 mm high and flat from x = 0.20 to 0.25 m between sloped flanks;
/// 0.20 m wide.
fn twin_sumps() -> Mesh {
    let profile = [(0.0, 0.0), (0.15, 0.0), (0.20, 0.05), (0.25, 0.05), (0.30, 0.01), (0.45, 0.01)];
    trough(&profile, 0.20, 0.12)
}

/// Prisms by hand: behind the ridge 0.2·(0.05·0.04/2 + 0.15·0.04) = 1.4 L, whatever the drain in the other sump does;
/// round a drain 20 mm up in the other, 0.2·(0.15·0.02 + 0.02·0.02/2) = 0.64 L.
#[test]
fn a_ridge_cuts_off_the_sump_that_has_no_drain() {
    let floor = pools_after_draining(&twin_sumps(), DVec3::Z, DVec3::new(0.05, 0.1, 0.0));
    let (all, at_outlet) = shares(&floor.unwrap());
    assert!(is(all, 1.4) && is(at_outlet, 0.0));
    let side = pools_after_draining(&twin_sumps(), DVec3::Z, DVec3::new(0.0, 0.1, 0.02)).unwrap();
    let (all, at_outlet) = shares(&side);
    assert!(is(all, 1.4 + 0.64) && is(at_outlet, 0.64));
    let levels: Vec<_> = side.pools.iter().map(|pool| pool.level.value).collect();
    assert!(levels.len() == 2 && is(levels[0], 0.02) && is(levels[1], 0.05));
}

/// By hand: the trough up to 60 mm less what is solid below it, 0.2·(0.45·0.06 − 0.05·0.05/2 − 0.05·0.05
/// − 0.05·(0.05 + 0.01)/2 − 0.15·0.01) = 4.05 L.
#[test]
fn a_drain_above_the_ridge_leaves_one_pool_over_both_sumps() {
    let drained =
        pools_after_draining(&twin_sumps(), DVec3::Z, DVec3::new(0.0, 0.1, 0.06)).unwrap();
    let (all, at_outlet) = shares(&drained);
    assert_eq!(drained.pools.len(), 1);
    assert!(is(all, at_outlet) && is(all, 4.05), "{all}");
}

/// Drained on its ridge, each sump keeps a pool that only the outlet's height holds.
#[test]
fn a_drain_on_the_ridge_leaves_a_pool_on_each_side() {
    let drained =
        pools_after_draining(&twin_sumps(), DVec3::Z, DVec3::new(0.2, 0.1, 0.05)).unwrap();
    assert_eq!(drained.pools.len(), 2);
    assert!(drained.pools.iter().all(|pool| pool.holds_outlet));
    assert!(is(shares(&drained).0, 1.4 + 0.2 * (0.15 * 0.05 + 0.05 * 0.05 / 2.0) * 1000.0));
}

/// A shelf 0.20 m long parked 5° nose up, its rear wall low: the wedge 0.2² W tan 5°/2 stays on it while the sump
/// runs empty through a drain in its lowest edge.
#[test]
fn a_shelf_traps_a_wedge_that_no_drain_in_the_sump_reaches() {
    let pan = trough(&[(0.0, 0.08), (0.20, 0.08), (0.25, 0.0), (0.40, 0.0)], 0.24, 0.15);
    let tilt = 5.0 * core::f64::consts::PI / 180.0;
    let up = DVec3::new(libm::sin(tilt), 0.0, libm::cos(tilt));
    let drained = pools_after_draining(&pan, up, DVec3::new(0.25, 0.12, 0.0)).unwrap();
    let (all, at_outlet) = shares(&drained);
    assert!(is(all, 0.2 * 0.2 * 0.24 * libm::tan(tilt) / 2.0 * 1000.0), "{all}");
    assert!(is(at_outlet, 0.0));
}

/// Two legs joined low down: oil stands equally high in both, and the ceiling of the passage is no pool.
#[test]
fn oil_in_a_bent_tube_stands_as_high_in_both_legs() {
    let legs = [0, 1, 2].iter().flat_map(|&z| [[0, 0, z], [2, 0, z]]);
    let tube = surface_of(&legs.chain([[1, 0, 0]]).collect());
    let drained = pools_after_draining(&tube, DVec3::Z, DVec3::new(0.0, 0.5, 2.5)).unwrap();
    assert_eq!(drained.pools.len(), 1);
    assert!(is(drained.pools[0].volume.value, 2.0 * 2.5 + 1.0));
}

/// A room of 3 × 3 × 4 cubes with one of solid afloat in it, drained over a rim three cubes up into a shaft and a passage
/// that runs back under the room: 3 · 9 − 1 cubes stay. Oil under the solid stands on the room's floor, not the passage's.
#[test]
fn an_island_in_the_oil_hangs_over_the_nearest_floor_below_it() {
    let room = (0..3).flat_map(|x| (0..3).flat_map(move |y| (2..6).map(move |z| [x, y, z])));
    let shaft = (0..6).map(|z| [1, -2, z]);
    let way = shaft.chain([[1, -1, 5], [1, -1, 0], [1, 0, 0], [1, 1, 0]]);
    let body = surface_of(&room.chain(way).filter(|cube| *cube != [1, 1, 3]).collect());
    let drained = pools_after_draining(&body, DVec3::Z, DVec3::new(1.5, 1.5, 0.0)).unwrap();
    let [pool] = drained.pools[..] else { panic!("one pool") };
    assert!(is(pool.volume.value, 26.0) && is(pool.level.value, 5.0) && !pool.holds_outlet);
}

/// A block of 0.1 × 0.1 × 0.05 m hanging 20 mm over the floor, as part of the body's surface and as a block: oil to
/// 30 mm is 0.2·0.2·0.03 m³ less the block's lowest 10 mm.
#[test]
fn a_block_in_the_oil_takes_its_wet_part_off_however_it_is_given() {
    let pan = cuboid(DVec3::ZERO, DVec3::new(0.2, 0.2, 0.1));
    let block = cuboid(DVec3::new(0.05, 0.05, 0.02), DVec3::new(0.15, 0.15, 0.07));
    let outlet = DVec3::new(0.0, 0.1, 0.03);
    let one = pools_after_draining(&with_void(&pan, &block), DVec3::Z, outlet).unwrap();
    let (all, at_outlet) = shares(&one);
    assert!(one.pools.len() == 1 && is(all, 1.2 - 0.1) && is(at_outlet, all));
    let blocks = [block.clone()];
    let other = pools_round_blocks(&pan, &blocks, DVec3::Z, outlet).unwrap();
    let (least, most) = other.stays();
    assert!(is(litres(least), 1.1) && is(litres(most), 1.1));
    let dry = pools_round_blocks(&pan, &blocks, DVec3::Z, DVec3::new(0.0, 0.1, 0.02)).unwrap();
    assert!(is(litres(dry.stays().0), 0.8) && is(litres(dry.stays().1), 0.8));
}

/// The same with a block that stands on the floor and rises 30 mm out of the lid: exact while the level is below
/// the lid, two values when what is wet of it would rise out of the interior.
#[test]
fn a_block_that_rises_out_of_the_oil_space_gives_bounds_only_when_it_is_wet_there() {
    let pan = cuboid(DVec3::ZERO, DVec3::new(0.2, 0.2, 0.1));
    let block = [cuboid(DVec3::new(0.05, 0.05, 0.0), DVec3::new(0.15, 0.15, 0.13))];
    let level = pools_round_blocks(&pan, &block, DVec3::Z, DVec3::new(0.0, 0.1, 0.03)).unwrap();
    assert!(is(litres(level.stays().0), 0.9) && is(litres(level.stays().1), 0.9));
    let up = DVec3::new(-0.6, 0.0, 0.8);
    let steep = pools_round_blocks(&pan, &block, up, DVec3::new(0.0, 0.1, 0.05)).unwrap();
    let (least, most) = steep.stays();
    assert!(litres(least) < litres(most));
    assert!(is(litres(most), litres(steep.pools[0].volume)));
}

#[test]
fn an_outlet_off_the_surface_is_moved_to_it_and_the_report_says_how_far() {
    let pan = cuboid(DVec3::ZERO, DVec3::new(0.2, 0.2, 0.1));
    let drained = pools_after_draining(&pan, DVec3::Z, DVec3::new(-0.003, 0.1, 0.02)).unwrap();
    assert!(drained.outlet.distance(DVec3::new(0.0, 0.1, 0.02)) < 1.0e-12);
    assert!(is(drained.moved.value, 0.003));
    let corner = pools_after_draining(&pan, DVec3::Z, DVec3::new(-0.03, -0.04, 0.02)).unwrap();
    assert!(is(corner.moved.value, 0.05));
}

/// Drained through its lid, nothing leaves; drained at an underside, what stands lower stays.
#[test]
fn an_outlet_in_a_ceiling_keeps_all_below_it() {
    let pan = cuboid(DVec3::ZERO, DVec3::new(0.2, 0.2, 0.1));
    let lid = pools_after_draining(&pan, DVec3::Z, DVec3::new(0.1, 0.1, 0.1)).unwrap();
    assert!(is(shares(&lid).0, 4.0));
    let block = cuboid(DVec3::new(0.05, 0.05, 0.02), DVec3::new(0.15, 0.15, 0.07));
    let hung = with_void(&pan, &block);
    for outlet in [DVec3::new(0.11, 0.1, 0.02), DVec3::new(0.05, 0.05, 0.02)] {
        let drained = pools_after_draining(&hung, DVec3::Z, outlet).unwrap();
        assert!(is(shares(&drained).1, 0.8));
    }
}

#[test]
fn what_is_no_closed_space_with_an_outlet_is_refused() {
    let pan = cuboid(DVec3::ZERO, DVec3::ONE);
    let far = turned(&pan, glam::DQuat::IDENTITY, DVec3::X * 3.0);
    let drain = |mesh: &Mesh, up| pools_after_draining(mesh, up, DVec3::ZERO);
    assert_eq!(drain(&Mesh::default(), DVec3::Z), Err(DrainError::Empty));
    assert_eq!(drain(&pan, DVec3::Z * 2.0), Err(DrainError::UpNotUnit));
    assert_eq!(drain(&pan, DVec3::NAN), Err(DrainError::NotFinite));
    let mut open = pan.clone();
    open.faces.pop();
    assert!(matches!(drain(&open, DVec3::Z), Err(DrainError::OpenEdge { .. })));
    let mut missing = pan.clone();
    missing.faces[3][1] = 99;
    assert_eq!(drain(&missing, DVec3::Z), Err(DrainError::MissingCorner { face: 3 }));
    let mut inward = pan.clone();
    inward.faces.iter_mut().for_each(|face| face.swap(0, 1));
    assert_eq!(drain(&inward, DVec3::Z), Err(DrainError::InsideOut));
    let mut two = pan.clone();
    two.points.extend(&far.points);
    two.faces.extend(far.faces.iter().map(|face| face.map(|corner| corner + 8)));
    assert_eq!(drain(&two, DVec3::Z), Err(DrainError::Apart { at: DVec3::X * 3.0 }));
    let blocks = |block| pools_round_blocks(&pan, &[block], DVec3::Z, DVec3::ZERO);
    assert_eq!(blocks(far), Err(DrainError::BlockOutside { block: 0 }));
    assert_eq!(blocks(open), Err(DrainError::BlockUnsound { block: 0 }));
}
