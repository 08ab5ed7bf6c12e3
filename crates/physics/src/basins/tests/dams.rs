//! Walls without thickness that stand in the oil.

use super::*;
use crate::mesh::smaller;

/// A box of 0.4 × 0.2 × 0.5 m with a wall of 60 mm across it at x = 0.1, and holes.
fn dammed(openings: Vec<Opening>) -> Vessel {
    let dam =
        Dam { from: DVec2::new(0.1, 0.05), to: DVec2::new(0.1, 0.15), top: metres(0.06), openings };
    let space = cuboid(DVec3::ZERO, DVec3::new(0.4, 0.2, 0.5));
    Vessel::new(&[Chamber { dams: vec![dam], ..chamber(space) }], &[]).unwrap()
}

fn hole(corners: &[DVec3], radius: f64) -> Opening {
    Opening { corners: corners.to_vec(), radius: metres(radius) }
}

/// As behind the ridge: W (60 run − run² tan/2) stays in front, run = min(60/tan, 300).
#[test]
fn oil_stays_behind_a_dam() {
    let with_dam = dammed(Vec::new());
    let whole = 2.2e-3;
    for degrees in [15.0, 30.0, 45.0] {
        let slope = libm::tan(degrees * core::f64::consts::PI / 180.0);
        let run = if 0.06 / slope < 0.3 { 0.06 / slope } else { 0.3 };
        let behind = 0.2 * (0.06 * run - run * run * slope / 2.0);
        let settled = with_dam.turned_with(DVec3::Z, nose_up(degrees), cubic(whole)).unwrap();
        let (front, rear) =
            (settled.over(DVec3::new(0.11, 0.1, 0.01)), settled.over(DVec3::new(0.09, 0.1, 0.01)));
        assert_eq!(settled.pools().len(), 2);
        assert!((front.volume.value - behind).abs() < 1e-14, "{} {behind}", front.volume.value);
        assert!((rear.volume.value + behind - whole).abs() < 1e-14);
        // The same volume stands at the same level in a box that ends at the wall.
        let own = vessel(cuboid(DVec3::ZERO, DVec3::new(0.1, 0.2, 0.5)));
        let alone = own.turned_with(nose_up(degrees), nose_up(degrees), rear.volume).unwrap();
        assert!((rear.level - alone.pools()[0].level).abs() < metres(1e-12));
    }
}

/// Level, both sides hold 60 mm, together at any height what the box holds, and the dam is no thing of any volume.
#[test]
fn a_dam_parts_the_room_and_takes_none() {
    for up in [DVec3::Z, nose_up(9.0), nose_up(-14.0), DVec3::new(0.1, 0.25, 1.0).normalize()] {
        let basins = dammed(Vec::new()).basins(up).unwrap();
        let whole = vessel(cuboid(DVec3::ZERO, DVec3::new(0.4, 0.2, 0.5))).basins(up).unwrap();
        assert_eq!(basins.all().len(), 3);
        for share in [0.05, 0.1, 0.3, 0.6, 0.95] {
            let height = metres(-0.15 + 0.6 * share);
            let sum = |basins: &Basins| -> f64 {
                basins.below(height).iter().map(|pool| pool.volume.value).sum()
            };
            assert!((sum(&basins) - sum(&whole)).abs() < 1e-14);
        }
    }
    let level = dammed(Vec::new()).basins(DVec3::Z).unwrap().all();
    assert!(is(litres(level[0].capacity) + litres(level[1].capacity), 0.4 * 0.2 * 0.06 * 1e3));
    assert!(level[..2].iter().any(|basin| is(litres(basin.capacity), 0.1 * 0.2 * 0.06 * 1e3)));
}

/// The side that stands higher runs down to the lowest place of an opening: round ends by their radius, in the wall's
/// plane.
#[test]
fn an_opening_is_a_lip_at_its_lowest_place() {
    let at = |y: f64, z: f64| DVec3::new(0.1, y, z);
    let slot = hole(&[at(0.06, 0.03), at(0.12, 0.03)], 0.01);
    let square = hole(&[at(0.06, 0.02), at(0.12, 0.02), at(0.12, 0.04), at(0.06, 0.04)], 0.0);
    for openings in [vec![slot.clone()], vec![square], vec![hole(&[at(0.1, 0.05)], 0.002), slot]] {
        let basins = dammed(openings).basins(DVec3::Z).unwrap().all();
        assert!(basins[..2].iter().all(|basin| is(basin.lip.unwrap().value, 0.02)));
    }
    // Sideways the lowest place of a round hole is not its foot: up · middle − r √(1 − (up · n)²).
    let up = DVec3::new(0.1, 0.4, 1.0).normalize();
    let basins = dammed(vec![hole(&[at(0.1, 0.03)], 0.01)]).basins(up).unwrap().all();
    let lip = up.dot(at(0.1, 0.03)) - 0.01 * (1.0 - up.x * up.x).sqrt();
    assert!(basins[..2].iter().all(|basin| is(basin.lip.unwrap().value, lip)));
    // A hole at the floor leaves nothing behind the wall.
    let open = dammed(vec![hole(&[at(0.1, 0.01)], 0.01)]).basins(DVec3::Z).unwrap();
    assert_eq!(open.all().len(), 1);
}

/// A dam in a trough with sloped sides goes on to the walls: level, what is behind it is a prism with the trough's
/// section, (40 + 20) · 20 mm at 45° to the top at 20 mm.
#[test]
fn a_dam_goes_on_to_where_the_walls_reach_its_top() {
    let rows = [0.03, 0.0, 0.0, 0.03].map(|z| vec![z; 2]).to_vec();
    let ys = [-0.05, -0.02, 0.02, 0.05];
    let space = crate::drain::tests::shapes::terrain(&[0.0, 0.3], &ys, &rows, 0.2);
    let dam = Dam {
        from: DVec2::new(0.1, -0.01),
        to: DVec2::new(0.1, 0.01),
        top: metres(0.02),
        openings: Vec::new(),
    };
    let vessel = Vessel::new(&[Chamber { dams: vec![dam], ..chamber(space) }], &[]).unwrap();
    let basins = vessel.basins(DVec3::Z).unwrap().all();
    let section = (0.04 + 0.02) * 0.02 * 1e3;
    assert_eq!(basins.len(), 3);
    let mut held = [litres(basins[0].capacity), litres(basins[1].capacity)];
    held.sort_by(f64::total_cmp);
    assert!(is(held[0], 0.1 * section) && is(held[1], 0.2 * section), "{held:?}");
}

/// Two dams that cross make four cells of one box; a hole from one cell to the next joins these two only.
#[test]
fn dams_that_cross_make_cells() {
    let dam = |from: DVec2, to: DVec2, openings| Dam { from, to, top: metres(0.05), openings };
    let corner = |x: f64, y: f64| DVec2::new(x, y);
    let holes = vec![hole(&[DVec3::new(0.2, 0.05, 0.03)], 0.005)];
    let dams = vec![
        dam(corner(0.2, 0.0), corner(0.2, 0.2), holes),
        dam(corner(0.0, 0.1), corner(0.4, 0.1), Vec::new()),
    ];
    let space = cuboid(DVec3::ZERO, DVec3::new(0.4, 0.2, 0.3));
    let cells = Vessel::new(&[Chamber { dams, ..chamber(space) }], &[]).unwrap();
    for up in [DVec3::Z, nose_up(4.0), DVec3::new(0.05, 0.09, 1.0).normalize()] {
        let basins = cells.basins(up).unwrap();
        let leaves = basins.all().iter().filter(|basin| basin.lip.is_some()).count();
        assert_eq!(basins.below(metres(0.02)).len(), 4, "{up} {leaves}");
        let sum: f64 = basins.below(metres(0.024)).iter().map(|pool| litres(pool.volume)).sum();
        let whole = vessel(cuboid(DVec3::ZERO, DVec3::new(0.4, 0.2, 0.3))).basins(up).unwrap();
        assert!(is(sum, litres(whole.below(metres(0.024))[0].volume)));
    }
    let level = cells.basins(DVec3::Z).unwrap();
    assert_eq!(level.below(metres(0.03)).len(), 3);
    assert_eq!(level.below(metres(0.051)).len(), 1);
    assert!(level.below(metres(0.02)).iter().all(|pool| is(litres(pool.volume), 0.4)));
}

/// What stands across a dam's line is parted with the floor: a block on legs of air that the dam runs through.
#[test]
fn a_block_across_a_dam_does_not_open_it() {
    let dam = Dam {
        from: DVec2::new(0.1, 0.05),
        to: DVec2::new(0.1, 0.15),
        top: metres(0.06),
        openings: Vec::new(),
    };
    let space = cuboid(DVec3::ZERO, DVec3::new(0.4, 0.2, 0.5));
    let block = cuboid(DVec3::new(0.05, 0.05, 0.02), DVec3::new(0.25, 0.15, 0.04));
    let all = Chamber { dams: vec![dam], displaced: vec![block], ..chamber(space) };
    for (up, parts) in [(DVec3::Z, 2), (nose_up(3.0), 2)] {
        let basins = Vessel::new(core::slice::from_ref(&all), &[]).unwrap().basins(up).unwrap();
        let below = basins.below(metres(0.055));
        assert_eq!(below.len(), parts);
        let sum: f64 = below.iter().map(|pool| litres(pool.volume)).sum();
        let whole = Chamber { dams: Vec::new(), ..all.clone() };
        let whole = Vessel::new(&[whole], &[]).unwrap().basins(up).unwrap();
        assert!(is(sum, whole.below(metres(0.055)).iter().map(|pool| litres(pool.volume)).sum()));
    }
    let level = Vessel::new(&[all], &[]).unwrap().basins(DVec3::Z).unwrap();
    let rear = level.below(metres(0.05)).iter().map(|pool| litres(pool.volume)).fold(9.0, smaller);
    assert!(is(rear, 0.1 * 0.2 * 0.05 * 1e3 - 0.05 * 0.1 * 0.02 * 1e3));
}

#[test]
fn a_dam_without_length_is_refused() {
    let dam = Dam { from: DVec2::ONE, to: DVec2::ONE, top: metres(0.0), openings: Vec::new() };
    let space = Chamber { dams: vec![dam], ..chamber(cuboid(DVec3::ZERO, DVec3::ONE)) };
    assert_eq!(Vessel::new(&[space], &[]).err(), Some(BasinError::DamWithoutLength));
}
