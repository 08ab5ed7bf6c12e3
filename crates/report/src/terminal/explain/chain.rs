//! How a rule came to its verdict on a pan, in the order in which it was looked at.

use super::{condition, finding, input, rule, said};
use crate::deciding;
use crate::place;
use crate::said::glued;
use crate::scale::{Scale, coarser};
use crate::terminal::page::Page;
use crate::terminal::pan;
use sumpwright_core::explain::{Chain, OnPan, RuleExplained, Term};
use sumpwright_core::measure::Unknown;
use sumpwright_core::review::{Contribution, Finding, Reading};
use sumpwright_core::rule::Truth;
use sumpwright_core::source::Sources;
use sumpwright_core::verdict::Verdict;

/// How many inputs taken as exact are named, unless all are asked for.
const EXACT_SHOWN: usize = 3;

/// Writes a rule on a pan.
pub(super) fn write(page: &mut Page, sources: &Sources, rule: &RuleExplained, on: &OnPan) {
    page.gap();
    page.heading(&format!("{} · {}", rule.line.id, rule.line.title));
    page.row("asks", &rule::asks(rule));
    page.row("stands at", &place::text(sources, rule.line.span));
    page.row("pan", &pan::heading(&on.path, on.title.as_deref()));
    if !on.baselines.is_empty() {
        page.row("baseline", &on.baselines.join(", "));
    }
    for chain in &on.chains {
        one(page, sources, chain);
    }
    page.gap();
    rule::why(page, rule);
    page.gap();
    page.paragraph(rule::CAUTION);
}

fn one(page: &mut Page, sources: &Sources, chain: &Chain) {
    let finding = &chain.finding;
    page.gap();
    let verdict = finding.verdict.words();
    page.heading(&match &finding.object {
        Some(object) => format!("{object}: {verdict}"),
        None => format!("The pan: {verdict}"),
    });
    match &chain.condition {
        Some(seen) => condition::write(page, sources, seen),
        None => page.row("applies", "the rule has no condition"),
    }
    match chain.condition.as_ref().map(|seen| &seen.truth) {
        Some(Truth::False) => page.row("measure", "not looked at, since the condition is false"),
        Some(Truth::Unknown(_)) => {
            page.row("measure", "not looked at, since the truth of the condition is unknown");
        }
        Some(Truth::True) | None => {}
    }
    for term in &chain.terms {
        term_rows(page, term);
    }
    let scale = Scale::of_finding(finding);
    // A measure alone has been said.
    if let Some(value) = said::computed(finding, &scale)
        && chain.terms.iter().all(|term| term.text != finding.measure)
    {
        page.row("computed", &format!("{} = {value}", finding.measure));
    }
    inputs(page, sources, chain, &scale);
    for limit in &finding.limits {
        finding::limit_rows(page, finding, limit, &scale);
    }
    page.row("verdict", &verdict_row(finding));
    for note in &finding.notes {
        page.row("note", note);
    }
    finding::needs(page, sources, finding);
}

/// A part of the formulas, with its value and what it is brought together from.
fn term_rows(page: &mut Page, term: &Term) {
    let size = term.reading.as_ref().map_or(0.0, |reading| reading.bounds.high);
    let scale = Scale::of_value(term.dimension, size);
    let worst = term.worst.as_ref().map(|worst| format!(", worst in {}", said::worst(worst)));
    let value = reading(&term.reading, &scale);
    let note = term.note.map_or_else(String::new, |note| format!(", {note}"));
    page.row("measure", &format!("{} = {value}{}{note}", term.text, worst.unwrap_or_default()));
    for part in &term.parts {
        page.row("", &format!("{}: {}", part.of, reading(&part.reading, &scale)));
    }
    if page.options.all {
        let u = term.reading.as_ref().map_or(0.0, coarser);
        for state in &term.states {
            page.row("state", &said::state(state, u, &scale));
        }
    }
}

/// A reading with its uncertainty, or why there is none.
pub(super) fn reading(reading: &Result<Reading, Unknown>, scale: &Scale) -> String {
    match reading {
        Ok(reading) => glued(&scale.reading(reading)),
        Err(unknown) => format!("not known: {}", unknown.reason),
    }
}

/// What moves the deciding margin, with its place.
fn inputs(page: &mut Page, sources: &Sources, chain: &Chain, scale: &Scale) {
    let mut word = "moved by";
    let mut row = |page: &mut Page, moved: &Contribution| {
        let effect = said::effect(moved, scale);
        page.row(word, &format!("{}: {effect}", input(sources, moved)));
        word = "";
    };
    for moved in &chain.moved_by {
        row(page, moved);
    }
    let shown = if page.options.all { chain.exact.len() } else { EXACT_SHOWN };
    for moved in chain.exact.iter().take(shown) {
        row(page, moved);
    }
    if let Some(more @ 1..) = chain.exact.len().checked_sub(shown) {
        page.row("", &format!("and {more} more taken as exact; --all lists them"));
    }
}

/// The verdict, and the comparison that it follows from.
fn verdict_row(finding: &Finding) -> String {
    let guard = deciding::deciding(finding).and_then(|limit| limit.guard).unwrap_or(0.0);
    let because = match finding.verdict {
        Verdict::Conforms if guard > 0.0 => "inside the limit with the uncertainty taken off",
        Verdict::Conforms => "inside the limit",
        Verdict::DoesNotConform | Verdict::Advisory if guard > 0.0 => {
            "outside the limit, by more than the uncertainty"
        }
        Verdict::DoesNotConform | Verdict::Advisory => "outside the limit",
        _ => &finding.reason,
    };
    let recommended = if finding.verdict == Verdict::Advisory { ", of a `should`" } else { "" };
    format!("{}: {because}{recommended}", finding.verdict.words())
}
