//! Dimensions at run time: formulas come from YAML and are checked when they are read.

/// Exponents of the base dimensions. Angle is kept apart so that `deg` against a plain number is an
/// error; a temperature *point* (`degC`) is told from a difference (`K`) by `point`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Dimension {
    /// Length.
    pub length: i8,
    /// Mass.
    pub mass: i8,
    /// Time.
    pub time: i8,
    /// Temperature.
    pub temperature: i8,
    /// Angle.
    pub angle: i8,
    /// A point on a scale (a temperature in degC), not a difference.
    pub point: bool,
}
