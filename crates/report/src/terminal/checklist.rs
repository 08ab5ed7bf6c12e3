//! Customers' lists, clause by clause.

use super::page::Page;
use crate::said;
use sumpwright_core::review::ChecklistHeld;

/// Columns of the longest answer in words, `does not conform`.
const ANSWER_COLUMNS: usize = 16;

/// Writes every list against every pan.
pub(super) fn write(page: &mut Page, lists: &[ChecklistHeld]) {
    for list in lists {
        page.gap();
        page.heading(&format!("Checklist {} · {} · {}", list.path, list.title, list.customer));
        for pan in &list.pans {
            page.gap();
            page.paragraph(&format!("{}: {}", pan.path, said::checklist_outcome(pan)));
            let names = pan.clauses.iter().map(|clause| said::clause_name(clause).chars().count());
            let columns = names.max().unwrap_or(0);
            for clause in &pan.clauses {
                let name = (said::clause_name(clause), columns);
                let binding = if clause.binding { "" } else { " (not binding)" };
                let text = format!("{}{binding} – {}", clause.says, said::answered_by(clause));
                page.listed(name, (clause.answer.words(), ANSWER_COLUMNS), &text);
            }
        }
    }
}
