//! Empty, full, more than full, weighted, and wherever the search starts.

use super::{block, close, deep_pan, litres, metres, space, tank};
use crate::level::{LevelError, OilSpace};
use crate::mesh::{MeshProblem, check};
use glam::DVec3;
use uom::si::f64::Length;
use uom::si::volume::liter;

#[test]
fn any_guess_leads_to_the_same_level() {
    let space = space(&[(1.0, deep_pan().mesh())]);
    let up = DVec3::new(0.5, 0.1, 0.86).normalize();
    for share in [1e-12, 1e-6, 1e-3, 0.2, 0.5, 0.9, 0.999_999, 1.0 - 1e-13] {
        let volume = space.capacity() * share;
        let cold = space.level(up, volume, None).unwrap();
        // Near the top the surface is small and heights that hold the same volume lie apart: volumes are compared.
        let holds = |height: Length| {
            let cut = space.below(up, height);
            // A change of the height's last digit cannot be answered for.
            let bound = 1e-12 * volume.value + 3e-17 * cut.surface.value;
            (cut.volume - volume).value.abs() <= bound
        };
        assert!(holds(cold), "{share}");
        for guess in [-1e9, -0.13, -0.05, 0.0, 0.1, 1e9, f64::NAN] {
            assert!(
                holds(space.level(up, volume, Some(metres(guess))).unwrap()),
                "{share} {guess}"
            );
        }
    }
}

#[test]
fn empty_is_the_lowest_point_and_full_the_highest() {
    let space = space(&[(1.0, deep_pan().mesh())]);
    assert_eq!(space.level(DVec3::Z, litres(0.0), None).ok(), space.lowest(DVec3::Z));
    assert_eq!(space.level(DVec3::Z, space.capacity(), None).ok(), space.highest(DVec3::Z));
    close(space.lowest(DVec3::Z).unwrap().value, -0.118, 1e-15);
}

#[test]
fn a_volume_without_a_level_says_why() {
    let tank = tank();
    let capacity = tank.capacity();
    assert_eq!(tank.level(DVec3::Z, litres(108.1), None), Err(LevelError::TooMuch { capacity }));
    assert_eq!(
        OilSpace::default().level(DVec3::Z, litres(1.0), None),
        Err(LevelError::NothingThere)
    );
    assert!(matches!(tank.level(DVec3::Z, litres(-1.0), None), Err(LevelError::NotAVolume(_))));
    assert!(matches!(tank.level(DVec3::Z, litres(f64::NAN), None), Err(LevelError::NotAVolume(_))));
    assert!(matches!(tank.level(DVec3::ONE, litres(1.0), None), Err(LevelError::NotADirection(_))));
    assert!(matches!(tank.level(DVec3::NAN, litres(1.0), None), Err(LevelError::NotADirection(_))));
}

/// A corner in the middle of an upright edge, with a face on that line to close the gap: as whoever moves a mesh may
/// find it, where rounding has flattened a needle.
#[test]
fn a_face_without_area_holds_nothing() {
    let whole = block([0.; 3], [0.5, 0.25, 0.125]);
    let mut needled = whole.clone();
    let [a, b, c] = needled.faces[0];
    let middle = u32::try_from(needled.points.len()).unwrap();
    let ends = [a, b].map(|corner| whole.points[corner as usize]);
    needled.points.push((ends[0] + ends[1]) / 2.0);
    needled.faces.remove(0);
    needled.faces.extend([[a, middle, c], [middle, b, c], [a, b, middle]]);
    assert!(matches!(check(&needled), Err(MeshProblem::Degenerate { count: 1, .. })));
    let (whole, needled) = (space(&[(1.0, &whole)]), space(&[(1.0, &needled)]));
    for up in [DVec3::Z, DVec3::X, ends[1] - ends[0], DVec3::new(0.3, -0.2, 0.9)] {
        let up = up.normalize();
        for share in [1e-6, 0.3, 0.5, 0.9] {
            let volume = whole.capacity() * share;
            let level = |space: &OilSpace| space.level(up, volume, None).unwrap();
            assert!((level(&whole) - level(&needled)).value.abs() < 1e-15, "{up} {share}");
        }
    }
}

/// A block of 100 × 100 × 20 mm takes away a slice of the box it stands in, a half-free case above adds half.
#[test]
fn displaced_bodies_and_a_half_free_case_count_with_their_weights() {
    let interior = block([0., 0., -0.1], [0.4, 0.27, 0.0]);
    let filter = block([0.1, 0.1, -0.06], [0.2, 0.2, -0.04]);
    let case = block([0., 0., 0.], [0.4, 0.27, 0.08]);
    let space = space(&[(1.0, &interior), (-1.0, &filter), (0.5, &case)]);
    close(space.capacity().get::<liter>(), 10.8 - 0.2 + 4.32, 1e-14);
    let below = |z: f64| space.below(DVec3::Z, metres(z));
    close(below(-0.05).volume.get::<liter>(), 5.4 - 0.1, 1e-13);
    close(below(-0.05).surface.value, 0.108 - 0.01, 1e-13);
    close(below(0.04).surface.value, 0.054, 1e-13);
    close(space.level(DVec3::Z, litres(10.6 + 2.16), None).unwrap().value, 0.04, 1e-13);
}

/// A slab fills the box between two heights, so no volume is held there: the level jumps, and never falls.
#[test]
fn a_level_jumps_past_what_is_displaced_from_wall_to_wall() {
    let interior = block([0., 0., 0.], [0.4, 0.27, 0.1]);
    let slab = block([0., 0., 0.04], [0.4, 0.27, 0.06]);
    let space = space(&[(1.0, &interior), (-1.0, &slab)]);
    let level = |volume: f64| space.level(DVec3::Z, litres(volume), None).unwrap().value;
    close(level(4.3), 4.3e-3 / 0.108, 1e-13);
    close(level(4.4), 4.4e-3 / 0.108 + 0.02, 1e-13);
    let between = level(4.32);
    assert!(between > 0.04 - 1e-12 && between < 0.06 + 1e-12, "{between}");
}
