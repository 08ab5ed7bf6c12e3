//! What is known and no more.

use super::atlas::Mark;
use super::draw::{Weight, draw};
use super::page::Page;
use crate::screening;
use sumpwright_core::review::Review;

/// Writes what is known and no more; nothing where nothing is.
pub(super) fn write(page: &mut Page, review: &Review) {
    for finding in screening::stale(review) {
        page.gap();
        let word = (screening::WORD, Weight::Middle);
        let marks = (Mark::new(finding.span, String::new()), Vec::new());
        draw(page, &review.sources, word, &screening::finding(finding), marks);
        page.row("for", &screening::about(finding));
        page.row("help", &finding.help);
    }
}
