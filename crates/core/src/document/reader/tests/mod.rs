//! Tests of the readers: the documents under `fixtures/documents/valid`, every refusal with the place
//! it points at, and what must hold for any text.

mod duty;
mod pan;
mod properties;
mod refusals;
mod rows;
mod rulebook;
mod vehicle;

use super::*;
use crate::source::{FileId, Sources, parse};

const STATED: ReadOptions<'static> = ReadOptions { shifts: &[], exact: false, prefix: "" };

macro_rules! valid {
    ($($kind:literal: $($name:literal)*;)*) => {
        /// Kind, name and text of every valid document.
        pub(super) const VALID: &[(&str, &str, &str)] = &[$($((
            $kind,
            $name,
            include_str!(concat!(
                env!("CARGO_MANIFEST_DIR"),
                "/../../fixtures/documents/valid/", $kind, "/", $name, ".yaml"
            )),
        ),)*)*];
    };
}

valid! {
    "pan": "deep-cast" "said-to-be-none" "other-forms" "above-the-rail" "slopes-and-slots" "displacers-side-by-side" "soundings" "soundings-in-a-slot" "soundings-in-a-circle"
        "soundings-in-a-polygon" "mesh-of-the-oil-space" "with-all-the-catalogue-asks";
    "vehicle": "brindle" "other-forms" "round-case" "case-with-round-ends" "with-all-the-catalogue-asks";
    "oil": "trail-fluid" "with-conductivity";
    "duty": "rock-trail" "swept" "one-temperature" "swept-states" "logged" "logged-otherwise" "with-all-the-catalogue-asks";
    "rulebook": "three-rules" "band" "builds-on";
    "project": "all-keys";
    "checklist": "all-keys";
    "concessions": "whole";
    "remarks": "whole";
}

/// A text, its tree, and what was read from it.
struct Reading<T> {
    sources: Sources,
    node: Node,
    findings: Findings,
    document: Option<T>,
}

impl<T> Reading<T> {
    /// The document, which must be without fault.
    fn good(&self) -> &T {
        assert!(self.findings.problems.is_empty(), "{:#?}", self.findings.problems);
        self.document.as_ref().expect("no problem, so a document")
    }

    fn input(&self, path: &str) -> &Input {
        let found = self.findings.inputs.iter().find(|input| input.path == path);
        found.unwrap_or_else(|| panic!("no input {path}"))
    }
}

fn tree(text: &str) -> (Sources, Node) {
    let mut sources = Sources::default();
    let file = sources.add("test.yaml", text.to_owned());
    let mut problems = Vec::new();
    let node = parse(&sources, file, &mut problems);
    assert!(problems.is_empty(), "{problems:#?}");
    (sources, node.expect("a tree"))
}

fn read_with<T>(text: &str, read: impl FnOnce(&Node, &mut Findings) -> Option<T>) -> Reading<T> {
    let (sources, node) = tree(text);
    let mut findings = Findings::default();
    let document = read(&node, &mut findings);
    Reading { sources, node, findings, document }
}

fn pan_of(text: &str) -> Reading<Pan> {
    read_with(text, |node, out| read_pan(node, STATED, out))
}

fn vehicle_of(text: &str) -> Reading<Vehicle> {
    read_with(text, |node, out| read_vehicle(node, STATED, out))
}

fn oil_of(text: &str) -> Reading<Oil> {
    read_with(text, |node, out| read_oil(node, STATED, out))
}

fn duty_of(text: &str) -> Reading<Duty> {
    read_with(text, |node, out| read_duty(node, STATED, out))
}

fn rulebook_of(text: &str) -> Reading<RulebookDoc> {
    read_with(text, read_rulebook)
}

fn valid(kind: &str, name: &str) -> &'static str {
    let found = VALID.iter().find(|(k, n, _)| *k == kind && *n == name);
    found.expect("it is in the list").2
}

/// Reads a text as whatever it says it is.
fn read_any(node: &Node, options: ReadOptions<'_>, out: &mut Findings) -> Option<DocumentKind> {
    let kind = kind_of(node)?;
    read_as(kind, node, options, out);
    Some(kind)
}

fn read_as(kind: DocumentKind, node: &Node, options: ReadOptions<'_>, out: &mut Findings) {
    match kind {
        DocumentKind::Pan => drop(read_pan(node, options, out)),
        DocumentKind::Vehicle => drop(read_vehicle(node, options, out)),
        DocumentKind::Oil => drop(read_oil(node, options, out)),
        DocumentKind::Duty => drop(read_duty(node, options, out)),
        DocumentKind::Rulebook => drop(read_rulebook(node, out)),
        DocumentKind::Project => drop(read_project(node, out)),
        DocumentKind::Checklist => drop(read_checklist(node, out)),
        DocumentKind::Concessions => drop(read_concessions(node, out)),
        DocumentKind::Remarks => drop(read_remarks(node, out)),
        DocumentKind::Declaration => drop(read_declaration(node, out)),
    }
}

/// Values in SI base units are products of a decimal and a factor: equal to a few last digits.
fn assert_si(found: f64, expected: f64) {
    assert!((found - expected).abs() <= 1e-12 * expected.abs(), "{found} for {expected}");
}

fn span_of(file: u32, start: u32, end: u32) -> Span {
    Span { file: FileId(file), start, end }
}
