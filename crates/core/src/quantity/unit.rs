//! The table of units, each with an exact factor and its source.

use super::Dimension;

/// A unit as written, reduced to SI: SI value = written × `numerator` / `denominator` + `offset`.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// As written: `mm`, `kJ/(kg·K)`; empty for a plain number.
    pub symbol: String,
    /// Its dimension.
    pub dimension: Dimension,
    /// Factor above the line.
    pub numerator: f64,
    /// Factor below the line.
    pub denominator: f64,
    /// Added after the factor (273.15 for degC), else 0.
    pub offset: f64,
}
