//! Metric threads by their designation: `M14x1.5`, or `M6` for the coarse pitch.

use crate::quantity::{parse_number, si};
use crate::source::Code;
use uom::si::f64::Length;

/// Diameters and pitches of the coarse series in mm, ISO 261:1998, table 2, first and second choice
/// (from memory).
const COARSE: &[(f64, f64)] = &[
    (3.0, 0.5),
    (3.5, 0.6),
    (4.0, 0.7),
    (5.0, 0.8),
    (6.0, 1.0),
    (7.0, 1.0),
    (8.0, 1.25),
    (10.0, 1.5),
    (12.0, 1.75),
    (14.0, 2.0),
    (16.0, 2.0),
    (18.0, 2.5),
    (20.0, 2.5),
    (22.0, 2.5),
    (24.0, 3.0),
    (27.0, 3.0),
    (30.0, 3.5),
    (33.0, 3.5),
    (36.0, 4.0),
];

/// What does not fit: its code, what was found, and what to do.
type Refusal = (Code, String, &'static str);

/// Nominal diameter and pitch of a designation.
pub(super) fn parse(designation: &str) -> Result<(Length, Length), Refusal> {
    let _ = (parse_number(""), si::<Length>(0.0), COARSE);
    Err((Code::NotSupportedYet, designation.to_owned(), ""))
}
