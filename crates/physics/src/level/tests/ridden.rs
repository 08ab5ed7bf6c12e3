//! scratch
use super::{deep_pan, litres, space};
use crate::level::Rider;
use glam::DVec3;
#[test]
fn a_rider_finds_what_a_cold_search_finds() {
    let space = space(&[(1.0, deep_pan().mesh())]);
    let mut rider = Rider::new(&space, litres(2.0));
    for step in 0..3000 {
        let t = f64::from(step) * 0.01;
        let up = DVec3::new(0.3 * libm::sin(t) + 0.1*libm::sin(40.0*t), 0.2 * libm::cos(0.7 * t), 1.0).normalize();
        let one = rider.level(up).unwrap();
        let other = space.level(up, litres(2.0), None).unwrap();
        assert!((one - other).value.abs() < 1e-14, "{step}: {one:?} {other:?} {rider:?}");
    }
}
