//! A finding in full.

use super::{shown, source};
use crate::scale::Scale;
use crate::{computed, conceded, deciding, place, said};
use maud::{Markup, html};
use sumpwright_core::review::{Finding, LimitReading, Need};
use sumpwright_core::source::Sources;
use sumpwright_core::verdict::Verdict;

/// Where a finding of a pan stands on the page.
pub(super) fn anchor(number: usize, finding: &Finding) -> String {
    format!("pan-{number}-{}", said::identity(finding).replace(" · ", "-"))
}

/// The class by which a verdict looks; the words say it all the same.
pub(super) fn class(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::DoesNotConform => "verdict breach",
        Verdict::Inconclusive | Verdict::NotJudged => "verdict open",
        Verdict::Conforms => "verdict held",
        Verdict::Conceded => "verdict conceded",
        Verdict::Advisory | Verdict::NotApplicable => "verdict",
    }
}

/// Everything that leads to the verdict.
pub(super) fn article(sources: &Sources, number: usize, finding: &Finding) -> Markup {
    let scale = Scale::of_finding(finding);
    html! {
        article.finding id=(anchor(number, finding)) {
            h4 {
                span class=(class(finding.verdict)) { (finding.verdict.words()) }
                " " (shown(&finding.title))
            }
            p.place { (shown(&said::identity(finding))) }
            p.said { (shown(&said::in_short(finding, &scale))) }
            p.place { (shown(&place::text(sources, finding.subject))) }
            (source::excerpt(sources, finding.subject))
            dl {
                @if let Some(value) = said::computed(finding, &scale) {
                    (entry("computed", &format!("{} = {value}", finding.measure)))
                }
                @for limit in &finding.limits { (limit_entries(sources, finding, limit, &scale)) }
                @if let Some(worst) = &finding.worst { (entry("worst", &said::worst(worst))) }
                @if let Some(driver) = &finding.driver {
                    (entry("moved most by", &format!(
                        "{} ({}): {}", driver.path, place::text(sources, driver.span),
                        said::effect(driver, &scale)
                    )))
                }
                @if !finding.reason.is_empty() { (entry("reason", &finding.reason)) }
                @for note in &finding.notes { (entry("note", note)) }
                @if let Some(accepted) = &finding.acceptance {
                    (entry(conceded::word(accepted), &format!(
                        "{} ({})", conceded::told(accepted), conceded::at(sources, accepted)
                    )))
                }
                @for remark in &finding.remarks { (entry("remark", &conceded::remark(remark))) }
                (entry("why", &finding.because))
                (entry("source", &finding.source))
                @if let Some(remedy) = &finding.remedy { (entry("remedy", remedy)) }
                @for paragraph in computed::paragraphs(sources, finding) {
                    (entry(computed::WORD, &paragraph))
                }
                @if let Some(caution) = &finding.caution { (entry("caution", caution)) }
                @for need in &finding.needs { (wanted(sources, need)) }
            }
            (states(finding, &scale))
        }
    }
}

/// Several that wait for the same thing: in short, and each in full where it is asked for.
pub(super) fn waiting(
    sources: &Sources,
    number: usize,
    need: &Need,
    findings: &[&Finding],
) -> Markup {
    let Some(first) = findings.first() else { return html! {} };
    html! {
        article.finding.waiting {
            h4 {
                span class=(class(first.verdict)) { (first.verdict.words()) }
                " " (findings.len()) " rules wait for one thing: " (shown(&need.path))
            }
            p.said { (shown(&first.reason)) }
            p.place { (shown(&place::text(sources, first.subject))) }
            (source::excerpt(sources, first.subject))
            dl { (wanted(sources, need)) }
            ul { @for finding in findings {
                li { (shown(&finding.title)) " " span.place { (shown(&said::identity(finding))) } }
            } }
            details {
                summary { "Each in full" }
                @for finding in findings { (article(sources, number, finding)) }
            }
        }
    }
}

fn wanted(sources: &Sources, need: &Need) -> Markup {
    let at = place::text(sources, need.span);
    entry("to measure", &format!("{} ({at}): {}", need.path, need.how_to_get))
}

fn entry(word: &str, text: &str) -> Markup {
    html! { dt { (word) } dd { (shown(text)) } }
}

fn limit_entries(
    sources: &Sources,
    finding: &Finding,
    limit: &LimitReading,
    scale: &Scale,
) -> Markup {
    let at = place::text(sources, limit.span);
    let decides = deciding::deciding(finding).is_some_and(|other| other.span == limit.span);
    html! {
        (entry("limit", &format!("{} ({at})", said::limit(finding, limit, scale))))
        @if let Some(margin) = &limit.margin {
            (entry("margin", &said::margin(margin, limit.side, scale)))
        }
        @if decides { (entry("decision", &said::decided(finding, limit, scale))) }
    }
}

/// What came out in every state, folded away.
fn states(finding: &Finding, scale: &Scale) -> Markup {
    let u = finding.reading.as_ref().map_or(0.0, crate::scale::coarser);
    html! {
        @if finding.states.len() > 1 {
            details {
                summary { "In every state" }
                ul.states { @for state in &finding.states { li { (shown(&said::state(state, u, scale))) } } }
            }
        }
    }
}
