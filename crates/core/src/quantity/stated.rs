//! A value as a document states it: typed, with its place; its uncertainty is kept in a list of inputs.

use super::{Dimension, Unit};
use crate::source::Span;

/// A stated quantity and the scalar it stands in.
#[derive(Debug, Clone, Copy)]
pub struct Stated<Q> {
    /// The value.
    pub value: Q,
    /// Where it stands.
    pub span: Span,
}

/// What a reader would have to add, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Missing {
    /// Dotted path in its document, with `vehicle.`, `oil.` or `duty.` before it for those.
    pub path: String,
    /// The mapping (or the scalar `none`) where it would stand.
    pub within: Span,
}

/// Stated, said to be none, or left out: three things, never mixed up.
#[derive(Debug, Clone)]
pub enum Given<T> {
    /// It is there.
    Stated(T),
    /// The document says `none` there.
    Absent(Span),
    /// Nothing is said.
    LeftOut(Missing),
}

impl<T> Given<T> {
    /// The value, if stated.
    pub fn stated(&self) -> Option<&T> {
        match self {
            Self::Stated(value) => Some(value),
            _ => None,
        }
    }
}

/// A quantity that a document states, as an input of the computation.
#[derive(Debug, Clone)]
pub struct Input {
    /// Dotted path: `pickup.inlet.at.depth`, `vehicle.skid.top_face`.
    pub path: String,
    /// Where it is written (for an alias: where it was anchored). It identifies the input.
    pub span: Span,
    /// Its dimension.
    pub dimension: Dimension,
    /// Value in SI base units.
    pub value: f64,
    /// Standard uncertainty in SI base units; 0 where taken as exact.
    pub u: f64,
    /// One unit of the last digit written, in SI base units.
    pub last_digit: f64,
    /// Whether it is only assumed.
    pub assumed: bool,
    /// The unit it is written in.
    pub unit: Unit,
    /// How a person gets it, in one sentence.
    pub how_to_get: &'static str,
}
