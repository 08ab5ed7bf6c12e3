//! A finding, as one drawing in pan and rulebook and the lines that lead to it.

use super::atlas::Mark;
use super::draw::{Weight, draw};
use super::page::Page;
use crate::said;
use crate::scale::{Scale, coarser};
use crate::{computed, conceded, deciding, place};
use sumpwright_core::review::{Finding, LimitReading, Need};
use sumpwright_core::source::Sources;
use sumpwright_core::verdict::Verdict;

/// How many needs are printed of one finding, unless all are asked for.
const NEEDS_SHOWN: usize = 3;

/// Writes one finding in full.
pub(super) fn write(page: &mut Page, sources: &Sources, finding: &Finding) {
    page.gap();
    let weight = match finding.verdict {
        Verdict::DoesNotConform => Weight::Heavy,
        Verdict::Inconclusive | Verdict::NotJudged => Weight::Middle,
        _ => Weight::Light,
    };
    let scale = Scale::of_finding(finding);
    let title = format!("{} · {}", finding.title, said::identity(finding));
    draw(page, sources, (finding.verdict.words(), weight), &title, marks(finding, &scale));
    if let Some(value) = said::computed(finding, &scale) {
        page.row("computed", &format!("{} = {value}", finding.measure));
    }
    for limit in &finding.limits {
        limit_rows(page, finding, limit, &scale);
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
    people(page, sources, finding);
    if page.options.all {
        everything(page, finding, &scale);
    }
    page.row("why", &finding.because);
    page.row("source", &finding.source);
    if let Some(remedy) = &finding.remedy {
        page.row("remedy", remedy);
    }
    for paragraph in computed::paragraphs(sources, finding) {
        page.row(computed::WORD, &paragraph);
    }
    if let Some(caution) = &finding.caution {
        page.row("caution", caution);
    }
    needs(page, sources, finding);
}

/// Writes several that wait for the same thing, in short.
pub(super) fn write_waiting(
    page: &mut Page,
    sources: &Sources,
    need: &Need,
    findings: &[&Finding],
) {
    let Some(first) = findings.first() else { return };
    page.gap();
    let marks = (Mark::new(first.subject, first.reason.clone()), Vec::new());
    let word = (first.verdict.words(), Weight::Middle);
    let title = format!("{} rules wait for one thing · {}", findings.len(), need.path);
    draw(page, sources, word, &title, marks);
    let mut word = "waiting";
    for finding in findings {
        page.row(word, &format!("{}: {}", said::identity(finding), finding.title));
        word = "";
    }
    needs(page, sources, first);
    page.row("", "--all tells each of them in full");
}

/// What people have said of it.
fn people(page: &mut Page, sources: &Sources, finding: &Finding) {
    if let Some(acceptance) = &finding.acceptance {
        let at = conceded::at(sources, acceptance);
        let told = conceded::told(acceptance);
        page.row(conceded::word(acceptance), &format!("{told} ({at})"));
    }
    for remark in &finding.remarks {
        page.row("remark", &conceded::remark(remark));
    }
}

/// What is marked: the input that a reader would change, always; the limit; what moves it most.
fn marks(finding: &Finding, scale: &Scale) -> (Mark, Vec<Mark>) {
    let subject = Mark::new(finding.subject, said::in_short(finding, scale));
    let mut others = Vec::new();
    match deciding::deciding(finding) {
        Some(limit) => {
            let said = format!("limit: {}", said::limit(finding, limit, scale));
            others.push(Mark::new(limit.span, said));
        }
        None => others.push(Mark::new(finding.rule_span, "asked by this rule")),
    }
    if let Some(driver) = &finding.driver {
        let moved = format!("moves it most: {}", said::effect(driver, scale));
        others.push(Mark::new(driver.span, moved));
    }
    (subject, others)
}

/// A limit, what is left to it, and how that is decided.
pub(super) fn limit_rows(page: &mut Page, finding: &Finding, limit: &LimitReading, scale: &Scale) {
    page.row("limit", &said::limit(finding, limit, scale));
    let Some(margin) = &limit.margin else { return };
    page.row("margin", &said::margin(margin, limit.side, scale));
    let decides = deciding::deciding(finding).is_some_and(|deciding| deciding.span == limit.span);
    if !decides && !page.options.all {
        return;
    }
    page.row("decision", &said::decided(finding, limit, scale));
}

fn everything(page: &mut Page, finding: &Finding, scale: &Scale) {
    for contribution in &finding.contributions {
        let moved = said::effect(contribution, scale);
        page.row("moved by", &format!("{}: {moved}", contribution.path));
    }
    let u = finding.reading.as_ref().map_or(0.0, coarser);
    for state in &finding.states {
        page.row("state", &said::state(state, u, scale));
    }
}

/// What to state or measure next.
pub(super) fn needs(page: &mut Page, sources: &Sources, finding: &Finding) {
    let shown = if page.options.all { finding.needs.len() } else { NEEDS_SHOWN };
    for need in finding.needs.iter().take(shown) {
        let at = place::text(sources, need.span);
        let how = if need.how_to_get.is_empty() { "" } else { ": " };
        page.row("to measure", &format!("{} ({at}){how}{}", need.path, need.how_to_get));
    }
    if let Some(more @ 1..) = finding.needs.len().checked_sub(shown) {
        page.row("", &format!("and {more} more; --all lists them"));
    }
}
