//! Levels along a way: those of a cold search, whatever the threads.

use super::{block, deep_pan, litres, space};
use crate::level::{LevelError, OilSpace, Rider};
use glam::DVec3;
use proptest::prelude::*;

fn pan_with_filter() -> OilSpace {
    let filter = block([-0.08, -0.06, -0.05], [0.1, 0.07, -0.02]);
    let case = block([-0.19, -0.12, 0.0], [0.19, 0.12, 0.08]);
    space(&[(1.0, deep_pan().mesh()), (-1.0, &filter), (0.5, &case)])
}

/// A drive with a tremble, a sudden jump and a spike.
fn drive(count: u32) -> Vec<DVec3> {
    (0..count)
        .map(|step| {
            let t = f64::from(step) * 0.01;
            let tremble = 0.02 * libm::sin(f64::from(step) * 2.399);
            let jump = if (700..900).contains(&step) { 0.5 } else { 0.0 };
            let spike = if step == 1300 { 1.4 } else { 0.0 };
            let x = 0.3 * libm::sin(0.5 * t) + tremble + jump;
            DVec3::new(x, 0.2 * libm::cos(0.7 * t) - tremble + spike, 1.0).normalize()
        })
        .collect()
}

#[test]
fn along_a_drive_every_level_is_that_of_a_cold_search() {
    let space = pan_with_filter();
    let ways = drive(3000);
    for (step, (up, level)) in ways.iter().zip(space.levels(&ways, litres(4.5))).enumerate() {
        let cold = space.level(*up, litres(4.5), None).unwrap();
        assert!((level.unwrap() - cold).value.abs() < 1e-14, "{step}");
    }
}

#[test]
fn the_number_of_threads_changes_no_bit() {
    let space = pan_with_filter();
    let ways = drive(5000);
    let bits = |threads: usize| -> Vec<u64> {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        let levels = pool.install(|| space.levels(&ways, litres(4.5)));
        levels.iter().map(|level| level.as_ref().unwrap().value.to_bits()).collect()
    };
    let one = bits(1);
    for threads in [2, 3, 7] {
        assert!(bits(threads) == one, "{threads}");
    }
}

#[test]
fn a_ride_goes_on_after_an_attitude_that_is_none() {
    let space = pan_with_filter();
    let mut rider = Rider::new(&space, litres(4.5));
    let before = rider.level(DVec3::Z).unwrap();
    assert!(matches!(rider.level(DVec3::NAN), Err(LevelError::NotADirection(_))));
    assert!(matches!(rider.level(DVec3::ZERO), Err(LevelError::NotADirection(_))));
    assert!((rider.level(DVec3::Z).unwrap() - before).value.abs() < 1e-15);
}

#[test]
fn an_empty_and_a_full_space_are_ridden_too() {
    let space = space(&[(1.0, deep_pan().mesh())]);
    for volume in [litres(0.0), space.capacity()] {
        for (up, level) in drive(50).iter().zip(space.levels(&drive(50), volume)) {
            assert_eq!(level, space.level(*up, volume, None));
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_jumps_lead_to_the_same_levels(
        ups in prop::collection::vec([-1.0..1.0_f64, -1.0..1.0, 0.1..1.0], 2..40), share in 1e-7..0.999_999_f64,
    ) {
        let space = pan_with_filter();
        let volume = space.capacity() * share;
        let mut rider = Rider::new(&space, volume);
        for up in ups {
            let up = DVec3::from(up).normalize();
            let height = rider.level(up).unwrap();
            let cut = space.below(up, height);
            let bound = 1e-12 * volume.value + 1e-15 * space.capacity().value + 1e-16 * cut.surface.value.abs();
            prop_assert!((cut.volume - volume).value.abs() <= bound, "{:?} {volume:?}", cut.volume);
        }
    }
}
