//! From the tree of nodes to documents. Reading never stops at an error: what is wrong is pushed, and
//! what could be read comes back.
//!
//! A reader of a mapping asks a cursor for its keys; every key asked for has a row in the table of
//! fields, and every key not asked for is reported.

mod building;
mod checklist;
mod concessions;
mod cursor;
mod declaration;
mod duty;
mod fittings;
mod instrument;
mod interior;
mod kind;
mod log;
mod mesh;
mod message;
mod oil;
mod pan;
mod project;
mod quantity;
mod remarks;
mod rulebook;
mod shape;
mod sweep;
#[cfg(test)]
mod tests;
mod value;
mod vehicle;

use super::DocumentKind;
use super::checklist::ChecklistDoc;
use super::concessions::ConcessionsDoc;
use super::declaration::DeclarationDoc;
use super::duty::Duty;
use super::oil::Oil;
use super::pan::Pan;
use super::project::Project;
use super::remarks::RemarksDoc;
use super::rulebook::RulebookDoc;
use super::vehicle::Vehicle;
use super::watched::Parts;
use crate::quantity::Input;
use crate::source::{Diagnostic, Node, Span};
use cursor::{Context, Cursor};
pub use kind::kind_of;

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
    /// Values to move. With any, ranges and geometry are not judged: they are at the stated values.
    pub shifts: &'a [Shift],
    /// Every uncertainty is set to zero.
    pub exact: bool,
    /// Put before every path: `vehicle.`, `oil.`, `duty.`, `baseline.` or nothing.
    pub prefix: &'a str,
}

/// What comes out of reading beside the document itself.
#[derive(Debug, Clone, Default)]
pub struct Findings {
    /// What is wrong, in the order of the text.
    pub problems: Vec<Diagnostic>,
    /// Every quantity stated, in the order read; one that several fields share by an alias once.
    pub inputs: Vec<Input>,
    /// At the stated values: where each value stands that can be shifted, and in which part of which document it is
    /// read; one that several fields share stands in each.
    pub stands: Vec<(Span, DocumentKind, Parts)>,
}

/// Reads a pan; none if the file is of another kind or edition.
pub fn read_pan(node: &Node, options: ReadOptions<'_>, out: &mut Findings) -> Option<Pan> {
    read(node, DocumentKind::Pan, options, out, pan::pan)
}

/// Reads a vehicle; none if the file is of another kind or edition.
pub fn read_vehicle(node: &Node, options: ReadOptions<'_>, out: &mut Findings) -> Option<Vehicle> {
    read(node, DocumentKind::Vehicle, options, out, vehicle::vehicle)
}

/// Reads an oil; none if the file is of another kind or edition.
pub fn read_oil(node: &Node, options: ReadOptions<'_>, out: &mut Findings) -> Option<Oil> {
    read(node, DocumentKind::Oil, options, out, oil::oil)
}

/// Reads a duty; none if the file is of another kind or edition.
pub fn read_duty(node: &Node, options: ReadOptions<'_>, out: &mut Findings) -> Option<Duty> {
    read(node, DocumentKind::Duty, options, out, duty::duty)
}

/// Reads a rulebook file; none if the file is of another kind or edition.
pub fn read_rulebook(node: &Node, out: &mut Findings) -> Option<RulebookDoc> {
    let options = ReadOptions { shifts: &[], exact: false, prefix: "" };
    read(node, DocumentKind::Rulebook, options, out, rulebook::rulebook)
}

/// Reads a project file; none if the file is of another kind or edition.
pub fn read_project(node: &Node, out: &mut Findings) -> Option<Project> {
    let options = ReadOptions { shifts: &[], exact: false, prefix: "" };
    read(node, DocumentKind::Project, options, out, project::project)
}

/// Reads a customer's list; none if the file is of another kind or edition.
pub fn read_checklist(node: &Node, out: &mut Findings) -> Option<ChecklistDoc> {
    let options = ReadOptions { shifts: &[], exact: false, prefix: "" };
    read(node, DocumentKind::Checklist, options, out, checklist::checklist)
}

/// Reads a list of concessions; none if the file is of another kind or edition.
pub fn read_concessions(node: &Node, out: &mut Findings) -> Option<ConcessionsDoc> {
    let options = ReadOptions { shifts: &[], exact: false, prefix: "" };
    read(node, DocumentKind::Concessions, options, out, concessions::concessions)
}

/// Reads a file of remarks; none if the file is of another kind or edition.
pub fn read_remarks(node: &Node, out: &mut Findings) -> Option<RemarksDoc> {
    let options = ReadOptions { shifts: &[], exact: false, prefix: "" };
    read(node, DocumentKind::Remarks, options, out, remarks::remarks)
}

/// Reads a declaration; none if the file is of another kind or edition, or says too little to be one.
pub fn read_declaration(node: &Node, out: &mut Findings) -> Option<DeclarationDoc> {
    let options = ReadOptions { shifts: &[], exact: false, prefix: "" };
    read(node, DocumentKind::Declaration, options, out, declaration::declaration).flatten()
}

fn read<T>(
    node: &Node,
    document: DocumentKind,
    options: ReadOptions<'_>,
    out: &mut Findings,
    keys: impl FnOnce(&mut Cursor<'_, '_>) -> T,
) -> Option<T> {
    let (entries, key) = match kind::opened(node, document) {
        Ok(opened) => opened,
        Err(problem) => {
            out.problems.push(*problem);
            return None;
        }
    };
    let before = out.problems.len();
    let mut context = Context::new(document, options, out);
    let mut cursor = Cursor::document(&mut context, node, entries, key);
    let value = keys(&mut cursor);
    cursor.finish();
    // Readers ask in their own order; a person reads from top to bottom.
    if let Some(found) = out.problems.get_mut(before..) {
        found.sort_by_key(|problem| problem.primary.span);
    }
    Some(value)
}
