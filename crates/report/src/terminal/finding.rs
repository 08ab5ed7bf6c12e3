//! A finding, as one drawing in pan and rulebook and the lines that lead to it.

use super::atlas::Mark;
use super::draw::{Weight, draw};
use super::page::{Page, glued};
use super::said;
use crate::{amount, deciding, place};
use sumpwright_core::quantity::print_amount;
use sumpwright_core::review::{Contribution, Finding, LimitReading, LimitSide};
use sumpwright_core::source::Sources;
use sumpwright_core::verdict::Verdict;

/// How many needs are printed of one finding, unless all are asked for.
const NEEDS_SHOWN: usize = 3;

/// Whether a finding is written in full: something is against the pan, or it could not be said.
pub(super) fn is_told_in_full(finding: &Finding) -> bool {
    !matches!(finding.verdict, Verdict::Conforms | Verdict::NotApplicable)
}

/// Rule id and object path: what a finding is called everywhere.
pub(super) fn identity(finding: &Finding) -> String {
    match &finding.object {
        Some(object) => format!("{} · {object}", finding.rule),
        None => finding.rule.clone(),
    }
}

/// Writes one finding in full.
pub(super) fn write(page: &mut Page, sources: &Sources, finding: &Finding) {
    page.gap();
    let weight = match finding.verdict {
        Verdict::DoesNotConform => Weight::Heavy,
        Verdict::Inconclusive | Verdict::NotJudged => Weight::Middle,
        _ => Weight::Light,
    };
    let title = format!("{} · {}", finding.title, identity(finding));
    draw(page, sources, (finding.verdict.words(), weight), &title, marks(finding));
    if let Some(reading) = &finding.reading {
        let value = glued(&amount::reading(reading, finding.dimension));
        page.row("computed", &format!("{} = {value}", finding.measure));
    }
    for limit in &finding.limits {
        limit_rows(page, finding, limit);
    }
    if let Some(worst) = &finding.worst {
        page.row("worst", &said::worst(worst));
    }
    if !finding.reason.is_empty() {
        page.row("reason", &finding.reason);
    }
    for note in &finding.notes {
        page.row("note", note);
    }
    if page.options.all {
        everything(page, finding);
    }
    page.row("why", &finding.because);
    page.row("source", &finding.source);
    if let Some(remedy) = &finding.remedy {
        page.row("remedy", remedy);
    }
    if let Some(caution) = &finding.caution {
        page.row("caution", caution);
    }
    needs(page, sources, finding);
}

/// What is marked: the input that a reader would change, always; the limit; what moves it most.
fn marks(finding: &Finding) -> (Mark, Vec<Mark>) {
    let subject = Mark::new(finding.subject, said::in_short(finding));
    let mut others = Vec::new();
    if let Some(limit) = deciding::deciding(finding) {
        others.push(Mark::new(limit.span, format!("limit: {}", said::limit(finding, limit))));
    }
    if let Some(driver) = &finding.driver {
        let moved = said::effect(driver, finding.dimension);
        others.push(Mark::new(driver.span, format!("moves it most: {moved}")));
    }
    (subject, others)
}

fn limit_rows(page: &mut Page, finding: &Finding, limit: &LimitReading) {
    page.row("limit", &said::limit(finding, limit));
    let Some(margin) = &limit.margin else { return };
    page.row("margin", &said::margin(margin, limit.side, finding.dimension));
    let decision = said::decision(finding.decision);
    match (limit.guard, limit.value.and_then(|value| value.bounds.value())) {
        (Some(guard), Some(value)) if guard > 0.0 => {
            let (side, accepted) = match limit.side {
                LimitSide::AtLeast => ("at least", value + guard),
                LimitSide::AtMost => ("at most", value - guard),
            };
            let (accepted, guard) = (
                print_amount(accepted, guard, finding.dimension),
                print_amount(guard, guard, said::difference(finding.dimension)),
            );
            page.row(
                "decision",
                &format!(
                    "{decision}: {} taken off, so it conforms from {side} {}",
                    glued(&guard),
                    glued(&accepted)
                ),
            );
        }
        _ => page.row("decision", &format!("{decision}: nothing taken off")),
    }
}

fn everything(page: &mut Page, finding: &Finding) {
    for contribution in &finding.contributions {
        let Contribution { path, .. } = contribution;
        let moved = said::effect(contribution, finding.dimension);
        page.row("moved by", &format!("{path}: {moved}"));
    }
    for state in &finding.states {
        page.row("state", &said::state(state, finding.dimension));
    }
}

fn needs(page: &mut Page, sources: &Sources, finding: &Finding) {
    let shown = if page.options.all { finding.needs.len() } else { NEEDS_SHOWN };
    for need in finding.needs.iter().take(shown) {
        let at = place::text(sources, need.span);
        page.row("measure", &format!("{} ({at}): {}", need.path, need.how_to_get));
    }
    if let Some(more @ 1..) = finding.needs.len().checked_sub(shown) {
        page.row("", &format!("and {more} more; --all lists them"));
    }
}
