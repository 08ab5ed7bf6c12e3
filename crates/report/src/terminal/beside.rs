//! A pan beside its baseline: what is won and lost at a glance, verdicts that change, then topic by topic.

use super::closing;
use super::page::Page;
use crate::beside::{self, HOW};
use crate::said::number_of;
use sumpwright_core::compare::{MeasureBeside, Outcome, PansCompared, Sides, TopicCompared};

/// Writes the comparison.
pub(super) fn write(page: &mut Page, compared: &PansCompared) {
    page.gap();
    closing::problems(page, &compared.problems);
    let Some(sides) = &compared.sides else {
        page.paragraph("The documents are at fault, so that nothing was compared.");
        return;
    };
    page.heading(&beside::pan(&sides.pan));
    for baseline in &sides.baselines {
        page.row("beside", &beside::pan(baseline));
    }
    if sides.baselines.len() > 1 {
        page.row("", &format!("the mean of {}", number_of(sides.baselines.len(), "baseline")));
    }
    for (word, said) in beside::summary(sides) {
        page.row(word, &said);
    }
    verdicts(page, sides);
    for topic in &sides.topics {
        write_topic(page, topic);
    }
    page.gap();
    page.paragraph(HOW);
    page.gap();
    page.paragraph(&format!("{}.", beside::counts(sides)));
    let rules = number_of(compared.rules, "rule");
    let (other, same) = (sides.verdicts.len(), sides.same_verdicts);
    page.paragraph(&format!("{rules}: {other} with another verdict, {same} with the same."));
    if !page.options.all {
        page.paragraph("--all tells what is alike and what cannot be told apart too.");
    }
}

fn verdicts(page: &mut Page, sides: &Sides) {
    if sides.verdicts.is_empty() {
        return;
    }
    page.gap();
    page.heading("Verdicts, from the baseline's to this pan's");
    let all = page.options.all;
    let told = || sides.verdicts.iter().filter(|one| all || beside::is_grave(one));
    for verdict in told() {
        page.entry(&verdict.rule, &beside::verdicts(verdict));
    }
    if let Some(rest @ 1..) = sides.verdicts.len().checked_sub(told().count()) {
        let rules = number_of(rest, "rule");
        page.row("", &format!("and {rules} that apply on one side only, and conform there"));
    }
}

fn write_topic(page: &mut Page, topic: &TopicCompared) {
    let all = page.options.all;
    let is_shown = |one: &&MeasureBeside| {
        let rest = matches!(one.outcome, Outcome::NotToldApart | Outcome::Same);
        beside::is_told(one) || (all && rest)
    };
    let told: Vec<&MeasureBeside> = topic.measures.iter().filter(is_shown).collect();
    let only = [
        ("here only", only(topic, Outcome::OnlyHere, all)),
        ("there only", only(topic, Outcome::OnlyThere, all)),
    ];
    if told.is_empty() && only.iter().all(|(_, said)| said.is_empty()) {
        return;
    }
    page.gap();
    page.heading(topic.name);
    for one in told {
        let driver = beside::driver(one).filter(|_| all);
        let more = driver.map_or_else(String::new, |driver| format!("; {driver}"));
        let said = format!("{}, {}{more}", one.outcome.words(), beside::sentence(one));
        page.entry(&beside::name(one), &said);
    }
    for (word, said) in only.iter().filter(|(_, said)| !said.is_empty()) {
        page.row(word, &said.join(", "));
    }
}

/// What is known on one side only, in short or in full.
fn only(topic: &TopicCompared, outcome: Outcome, all: bool) -> Vec<String> {
    if !all {
        return beside::one_sided(topic, outcome);
    }
    let side = if outcome == Outcome::OnlyThere { beside::there } else { beside::here };
    let found = topic.measures.iter().filter(|one| one.outcome == outcome);
    found.map(|one| format!("{} {}", beside::name(one), side(one))).collect()
}
