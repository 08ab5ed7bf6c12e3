//! Metric screw threads: the basic profile, and what a designation such as `M14x1.5` stands for.
//!
//! These are basic sizes. A real thread's limits lie some tenths of a millimetre off them and are not
//! computed here.

use core::fmt;

use uom::si::area::square_meter;
use uom::si::f64::{Area, Length};
use uom::si::length::meter;

/// Coarse pitches, `(nominal diameter, pitch)` in millimetres, for the sizes that drains and flanges use.
///
/// Source: ISO 261, general plan, M3 to M24, as printed in public tables; the standard itself was not read.
const COARSE: [(f64, f64); 18] = [
    (3.0, 0.5),
    (3.5, 0.6),
    (4.0, 0.7),
    (4.5, 0.75),
    (5.0, 0.8),
    (6.0, 1.0),
    (7.0, 1.0),
    (8.0, 1.25),
    (9.0, 1.25),
    (10.0, 1.5),
    (11.0, 1.5),
    (12.0, 1.75),
    (14.0, 2.0),
    (16.0, 2.0),
    (18.0, 2.5),
    (20.0, 2.5),
    (22.0, 2.5),
    (24.0, 3.0),
];

/// The largest share of the diameter that a pitch may be: 0.25 mm on M1, the coarsest thread of ISO 261.
const COARSEST_SHARE: f64 = 0.25;

/// How far two diameters in millimetres may differ and still be the same size of the table.
const SAME_SIZE: f64 = 1.0e-9;

/// A metric thread by its nominal diameter and pitch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thread {
    /// The nominal (major) diameter d.
    pub nominal: Length,
    /// The pitch P.
    pub pitch: Length,
}

/// Why a text is no thread designation that can be read.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum DesignationError {
    /// The text does not begin with `M`.
    NotMetric,
    /// What stands for the diameter is not a positive number.
    Diameter(String),
    /// What stands for the pitch is not a positive number.
    Pitch(String),
    /// The pitch, in millimetres, is left out, and this diameter has no coarse pitch in the table.
    NoCoarsePitch(f64),
    /// The pitch is more than a quarter of the diameter, both in millimetres.
    PitchTooCoarse {
        /// The diameter read.
        diameter: f64,
        /// The pitch read.
        pitch: f64,
    },
}

impl fmt::Display for DesignationError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotMetric => {
                write!(out, "a metric thread begins with a capital M, as in M14x1.5")
            }
            Self::Diameter(found) => {
                write!(out, "expected the diameter in millimetres after M, found `{found}`")
            }
            Self::Pitch(found) => {
                write!(out, "expected the pitch in millimetres after x, as in 1.5, found `{found}`")
            }
            Self::NoCoarsePitch(diameter) => {
                write!(out, "M{diameter} has no coarse pitch between M3 and M24: state the pitch")
            }
            Self::PitchTooCoarse { diameter, pitch } => {
                write!(out, "a pitch of {pitch} mm is more than a quarter of {diameter} mm")
            }
        }
    }
}

impl core::error::Error for DesignationError {}

impl Thread {
    /// The pitch diameter, the same for the external and the internal thread.
    ///
    /// # Formula
    /// d2 = d − 3/4 H, H = √3/2 P.
    /// # Source
    /// ISO 68-1 (profile) and ISO 724 (basic sizes), from memory.
    pub fn pitch_diameter(&self) -> Length {
        self.nominal - 0.75 * self.fundamental_height()
    }

    /// The minor diameter of the internal thread, which is the bore that is left for the oil.
    ///
    /// # Formula
    /// D1 = d − 5/4 H, H = √3/2 P.
    /// # Source
    /// ISO 68-1 and ISO 724, from memory.
    pub fn internal_minor_diameter(&self) -> Length {
        self.nominal - 1.25 * self.fundamental_height()
    }

    /// The root diameter of the external thread with its rounded root.
    ///
    /// # Formula
    /// d3 = D1 − H/6, H = √3/2 P.
    /// # Source
    /// ISO 898-1, in the definition of the nominal stress area, from memory.
    pub fn root_diameter(&self) -> Length {
        self.internal_minor_diameter() - self.fundamental_height() / 6.0
    }

    /// The nominal stress area of the external thread.
    ///
    /// # Formula
    /// A = π/4 ((d2 + d3)/2)².
    /// # Source
    /// ISO 898-1, from memory.
    pub fn stress_area(&self) -> Area {
        let mean = (self.pitch_diameter() + self.root_diameter()).value / 2.0;
        Area::new::<square_meter>(core::f64::consts::FRAC_PI_4 * mean * mean)
    }

    /// H, the height of the sharp triangle the profile is cut from.
    fn fundamental_height(&self) -> Length {
        self.pitch * (3.0_f64.sqrt() / 2.0)
    }
}

/// Reads `M14x1.5`, `M 10 x 1` or, with the coarse pitch understood, `M6`.
///
/// # Errors
/// Says which part is not as a designation is written. A tolerance class or a left-hand mark after the
/// pitch is not read and counts as part of the pitch.
/// # Source
/// ISO 261 and ISO 965-1: the letter M, the nominal diameter, and after × the pitch, left out when coarse;
/// from memory.
pub fn parse_designation(text: &str) -> Result<Thread, DesignationError> {
    let sizes = text.trim().strip_prefix('M').ok_or(DesignationError::NotMetric)?;
    let (diameter_text, pitch_text) = match sizes.split_once(['x', 'X', '×']) {
        Some((diameter, pitch)) => (diameter.trim(), Some(pitch.trim())),
        None => (sizes.trim(), None),
    };
    let diameter = positive(diameter_text)
        .ok_or_else(|| DesignationError::Diameter(diameter_text.to_owned()))?;
    let pitch = match pitch_text {
        Some(found) => positive(found).ok_or_else(|| DesignationError::Pitch(found.to_owned()))?,
        None => coarse_pitch(diameter).ok_or(DesignationError::NoCoarsePitch(diameter))?,
    };
    if pitch <= COARSEST_SHARE * diameter {
        Ok(Thread { nominal: from_millimetres(diameter), pitch: from_millimetres(pitch) })
    } else {
        Err(DesignationError::PitchTooCoarse { diameter, pitch })
    }
}

/// Digits with at most one point between them. The standard reader of numbers also takes `inf`, `nan`, signs
/// and exponents, none of which stands in a designation.
fn positive(text: &str) -> Option<f64> {
    let plain = text.chars().all(|sign| sign.is_ascii_digit() || sign == '.');
    let edges = text.starts_with(|sign: char| sign.is_ascii_digit()) && !text.ends_with('.');
    if !(plain && edges) {
        return None;
    }
    text.parse().ok().filter(|value: &f64| value.is_finite() && *value > 0.0)
}

fn coarse_pitch(diameter: f64) -> Option<f64> {
    let row = COARSE.iter().find(|(size, _)| (size - diameter).abs() < SAME_SIZE);
    row.map(|(_, pitch)| *pitch)
}

/// A designation counts in millimetres. Dividing keeps 14 mm the number nearest to 0.014 m.
fn from_millimetres(value: f64) -> Length {
    Length::new::<meter>(value / 1000.0)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Basic sizes and stress areas: designation, d2, D1 (mm, ISO 724, table values seen in public text for
    /// most sizes) and A (mm², ISO 898-1 tables: coarse seen in public text, fine from memory).
    const TABLE: [(&str, f64, f64, f64); 8] = [
        ("M10x1", 9.350, 8.917, 64.5),
        ("M12x1.5", 11.026, 10.376, 88.1),
        ("M14x1.5", 13.026, 12.376, 125.0),
        ("M16x1.5", 15.026, 14.376, 167.0),
        ("M18x1.5", 17.026, 16.376, 216.0),
        ("M20x1.5", 19.026, 18.376, 272.0),
        ("M6", 5.350, 4.917, 20.1),
        ("M8", 7.188, 6.647, 36.6),
    ];

    fn millimetres(length: Length) -> f64 {
        length.value * 1000.0
    }

    #[test]
    fn basic_sizes_are_those_of_the_published_tables() {
        for (text, pitch_diameter, minor, area) in TABLE {
            let thread = parse_designation(text).unwrap();
            // The tables are rounded to a micrometre, and the area to three digits.
            assert!((millimetres(thread.pitch_diameter()) - pitch_diameter).abs() < 6.0e-4);
            assert!((millimetres(thread.internal_minor_diameter()) - minor).abs() < 6.0e-4);
            assert!((thread.stress_area().value * 1.0e6 / area - 1.0).abs() < 0.005, "{text}");
        }
    }

    /// ISO 724 table for M16, d3 = 13.546 mm, from memory.
    #[test]
    fn the_root_of_an_m16_is_the_tabulated_one() {
        let thread = parse_designation("M16").unwrap();
        assert!((millimetres(thread.root_diameter()) - 13.546).abs() < 6.0e-4);
    }

    #[test]
    fn blanks_and_the_multiplication_sign_do_not_matter() {
        let expected = parse_designation("M10x1").unwrap();
        for text in ["M 10 x 1", " M10 × 1.0 ", "M10X1"] {
            assert_eq!(parse_designation(text).unwrap(), expected, "{text}");
        }
    }

    /// Pitches printed in public tables of ISO 261, typed in from another table than the one above.
    #[test]
    fn a_pitch_left_out_is_the_coarse_one() {
        for (text, pitch) in [
            ("M3", 0.5),
            ("M4", 0.7),
            ("M5", 0.8),
            ("M6", 1.0),
            ("M8", 1.25),
            ("M10", 1.5),
            ("M12", 1.75),
            ("M14", 2.0),
            ("M16", 2.0),
            ("M18", 2.5),
            ("M20", 2.5),
            ("M22", 2.5),
            ("M24", 3.0),
        ] {
            let thread = parse_designation(text).unwrap();
            assert!((millimetres(thread.pitch) - pitch).abs() < 1.0e-12, "{text}");
        }
    }

    #[test]
    fn an_error_says_which_part_is_wrong() {
        let error = |text| parse_designation(text).unwrap_err();
        for text in ["", "14x1.5", "m14x1.5", "G1/4", "1/2-14 NPT"] {
            assert_eq!(error(text), DesignationError::NotMetric, "{text}");
        }
        assert_eq!(error("M"), DesignationError::Diameter(String::new()));
        assert_eq!(error("Mx1.5"), DesignationError::Diameter(String::new()));
        assert_eq!(error("M-14x1.5"), DesignationError::Diameter("-14".into()));
        assert_eq!(error("M0x1"), DesignationError::Diameter("0".into()));
        assert_eq!(error("Minf"), DesignationError::Diameter("inf".into()));
        assert_eq!(error("M14x"), DesignationError::Pitch(String::new()));
        assert_eq!(error("M14x1,5"), DesignationError::Pitch("1,5".into()));
        assert_eq!(error("M14x1.5-6H"), DesignationError::Pitch("1.5-6H".into()));
        assert_eq!(error("M13"), DesignationError::NoCoarsePitch(13.0));
        assert_eq!(error("M30"), DesignationError::NoCoarsePitch(30.0));
        let too_coarse = DesignationError::PitchTooCoarse { diameter: 1.5, pitch: 14.0 };
        assert_eq!(error("M1.5x14"), too_coarse);
        assert_eq!(too_coarse.to_string(), "a pitch of 14 mm is more than a quarter of 1.5 mm");
    }

    proptest! {
        #[test]
        fn diameters_shrink_in_order_and_scale_with_the_thread(
            diameter in 1.0_f64..100.0,
            share in 0.01_f64..0.25,
            scale in 0.1_f64..10.0,
        ) {
            let thread = |factor: f64| Thread {
                nominal: Length::new::<meter>(factor * diameter),
                pitch: Length::new::<meter>(factor * diameter * share),
            };
            let (one, other) = (thread(1.0), thread(scale));
            prop_assert!(one.nominal > one.pitch_diameter());
            prop_assert!(one.pitch_diameter() > one.internal_minor_diameter());
            prop_assert!(one.internal_minor_diameter() > one.root_diameter());
            prop_assert!(one.root_diameter().value > 0.0);
            let ratio = other.stress_area().value / one.stress_area().value;
            prop_assert!((ratio / (scale * scale) - 1.0).abs() < 1.0e-12);
        }

        #[test]
        fn no_text_panics_the_reader(text in "M?[ 0-9.xX×,e+-]{0,8}") {
            if let Ok(thread) = parse_designation(&text) {
                prop_assert!(thread.root_diameter().value > 0.0);
            }
        }
    }
}
