//! What is known of a measure beside its number.

use super::{MEASURES, Outcome};
use crate::model::Scene;
use crate::quantity::Dimension;

/// What a measure is read for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum ObjectKind {
    /// The pan as a whole.
    Pan,
    /// Each drain.
    Drain,
    /// Each baffle.
    Baffle,
    /// Each set of fins.
    FinSet,
    /// Each neighbour of the pan in the vehicle.
    Neighbour,
}

impl ObjectKind {
    /// Path of the family from the pan: `drains`, `vehicle.neighbours`; empty for the pan itself.
    pub fn family(self) -> &'static str {
        match self {
            Self::Pan => "",
            Self::Drain => "drains",
            Self::Baffle => "baffles",
            Self::FinSet => "fins",
            Self::Neighbour => "vehicle.neighbours",
        }
    }

    /// First word of the names of its measures and of paths into one object: `drain`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Pan => "pan",
            Self::Drain => "drain",
            Self::Baffle => "baffle",
            Self::FinSet => "fin",
            Self::Neighbour => "neighbour",
        }
    }
}

/// A measure.
#[derive(Debug)]
pub struct Spec {
    /// Its name in formulas: `pickup.floor_gap`.
    pub name: &'static str,
    /// What it is read for.
    pub kind: ObjectKind,
    /// Its dimension.
    pub dimension: Dimension,
    /// Whether it is read over the duty.
    pub over_duty: bool,
    /// What it is, in one sentence.
    pub meaning: &'static str,
    /// The formula, symbols named.
    pub formula: &'static str,
    /// Where the formula comes from.
    pub source: &'static str,
    /// Where it holds, and what is said outside.
    pub range: &'static str,
    /// What not written here it is held against: a source, a closed form, a computation by other means.
    pub checked_against: &'static str,
    /// The test that does so, `suite::test` of the integration tests.
    pub checked_by: &'static str,
    /// Reads it for one object (0 for the pan).
    pub read: fn(&Scene, usize) -> Outcome,
}

/// The measure of a name.
pub fn find(name: &str) -> Option<&'static Spec> {
    MEASURES.iter().find(|m| m.name == name)
}
