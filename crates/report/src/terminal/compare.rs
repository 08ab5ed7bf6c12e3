//! Two rulebooks beside each other: what asks less first, then the verdicts that change.

use super::closing;
use super::page::Page;
use crate::place;
use crate::said::number_of;
use sumpwright_core::compare::{BookCompared, Comparison, PanCompared, RuleCompared, RuleFate};
use sumpwright_core::document::rulebook::Force;
use sumpwright_core::rule::{Strictness, in_words};
use sumpwright_core::verdict::Verdict;

/// The headings, in the order in which a reader should meet them.
const HEADINGS: [(RuleFate, &str); 6] = [
    (RuleFate::Removed, "Removed"),
    (RuleFate::Kept(Strictness::Looser), "Looser"),
    (RuleFate::Kept(Strictness::Incomparable), "Incomparable"),
    (RuleFate::Kept(Strictness::Stricter), "Stricter"),
    (RuleFate::Added, "Added"),
    (RuleFate::Kept(Strictness::Same), "Asking the same in other words, or proven otherwise"),
];

/// Writes the comparison.
pub(super) fn write(page: &mut Page, comparison: &Comparison) {
    page.gap();
    closing::problems(page, &comparison.problems);
    if comparison.has_error() {
        page.paragraph("The documents are at fault, so that nothing was compared.");
        return;
    }
    named(page, "old", &comparison.old);
    named(page, "new", &comparison.new);
    for (fate, heading) in HEADINGS {
        let is_told = |rule: &&RuleCompared| {
            let same = fate == RuleFate::Kept(Strictness::Same);
            rule.fate == fate && (!same || !rule.reworded.is_empty())
        };
        let rules: Vec<&RuleCompared> = comparison.rules.iter().filter(is_told).collect();
        if rules.is_empty() {
            continue;
        }
        page.gap();
        page.heading(heading);
        for rule in rules {
            let at = place::text(&comparison.sources, rule.span);
            page.entry(&rule.id, &format!("{} ({at})", told(rule)));
        }
    }
    page.gap();
    for pan in &comparison.pans {
        tried(page, pan);
    }
    if !comparison.pans.is_empty() {
        // Or the sums would stand as if they were of the last pan.
        page.gap();
        page.heading("In all");
    }
    counts(page, comparison);
}

fn named(page: &mut Page, word: &str, book: &BookCompared) {
    let rules = number_of(book.rules, "rule");
    page.row(word, &format!("{}: {rules}, edition {}", book.name, book.book.edition));
}

fn told(rule: &RuleCompared) -> String {
    if rule.parts.is_empty() && rule.reworded.is_empty() {
        return rule.title.clone();
    }
    let mut text = in_words(&rule.parts);
    if !rule.reworded.is_empty() {
        let joint = if text.is_empty() { "" } else { "; " };
        text = format!("{text}{joint}other {}", rule.reworded.join(", "));
    }
    text
}

fn tried(page: &mut Page, pan: &PanCompared) {
    let title = pan.title.as_ref().map_or_else(String::new, |title| format!("{title} · "));
    page.heading(&format!("{title}{}", pan.path));
    for change in &pan.changes {
        let object = change.object.as_ref().map_or_else(String::new, |name| format!(" · {name}"));
        let text = format!("{} → {}", verdict(change.from), verdict(change.to));
        page.entry(&format!("{}{object}", change.rule), &text);
    }
    let same = number_of(pan.same, "verdict");
    let stays = if pan.same == 1 { "stays" } else { "stay" };
    page.paragraph(&format!("{same} {stays} the same."));
    page.gap();
}

fn verdict(found: Option<(Force, Verdict)>) -> String {
    match found {
        Some((_, verdict)) => verdict.words().to_owned(),
        None => "no such rule".to_owned(),
    }
}

fn counts(page: &mut Page, comparison: &Comparison) {
    let of = |fate| comparison.rules.iter().filter(|rule| rule.fate == fate).count();
    let kept = |strictness| of(RuleFate::Kept(strictness));
    let reworded = comparison
        .rules
        .iter()
        .filter(|rule| rule.fate == RuleFate::Kept(Strictness::Same) && !rule.reworded.is_empty());
    let reworded = reworded.count();
    page.paragraph(&format!(
        "{}: {} removed, {} looser, {} incomparable, {} stricter, {} added, {} in other words, {} unchanged.",
        number_of(comparison.rules.len(), "rule"),
        of(RuleFate::Removed),
        kept(Strictness::Looser),
        kept(Strictness::Incomparable),
        kept(Strictness::Stricter),
        of(RuleFate::Added),
        reworded,
        kept(Strictness::Same) - reworded,
    ));
    if !comparison.pans.is_empty() {
        let changed = comparison.pans.iter().map(|pan| pan.changes.len()).sum();
        let pans = number_of(comparison.pans.len(), "pan");
        page.paragraph(&format!("{} changed on {pans}.", number_of(changed, "verdict")));
    }
}
