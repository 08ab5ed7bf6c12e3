//! Small readers from nodes to fields that push what is wrong and go on.

use super::duty::Duty;
use super::oil::Oil;
use super::pan::Pan;
use super::rulebook::RulebookDoc;
use super::vehicle::Vehicle;
use crate::quantity::Input;
use crate::source::{Diagnostic, Node, Span};

/// Moves one stated value: how the uncertainty and the remedies try other values. The value whose
/// [`Node::defined`] span it is reads as if it were written `by` (SI) larger.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shift {
    /// The scalar.
    pub at: Span,
    /// By how much, in SI base units.
    pub by: f64,
}

/// How a document is read.
#[derive(Debug, Clone, Copy)]
pub struct ReadOptions<'a> {
    /// Values to move.
    pub shifts: &'a [Shift],
    /// Every uncertainty is set to zero.
    pub exact: bool,
    /// Put before every path: `vehicle.`, `oil.`, `duty.`, `baseline.` or nothing.
    pub prefix: &'a str,
}

/// What comes out of reading beside the document itself.
#[derive(Debug, Clone, Default)]
pub struct Findings {
    /// What is wrong.
    pub problems: Vec<Diagnostic>,
    /// Every quantity stated, in the order read.
    pub inputs: Vec<Input>,
}

/// Reads a pan.
pub fn read_pan(_node: &Node, _options: ReadOptions<'_>, _out: &mut Findings) -> Option<Pan> {
    None
}

/// Reads a vehicle.
pub fn read_vehicle(
    _node: &Node,
    _options: ReadOptions<'_>,
    _out: &mut Findings,
) -> Option<Vehicle> {
    None
}

/// Reads an oil.
pub fn read_oil(_node: &Node, _options: ReadOptions<'_>, _out: &mut Findings) -> Option<Oil> {
    None
}

/// Reads a duty.
pub fn read_duty(_node: &Node, _options: ReadOptions<'_>, _out: &mut Findings) -> Option<Duty> {
    None
}

/// Reads a rulebook file.
pub fn read_rulebook(_node: &Node, _out: &mut Findings) -> Option<RulebookDoc> {
    None
}
