//! What is against the concessions themselves.

use super::atlas::Mark;
use super::draw::{Weight, draw};
use super::page::Page;
use crate::conceded;
use sumpwright_core::review::Review;

/// Writes what is against concessions; nothing where nothing is.
pub(super) fn write(page: &mut Page, review: &Review) {
    for finding in &review.conceding.findings {
        page.gap();
        let word = (finding.fault.words(), Weight::Heavy);
        let other = finding.other.iter().map(|(span, said)| Mark::new(*span, said.clone()));
        let marks = (Mark::new(finding.span, String::new()), other.collect());
        draw(page, &review.sources, word, &conceded::finding(finding), marks);
        page.row("for", &conceded::about(finding));
        page.row("help", &finding.help);
    }
}
