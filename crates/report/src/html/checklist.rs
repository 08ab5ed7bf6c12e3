//! A customer's list: its clauses, what answers each, and what shows it.

use super::{finding, shown};
use crate::{place, said};
use maud::{Markup, html};
use sumpwright_core::review::{Answer, ChecklistHeld, ClauseHeld, PanHeld, Review};

/// A list against every pan.
pub(super) fn section(review: &Review, list: &ChecklistHeld, number: usize) -> Markup {
    html! {
        section id=(format!("checklist-{number}")) {
            h2 { "Checklist: " (shown(&list.title)) }
            p.place { (shown(&list.path)) " · " (shown(&list.customer)) }
            @for held in &list.pans { (pan(review, held)) }
        }
    }
}

fn pan(review: &Review, held: &PanHeld) -> Markup {
    let judged = review.pans.iter().enumerate().find(|(_, pan)| pan.path == held.path);
    let title = judged.and_then(|(_, pan)| pan.title.as_deref()).unwrap_or(&held.path);
    html! {
        h3 {
            @match judged {
                Some((number, _)) => a href=(format!("#pan-{number}")) { (shown(title)) },
                None => (shown(title)),
            }
        }
        p { (shown(&sentence(&said::checklist_outcome(held)))) }
        @if held.clauses.iter().any(ClauseHeld::is_against) {
            (table(review, held))
        } @else {
            // What is settled need not be looked at to know it.
            details {
                summary { "All of " (said::number_of(held.clauses.len(), "clause")) }
                (table(review, held))
            }
        }
    }
}

fn table(review: &Review, held: &PanHeld) -> Markup {
    html! {
        div.wide { table.clauses {
            thead { tr {
                th scope="col" { "clause" } th scope="col" { "asked" }
                th scope="col" { "answer" } th scope="col" { "shown by" }
            } }
            tbody { @for clause in &held.clauses { (row(review, clause)) } }
        } }
    }
}

fn row(review: &Review, clause: &ClauseHeld) -> Markup {
    html! {
        tr {
            th scope="row" {
                (shown(said::clause_name(clause)))
                @if !clause.binding { br; span.quiet { "not binding" } }
            }
            td {
                (shown(&clause.says))
                @if clause.is_against() {
                    br; span.quiet { (shown(&place::text(&review.sources, clause.span))) }
                }
            }
            td { span class=(class(clause)) { (clause.answer.words()) } }
            td { (shown(&said::answered_by(clause))) }
        }
    }
}

/// How an answer looks; the words say it all the same.
fn class(clause: &ClauseHeld) -> &'static str {
    match clause.answer {
        Answer::Rules(verdict) => finding::class(verdict),
        Answer::Unanswered if clause.binding => "verdict open",
        Answer::Evidence | Answer::Statement | Answer::Unanswered => "verdict",
    }
}

/// With a capital letter at its start.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
