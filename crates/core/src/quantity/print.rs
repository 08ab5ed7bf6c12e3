//! A value back to text for people.

use super::{Dimension, Unit};

/// A value in the unit an author wrote, with as many digits as its uncertainty deserves.
pub fn print_in(_si: f64, _u: f64, _unit: &Unit) -> String {
    String::new()
}

/// A value in the usual unit of its dimension (mm, L, deg, MPa …).
pub fn print_amount(_si: f64, _u: f64, _dimension: Dimension) -> String {
    String::new()
}
