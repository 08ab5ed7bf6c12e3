//! A proof for people: a line a rule, and more only where something is wrong.

use super::page::Page;
use crate::place;
use crate::said::glued;
use crate::said::number_of;
use sumpwright_core::prove::{CaseOutcome, Fate, Proof, RuleProof, Slack, Suggestion};
use sumpwright_core::source::Sources;

/// Writes the rules and, last, how the whole rulebook fared.
pub(super) fn write(page: &mut Page, proof: &Proof) {
    rules(page, proof);
    closing(page, proof);
}

/// Writes a line for each rule, and what there is to say of it.
pub(super) fn rules(page: &mut Page, proof: &Proof) {
    page.gap();
    let widest = proof.rules.iter().map(|rule| rule.id.chars().count()).max().unwrap_or(0);
    for rule in &proof.rules {
        line(page, rule, widest);
        if !rule.is_whole() || page.options.all {
            cases(page, &proof.sources, rule);
            slacks(page, &proof.sources, rule);
            missed(page, rule);
            rest(page, &proof.sources, rule);
            page.gap();
        }
    }
    page.gap();
}

fn line(page: &mut Page, rule: &RuleProof, widest: usize) {
    let score = rule.score();
    let count = rule.cases.len();
    let cases = if count == 1 { "case" } else { "cases" };
    let mut more = String::new();
    if score.equivalent > 0 {
        more = format!("  {} equivalent", score.equivalent);
    }
    if !rule.is_whole() {
        more.push_str("  not proven");
    }
    let (caught, missed) = (score.caught, score.missed);
    let line = format!(
        "{:<widest$}  {count:>3} {cases:<5}  {caught:>3} caught  {missed:>3} missed{more}",
        rule.id
    );
    let said =
        format!("{count} {cases}, {caught} caught, {missed} missed{}", more.replace("  ", ", "));
    page.part(&rule.id, &said, &line);
}

/// Cases that do not come out as expected, or whose breach points elsewhere.
fn cases(page: &mut Page, sources: &Sources, rule: &RuleProof) {
    if rule.cases.is_empty() {
        page.row("cases", "the rule has none");
    }
    for (index, case) in rule.cases.iter().enumerate() {
        let (word, at) = (format!("case {}", index + 1), place::text(sources, case.span));
        match &case.outcome {
            CaseOutcome::Invalid(problems) => {
                for problem in problems {
                    let where_ = place::text(sources, problem.primary.span);
                    page.row(&word, &format!("cannot be run: {} ({where_})", problem.message));
                }
            }
            CaseOutcome::Judged(verdict) if !case.holds() => {
                let expected = case.expected.words();
                let found = verdict.words();
                page.row(&word, &format!("expects {expected}, and comes out as {found} ({at})"));
            }
            CaseOutcome::Judged(_) => {}
        }
        if let Some(span) = case.blames {
            let instead = place::text(sources, span);
            let text = format!(
                "breaches, but the finding points at {instead} and not at what the case changes ({at})"
            );
            page.row(&word, &text);
        }
    }
}

/// Numbers that could move further than their pin; on request those that are held, too.
fn slacks(page: &mut Page, sources: &Sources, rule: &RuleProof) {
    for slack in &rule.slacks {
        let loose = slack.within_pin() == Some(false);
        if !loose && !page.options.all {
            continue;
        }
        let pin = slack.pin.map_or_else(
            || "it has no pin".to_owned(),
            |pin| {
                let pin = digits(slack.unit.difference_from_si(pin), 4);
                format!("its pin is {}", glued(format!("{pin} {}", slack.unit.symbol).trim()))
            },
        );
        let text = format!(
            "{} in {} could be {}; {pin} ({})",
            glued(&slack.written),
            slack.part,
            range(slack),
            place::text(sources, slack.span)
        );
        page.row(if loose { "loose" } else { "held" }, &text);
    }
    let spare = rule.cases.iter().enumerate().filter(|(_, case)| case.spare);
    let spare: Vec<String> = spare.map(|(index, _)| (index + 1).to_string()).collect();
    if page.options.all && !spare.is_empty() {
        page.row("spare", &format!("by itself nothing is decided by case {}", spare.join(", ")));
    }
}

/// Between what a number could lie.
pub(super) fn range(slack: &Slack) -> String {
    let end = |si: f64| {
        let number = digits(slack.unit.from_si(si), 5);
        glued(format!("{number} {}", slack.unit.symbol).trim())
    };
    match (slack.low, slack.high) {
        (Some(low), Some(high)) => format!("anything from {} to {}", end(low), end(high)),
        (Some(low), None) => format!("anything from {} up", end(low)),
        (None, Some(high)) => format!("anything up to {}", end(high)),
        (None, None) => "anything".to_owned(),
    }
}

fn digits(value: f64, digits: usize) -> String {
    let places = digits.saturating_sub(1);
    let rounded: f64 = format!("{value:.places$e}").parse().unwrap_or(value);
    format!("{}", rounded + 0.0)
}

/// Alterations that go unnoticed, with the case that would notice them: each case once.
fn missed(page: &mut Page, rule: &RuleProof) {
    let mut groups: Vec<(&Suggestion, Vec<&str>)> = Vec::new();
    for alteration in &rule.alterations {
        let Fate::Missed(suggestion) = &alteration.fate else { continue };
        match groups.iter_mut().find(|(known, _)| *known == suggestion) {
            Some((_, words)) => words.push(&alteration.words),
            None => groups.push((suggestion, vec![&alteration.words])),
        }
    }
    for (suggestion, words) in groups {
        for words in words {
            page.row("missed", words);
        }
        match suggestion {
            Suggestion::Case(case) => {
                page.row("add", "");
                page.pasted(case);
            }
            Suggestion::Words(words) => page.row("add", words),
        }
    }
}

fn rest(page: &mut Page, sources: &Sources, rule: &RuleProof) {
    for stale in &rule.stale {
        let at = place::text(sources, stale.span);
        let text = format!("`{}` is declared equivalent, but {} ({at})", stale.words, stale.why);
        page.row("equivalent", &text);
    }
    let at = place::text(sources, rule.span);
    if rule.never_applicable {
        page.row("never", &format!("no case makes the rule applicable ({at})"));
    }
    if rule.lacks_own_cases {
        let text = "it is changed here, so it needs cases of its own: those of the rulebook below prove it as it is there";
        page.row("cases", text);
    }
    if rule.replaced > 0 && (page.options.all || !rule.is_whole()) {
        let cases = number_of(rule.replaced, "case");
        let stay = if rule.replaced == 1 { "holds" } else { "hold" };
        page.row(
            "replaced",
            &format!("{cases} of the rulebook below {stay} there and no longer here"),
        );
    }
    if rule.never_breached {
        page.row("never", &format!("no case breaches the rule ({at})"));
    }
}

/// Writes how the whole rulebook fared.
pub(super) fn closing(page: &mut Page, proof: &Proof) {
    if proof.has_error() {
        page.paragraph("The rulebook cannot be used, so that no rule was tried.");
        return;
    }
    let score = proof.score();
    let cases: usize = proof.rules.iter().map(|rule| rule.cases.len()).sum();
    let spare = proof.rules.iter().flat_map(|rule| &rule.cases).filter(|case| case.spare).count();
    let unpinned: usize = proof
        .rules
        .iter()
        .map(|rule| rule.slacks.iter().filter(|slack| slack.pin.is_none()).count())
        .sum();
    let mut text = format!(
        "{} by {}: {} of {} noticed ({} %)",
        number_of(proof.rules.len(), "rule"),
        number_of(cases, "case"),
        score.caught,
        number_of(score.caught + score.missed, "alteration"),
        score.percent()
    );
    for (count, one, several) in [
        (score.equivalent, "declared equivalent", "declared equivalent"),
        (score.invalid, "refused by the reader", "refused by the reader"),
        (unpinned, "number without a pin", "numbers without a pin"),
        (spare, "case that decides nothing alone", "cases that decide nothing alone"),
    ] {
        if count > 0 {
            let what = if count == 1 { one } else { several };
            text = format!("{text}, {count} {what}");
        }
    }
    page.paragraph(&format!("{text}."));
    page.paragraph(&format!("Edition {}.", proof.book.edition));
    page.paragraph(if proof.is_whole() {
        "Every case holds and every alteration was noticed."
    } else {
        "The rulebook is not proven."
    });
}
