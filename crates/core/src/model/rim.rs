//! Points on the rim of a mouth, for questions that have no closed form.

use glam::DVec3;
use sumpwright_physics::level::Mouth;

/// So many points round the rim, counter-clockwise seen from above where the mouth faces down or up; the
/// polygon of them lies inside the rim.
pub(super) fn rim(mouth: &Mouth, count: u32) -> Vec<DVec3> {
    let first = if mouth.normal.z.abs() > 0.5 { DVec3::X } else { DVec3::Z };
    let second = mouth.normal.cross(first).normalize();
    let turn = if second.y < 0.0 { -1.0 } else { 1.0 };
    let radius = mouth.diameter.value / 2.0;
    (0..count)
        .map(|i| {
            let angle = 2.0 * core::f64::consts::PI * f64::from(i) / f64::from(count);
            mouth.centre + radius * (libm::cos(angle) * first + turn * libm::sin(angle) * second)
        })
        .collect()
}
