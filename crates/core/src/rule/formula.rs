//! Formulas: the grammar, read with the place of every token.

use crate::measure::Spec;
use crate::quantity::Dimension;
use crate::source::Span;

/// A formula with its dimension and place.
#[derive(Debug, Clone)]
pub struct Formula {
    /// What it is.
    pub kind: FormulaKind,
    /// Its dimension.
    pub dimension: Dimension,
    /// Where it stands in the rulebook.
    pub span: Span,
}

/// The forms of a formula.
#[derive(Debug, Clone)]
pub enum FormulaKind {
    /// A number with its unit, in SI base units.
    Number(f64),
    /// A measure.
    Measure(&'static Spec),
    /// `-a`.
    Negative(Box<Formula>),
    /// `a + b`, `a - b`, `a * b`, `a / b`.
    Binary(Operator, Box<Formula>, Box<Formula>),
    /// A function of one or more arguments.
    Call(Function, Vec<Formula>),
}

/// The operators.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Operator {
    /// `+`.
    Add,
    /// `-`.
    Subtract,
    /// `*`.
    Multiply,
    /// `/`.
    Divide,
}

/// The functions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Function {
    /// `min`.
    Min,
    /// `max`.
    Max,
    /// `abs`.
    Abs,
    /// `sqrt`.
    Sqrt,
    /// `least`: over the objects of a kind.
    Least,
    /// `most`: over the objects of a kind.
    Most,
    /// `sum`: over the objects of a kind.
    Sum,
    /// `baseline`: the mean over the baseline pans.
    Baseline,
    /// `spread`: half of largest minus least over the baseline pans, 0 for fewer than three.
    Spread,
}
