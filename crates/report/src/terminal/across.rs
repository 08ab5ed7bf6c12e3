//! Several pans in one table, before each is told by itself.

use super::page::Page;
use super::pan::heading;
use crate::across::{self, Line, MEANS, short};
use crate::said::number_of;
use sumpwright_core::review::{PanReview, Review};

/// Columns of one pan, the blanks before it included: the longest short word and two.
const PAN_COLUMNS: usize = 10;
/// A rule's id is told in no fewer columns.
const LEAST_FOR_RULES: usize = 24;

/// Writes the table; nothing for one pan, or where nothing is to be told.
pub(super) fn write(page: &mut Page, review: &Review) {
    let all = page.options.all;
    let lines = across::lines(review, all);
    if lines.is_empty() {
        return;
    }
    page.gap();
    page.heading("Across the pans");
    let columns = across::columns(&lines, &review.pans, all);
    for place in &columns {
        if let Some(pan) = review.pans.get(*place) {
            page.row(&number(*place), &heading(&pan.path, pan.title.as_deref()));
        }
    }
    let rule = lines.iter().map(|line| line.rule.len()).max().unwrap_or(0);
    let rule = if rule < LEAST_FOR_RULES { LEAST_FOR_RULES } else { rule };
    let room = page.options.width.saturating_sub(rule + 2) / PAN_COLUMNS;
    for part in columns.chunks(if room < 1 { 1 } else { room }) {
        table(page, &lines, part, rule);
    }
    page.gap();
    page.paragraph(MEANS);
    rest(page, &review.pans, columns.len());
}

/// Rules and some of the pans.
fn table(page: &mut Page, lines: &[Line<'_>], places: &[usize], rule: usize) {
    page.gap();
    let head = places.iter().map(|place| (number(*place), PAN_COLUMNS));
    page.cells([("rule".to_owned(), rule + 2)].into_iter().chain(head));
    for line in lines {
        let verdict = |place: &usize| short(line.verdicts.get(*place).copied().flatten());
        let cells = places.iter().map(|place| (verdict(place).to_owned(), PAN_COLUMNS));
        page.cells([(line.rule.to_owned(), rule + 2)].into_iter().chain(cells));
    }
}

fn number(place: usize) -> String {
    format!("{}", place + 1)
}

/// Pans that nothing is told of.
fn rest(page: &mut Page, pans: &[PanReview], told: usize) {
    if let Some(rest @ 1..) = pans.len().checked_sub(told) {
        let verb = if rest == 1 { "has" } else { "have" };
        page.paragraph(&format!(
            "{} more {verb} nothing in this table; --all tells them too.",
            number_of(rest, "pan")
        ));
    }
}
