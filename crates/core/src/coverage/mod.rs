//! How far the vehicle may lean, or how hard it may be driven on level ground, before the inlet uncovers: in every
//! direction, for the least, the stated and the most oil, cold and hot.
//!
//! A direction is named by where the oil runs: azimuth 0 forward (a descent, braking), 90° to the left (the right side
//! high, a right turn), 180° rearward (a climb, accelerating), 270° to the right. A horizontal acceleration a leans
//! apparent gravity by atan(a/g), so that one tilt answers both questions.

mod floor;
mod map;
mod ray;

pub use floor::floor_bares;
pub use map::{
    CoverageCase, CoverageMap, CoverageRay, DutyMark, FillCase, coverage_case, duty_marks,
};
pub use ray::{COVERED, LOOKED_TO, STEP, least_tilt, margin_beyond};

/// Where the oil runs, in words: `rearward`, `rearward and to the left`.
pub fn toward(azimuth: f64) -> &'static str {
    const WORDS: [&str; 8] = [
        "forward",
        "forward and to the left",
        "to the left",
        "rearward and to the left",
        "rearward",
        "rearward and to the right",
        "to the right",
        "forward and to the right",
    ];
    let eighth = libm::fmod(libm::round(azimuth / core::f64::consts::FRAC_PI_4), 8.0);
    let place = WORDS.iter().zip(0_u32..).find(|(_, i)| (f64::from(*i) - eighth).abs() < 0.5);
    place.map_or("forward", |(word, _)| word)
}
