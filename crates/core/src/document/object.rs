//! The identity of a pan: which thing exactly is described, by whom measured.

use super::Text;
use super::pan::Word;
use crate::source::Span;

/// `object`: which thing exactly is described, by whom measured.
#[derive(Debug, Clone)]
pub struct ObjectDoc {
    /// The whole mapping.
    pub span: Span,
    /// `name`.
    pub name: Option<Text>,
    /// `revision`.
    pub revision: Option<Text>,
    /// `part_number`.
    pub part_number: Option<Text>,
    /// `state`.
    pub state: Option<Word<Stage>>,
    /// `samples`: how many pieces were measured.
    pub samples: Option<Word<u32>>,
    /// `measured`.
    pub measured: Option<Measured>,
}

/// Whether the values come from the drawing or from a made piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// `as designed`.
    AsDesigned,
    /// `as made`.
    AsMade,
}

/// `object.measured`.
#[derive(Debug, Clone)]
pub struct Measured {
    /// `by`: who.
    pub by: Option<Text>,
    /// `date`: year, month and day with hyphens.
    pub date: Option<Text>,
    /// `with`: one thing or several; empty if left out.
    pub with: Vec<Text>,
}
