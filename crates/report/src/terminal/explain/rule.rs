//! A rule in full: what it asks and why, and what proves it.

use super::{force, read_for, unit};
use crate::place;
use crate::said;
use crate::said::glued;
use crate::terminal::page::Page;
use crate::terminal::proof;
use sumpwright_core::document::rulebook::Decision;
use sumpwright_core::explain::{Case, Cases, LimitAsked, Pin, RuleExplained};
use sumpwright_core::review::LimitSide;
use sumpwright_core::source::Sources;
use sumpwright_core::verdict::guard_factor;

/// Said under every rule.
pub(super) const CAUTION: &str = "A rule judges a description; it approves no part and no vehicle. The vehicle maker's \
instructions, local codes and licensed practice come first.";

/// Writes a rule.
pub(super) fn write(page: &mut Page, sources: &Sources, rule: &RuleExplained) {
    page.gap();
    page.heading(&format!("{} · {}", rule.line.id, rule.line.title));
    page.row("asks", &asks(rule));
    page.row("judged for", read_for(rule.kind));
    page.row("when", rule.when.as_ref().map_or("always", |when| &when.text));
    let mut word = "measure";
    for spec in &rule.measures {
        page.row(word, &format!("{} [{}]: {}", spec.name, unit(spec.dimension), spec.meaning));
        word = "";
    }
    limits(page, sources, rule);
    page.row("decision", &decision(rule));
    why(page, rule);
    if let Some(since) = rule.since {
        page.row("since", &format!("edition {since} of the rulebook"));
    }
    cases(page, sources, &rule.cases);
    page.row("stands at", &place::text(sources, rule.line.span));
    page.gap();
    page.paragraph(CAUTION);
}

/// `shall: pickup.rim_depth at least 10 mm`.
pub(super) fn asks(rule: &RuleExplained) -> String {
    let limits: Vec<_> = rule.limits.iter().map(side_and_text).collect();
    format!("{}: {} {}", force(rule.line.force), rule.measure.text, limits.join(" and "))
}

fn side_and_text(limit: &LimitAsked) -> String {
    let text = &limit.written.text;
    let text = if limit.is_plain { glued(text) } else { text.clone() };
    match limit.side {
        LimitSide::AtLeast => format!("at least {text}"),
        LimitSide::AtMost => format!("at most {text}"),
    }
}

fn limits(page: &mut Page, sources: &Sources, rule: &RuleExplained) {
    for limit in &rule.limits {
        let of = if limit.is_plain {
            String::new()
        } else {
            format!(", {} [{}]", rule.dimension.name(), unit(rule.dimension))
        };
        let at = place::text(sources, limit.written.span);
        page.row("limit", &format!("{}{of} ({at})", side_and_text(limit)));
    }
    for note in &rule.changed {
        page.row("changed", note);
    }
    // The same number with the same pin in two limits is one thing to a reader.
    let mut said: Vec<String> = Vec::new();
    for pin in &rule.pins {
        let text = pinned(pin);
        if !said.contains(&text) {
            page.row(if said.is_empty() { "pin" } else { "" }, &text);
            said.push(text);
        }
    }
}

fn pinned(Pin { number, pin, slack, .. }: &Pin) -> String {
    let text = match pin {
        Some(pin) => {
            format!("the cases must hold {} to within {}", glued(number), glued(pin))
        }
        None => format!("{} has no pin: nothing says how tightly it is held", glued(number)),
    };
    let Some(slack) = slack else { return text };
    if let (None, None) = (slack.low, slack.high) {
        return format!("{text}; in {} no case holds it, whatever it is", slack.part);
    }
    let so = if slack.within_pin() == Some(false) { ", which is too much" } else { "" };
    format!("{text}; in {} it could be {} before one notices{so}", slack.part, proof::range(slack))
}

/// The decision rule, and what it takes off.
fn decision(rule: &RuleExplained) -> String {
    let decision = rule.decision;
    let factor = guard_factor(decision);
    let taken = if let (Decision::Probability(_), 2..) = (decision, rule.limits.len()) {
        "of lying between both limits".to_owned()
    } else if factor > 0.0 {
        format!("{factor:.3} standard uncertainties of the margin are taken off")
    } else {
        "nothing is taken off".to_owned()
    };
    format!("{}: {taken}", said::decision(decision))
}

/// Why it is there, and what to do.
pub(super) fn why(page: &mut Page, rule: &RuleExplained) {
    page.row("why", &rule.because);
    page.row("source", &rule.source);
    if let Some(remedy) = &rule.remedy {
        page.row("remedy", remedy);
    }
    if let Some(caution) = &rule.caution {
        page.row("caution", caution);
    }
}

fn cases(page: &mut Page, sources: &Sources, cases: &Cases) {
    let mut word = "cases";
    for case in cases.passing.iter().chain(&cases.failing) {
        page.row(word, &told(sources, case));
        word = "";
    }
    if cases.failed > 0 {
        let (do_not, hold) = if cases.failed == 1 { ("does", "holds") } else { ("do", "hold") };
        let count = said::number_of(cases.failed, "case");
        let text = format!(
            "{count} {do_not} not come out as expected and so {hold} nothing: `sumpwright prove` says why"
        );
        page.row("failing", &text);
    }
    let others: Vec<_> =
        cases.others.iter().map(|(of, count)| format!("{count} {}", of.words())).collect();
    if !others.is_empty() {
        let count: usize = cases.others.iter().map(|(_, count)| count).sum();
        let more = if word.is_empty() { " more" } else { "" };
        let and = if word.is_empty() { "and " } else { "" };
        let thing = if count == 1 { "case" } else { "cases" };
        page.row(word, &format!("{and}{count}{more} {thing}: {}", others.join(", ")));
    } else if !word.is_empty() {
        page.row(word, "none: nothing proves this rule");
    }
}

/// `conforms: stock-stamped with every uncertainty set to zero and wall.floor set to 3 mm`.
fn told(sources: &Sources, case: &Case) -> String {
    let mut changes = Vec::new();
    if case.exact {
        changes.push("every uncertainty set to zero".to_owned());
    }
    changes.extend(case.set.iter().map(|(path, text)| format!("{path} set to {}", glued(text))));
    changes.extend(case.dropped.iter().map(|path| format!("{path} left out")));
    let with = match changes.split_last() {
        None => String::new(),
        Some((last, [])) => format!(" with {last}"),
        Some((last, first)) => format!(" with {} and {last}", first.join(", ")),
    };
    let at = place::text(sources, case.span);
    format!("{}: {}{with} ({at})", case.expected.words(), case.fixture)
}
