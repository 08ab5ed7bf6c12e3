//! Formulas: typed trees that know where each part stands, and their text.

use crate::measure::{ObjectKind, Spec};
use crate::quantity::{Dimension, Unit};
use crate::source::Span;
use std::fmt;

/// A formula with its dimension and place.
#[derive(Debug, Clone)]
pub struct Formula {
    /// What it is.
    pub kind: FormulaKind,
    /// Its dimension.
    pub dimension: Dimension,
    /// Where it stands in the rulebook.
    pub span: Span,
    /// The kind of object it has to be read for one by one; none if it is read for the pan.
    pub each: Option<ForEach>,
}

/// A kind of object, and the first name that asks for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ForEach {
    /// The kind; never the pan.
    pub kind: ObjectKind,
    /// Where the name stands.
    pub span: Span,
}

/// The forms of a formula.
#[derive(Debug, Clone)]
pub enum FormulaKind {
    /// A number with its unit.
    Number(Number),
    /// A measure.
    Measure(&'static Spec),
    /// `-a`.
    Negative(Box<Formula>),
    /// `a + b`, `a - b`, `a * b`, `a / b`.
    Binary(Operator, Box<Formula>, Box<Formula>),
    /// A function of one or more arguments.
    Call(Function, Vec<Formula>),
}

/// A number of a formula.
#[derive(Debug, Clone, PartialEq)]
pub struct Number {
    /// Value in SI base units.
    pub value: f64,
    /// Its unit; symbol empty for a plain number.
    pub unit: Unit,
    /// As written, with one blank before the unit: `8 mm`.
    pub written: String,
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

impl Operator {
    /// As written.
    pub fn sign(self) -> char {
        match self {
            Self::Add => '+',
            Self::Subtract => '-',
            Self::Multiply => '*',
            Self::Divide => '/',
        }
    }

    /// Whether it binds more tightly than `+` and `-`.
    fn of_a_term(self) -> bool {
        matches!(self, Self::Multiply | Self::Divide)
    }
}

impl Function {
    /// All functions.
    pub const ALL: [Self; 9] = [
        Self::Min,
        Self::Max,
        Self::Abs,
        Self::Sqrt,
        Self::Least,
        Self::Most,
        Self::Sum,
        Self::Baseline,
        Self::Spread,
    ];

    /// As written.
    pub fn word(self) -> &'static str {
        match self {
            Self::Min => "min",
            Self::Max => "max",
            Self::Abs => "abs",
            Self::Sqrt => "sqrt",
            Self::Least => "least",
            Self::Most => "most",
            Self::Sum => "sum",
            Self::Baseline => "baseline",
            Self::Spread => "spread",
        }
    }

    /// The function of a word.
    pub(super) fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|function| function.word() == word)
    }
}

impl Formula {
    /// Every number in it with its place, in the order written.
    pub fn numbers(&self) -> Vec<(&Number, Span)> {
        match &self.kind {
            FormulaKind::Number(number) => vec![(number, self.span)],
            FormulaKind::Measure(_) => Vec::new(),
            FormulaKind::Negative(inner) => inner.numbers(),
            FormulaKind::Binary(_, left, right) => {
                let mut all = left.numbers();
                all.extend(right.numbers());
                all
            }
            FormulaKind::Call(_, arguments) => arguments.iter().flat_map(Self::numbers).collect(),
        }
    }

    /// The value in SI base units of a formula that is only a number with its sign.
    pub(super) fn plain_value(&self) -> Option<f64> {
        match &self.kind {
            FormulaKind::Number(number) => Some(number.value),
            FormulaKind::Negative(inner) => inner.plain_value().map(|value| -value),
            _ => None,
        }
    }

    /// Whether it can stand behind a sign without brackets. A number cannot: it would take the sign as
    /// its own.
    fn is_named(&self) -> bool {
        matches!(self.kind, FormulaKind::Measure(_) | FormulaKind::Call(..))
    }

    fn is_sum(&self) -> bool {
        matches!(self.kind, FormulaKind::Binary(Operator::Add | Operator::Subtract, ..))
    }
}

/// The canonical text: reading it gives the same formula again.
impl fmt::Display for Formula {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.kind {
            FormulaKind::Number(number) => out.write_str(&number.written),
            FormulaKind::Measure(spec) => out.write_str(spec.name),
            FormulaKind::Negative(inner) => {
                out.write_str("-")?;
                bracketed(out, inner, !inner.is_named())
            }
            FormulaKind::Binary(operator, left, right) => {
                bracketed(out, left, operator.of_a_term() && left.is_sum())?;
                write!(out, " {} ", operator.sign())?;
                let is_binary = matches!(right.kind, FormulaKind::Binary(..));
                bracketed(out, right, is_binary && (operator.of_a_term() || right.is_sum()))
            }
            FormulaKind::Call(function, arguments) => {
                write!(out, "{}(", function.word())?;
                for (i, argument) in arguments.iter().enumerate() {
                    if i > 0 {
                        out.write_str(", ")?;
                    }
                    write!(out, "{argument}")?;
                }
                out.write_str(")")
            }
        }
    }
}

fn bracketed(out: &mut fmt::Formatter<'_>, formula: &Formula, brackets: bool) -> fmt::Result {
    if brackets { write!(out, "({formula})") } else { write!(out, "{formula}") }
}
