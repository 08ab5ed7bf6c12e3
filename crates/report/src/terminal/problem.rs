//! A problem of a document.

use super::atlas::Mark;
use super::draw::{Weight, draw};
use super::page::Page;
use crate::visible;
use sumpwright_core::source::{Diagnostic, Severity, Sources};

/// Writes one problem: what is wrong, where, what belongs to it, and what to do.
pub(super) fn write(page: &mut Page, sources: &Sources, problem: &Diagnostic) {
    page.gap();
    let word = match problem.severity {
        Severity::Error => ("error", Weight::Heavy),
        Severity::Warning => ("warning", Weight::Middle),
    };
    let mark = |label: &sumpwright_core::source::Label| Mark::new(label.span, &*label.text);
    let others = problem.others.iter().map(mark).collect();
    draw(page, sources, word, &problem.message, (mark(&problem.primary), others));
    if let Some(help) = &problem.help {
        page.row("help", &visible::visible_paragraph(help));
    }
}
