//! The grammar of a quantity: `62.4 ± 0.3 mm by depth_gauge`.

use super::Unit;
use crate::source::{Diagnostic, Scalar};
use std::ops::Range;

/// How a quantity states its uncertainty.
#[derive(Debug, Clone, PartialEq)]
pub enum StatedUncertainty {
    /// Nothing stated: taken as exact.
    Nothing,
    /// Standard uncertainty in SI base units (from `±` half-width/√3, `u`, or `U at k`).
    Standard(f64),
    /// `by name`: that instrument's half-width; the range of the name in the text.
    Instrument(String, Range<usize>),
    /// `assumed`: the typical range of the field decides.
    Assumed,
}

/// A quantity as written, not yet held against what the field wants.
#[derive(Debug, Clone, PartialEq)]
pub struct ParsedQuantity {
    /// Value in SI base units.
    pub value: f64,
    /// Unit as written; symbol empty for a bare number.
    pub unit: Unit,
    /// Range of the unit in the text; empty for a bare number.
    pub unit_range: Range<usize>,
    /// Range of the number in the text.
    pub number_range: Range<usize>,
    /// One unit of the last digit written, in SI base units.
    pub last_digit: f64,
    /// What is said of its uncertainty.
    pub uncertainty: StatedUncertainty,
}

/// Reads a whole scalar as a quantity. Does not check the dimension.
///
/// # Errors
/// One diagnostic at the token that does not fit.
pub fn parse_quantity(scalar: &Scalar) -> Result<ParsedQuantity, Box<Diagnostic>> {
    Err(Box::new(Diagnostic::error(crate::source::Code::NotAQuantity, scalar.span, "not built")))
}

/// Reads a number of the grammar at the start of `text`: its value and how many bytes it takes.
pub fn parse_number(_text: &str) -> Option<(f64, usize)> {
    None
}

/// Reads a unit of the grammar at the start of `text`: the unit and how many bytes it takes.
///
/// # Errors
/// A sentence that says what does not fit, and the range it stands in.
pub fn parse_unit(_text: &str) -> Result<(Unit, usize), (String, Range<usize>)> {
    Err((String::new(), 0..0))
}
