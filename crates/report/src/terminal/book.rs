//! What a rulebook builds on and changes, over all that is judged by it.

use super::page::Page;
use crate::changes;
use sumpwright_core::review::BookUsed;
use sumpwright_core::source::Sources;

/// Writes every rulebook below with every change; nothing where a rulebook stands by itself.
pub(super) fn write(page: &mut Page, sources: &Sources, book: &BookUsed) {
    let lines = changes::lines(book);
    if lines.is_empty() {
        return;
    }
    page.gap();
    page.heading(changes::HEADING);
    for line in lines {
        page.row(line.word, &line.placed(sources));
    }
    page.gap();
}
