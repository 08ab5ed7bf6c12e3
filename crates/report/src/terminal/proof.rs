//! A proof for people: a line a rule, details only where something is wrong.

use super::page::Page;
use super::said::number_of;
use sumpwright_core::prove::{CaseProof, Proof, RuleProof, Slack};
use sumpwright_core::quantity::print_in;
use sumpwright_core::source::Sources;

/// Writes a proof.
pub(super) fn write(page: &mut Page, proof: &Proof) {
    for rule in &proof.rules {
        one(page, &proof.sources, rule);
    }
    page.gap();
    let cases = || proof.rules.iter().flat_map(|rule| &rule.cases);
    let alterations = || proof.rules.iter().flat_map(|rule| &rule.alterations);
    let caught = alterations().filter(|alteration| alteration.caught).count();
    page.paragraph(&format!(
        "Proved {} by {}, of which {} hold; of {} tried, {caught} were noticed.",
        number_of(proof.rules.len(), "rule"),
        number_of(cases().count(), "case"),
        cases().filter(|case| case.holds()).count(),
        number_of(alterations().count(), "alteration"),
    ));
    page.paragraph(if proof.is_whole() {
        "Every case holds and every alteration was noticed."
    } else {
        "The rulebook is not proven."
    });
}

fn one(page: &mut Page, sources: &Sources, rule: &RuleProof) {
    let held = rule.cases.iter().filter(|case| case.holds()).count();
    let caught = rule.alterations.iter().filter(|alteration| alteration.caught).count();
    page.entry(
        &rule.id,
        &format!(
            "{held} of {} hold, {caught} of {} noticed",
            number_of(rule.cases.len(), "case"),
            number_of(rule.alterations.len(), "alteration"),
        ),
    );
    for slack in &rule.slacks {
        if page.options.all || !is_held(slack) {
            page.row("slack", &stretch(slack));
        }
    }
    let idle = rule.cases.iter().filter(|case| !case.decides_alone).count();
    if page.options.all && idle > 0 {
        page.row("redundant", &format!("{} decide nothing alone", number_of(idle, "case")));
    }
    if rule.cases.is_empty() {
        page.row("no case", "nothing says where this rule holds and where it does not");
    }
    for case in rule.cases.iter().filter(|case| !case.holds()) {
        page.row("case", &wrong(sources, case));
    }
    for missed in rule.alterations.iter().filter(|alteration| !alteration.caught) {
        page.row("not noticed", &missed.what);
    }
}

/// Whether a number is held as tightly as its pin asks; one without a pin is only listed.
fn is_held(slack: &Slack) -> bool {
    let Some(pin) = slack.pin else { return true };
    let (Some(low), Some(high)) = (slack.low, slack.high) else { return false };
    high - low <= 2.0 * pin
}

/// The stretch in which a number could move unnoticed.
fn stretch(slack: &Slack) -> String {
    let width = slack.low.zip(slack.high).map_or(0.0, |(low, high)| (high - low) / 10.0);
    let shown = |value: Option<f64>| match value {
        Some(value) => print_in(value, width, &slack.unit),
        None => "no bound".to_owned(),
    };
    let pin = slack.pin.map_or_else(
        || "no pin".to_owned(),
        |pin| format!("pin {}", print_in(pin, 0.0, &slack.unit)),
    );
    format!(
        "{} could stand anywhere from {} to {} unnoticed ({pin})",
        slack.written,
        shown(slack.low),
        shown(slack.high)
    )
}

fn wrong(sources: &Sources, case: &CaseProof) -> String {
    let place = sources.place(case.span);
    let at = format!("{}:{}:{}", place.path, place.line, place.column);
    let expected = case.expected.words();
    match &case.found {
        Ok(found) => format!("{at}: expected {expected}, and it is {}", found.words()),
        Err(why) => format!("{at}: expected {expected}, but it cannot be run: {why}"),
    }
}
