//! A review as one page for a browser or a printer: no script, nothing fetched, every text of others escaped.

mod across;
mod beside;
mod checklist;
mod finding;
mod outline;
mod pan;
mod source;

pub(crate) use beside::pans_compared;
pub(crate) use outline::{comparison, confirmation, declaration, declared, explanation, proof};

use crate::counts::by_verdict;
use crate::said::{self, unglued};
use crate::{changes, conceded, place, screening, svg, visible};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use core::fmt::Write as _;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use sha2::{Digest, Sha256};
use std::collections::BTreeSet;
use sumpwright_core::review::{BookUsed, ChecklistHeld, Measured, PanReview, Review};
use sumpwright_core::source::{Diagnostic, Severity, Sources};
use sumpwright_core::verdict::Verdict;

const STYLE: &str = include_str!("page.css");

/// Writes a review.
pub(crate) fn review(review: &Review) -> String {
    let heading = match review.pans.as_slice() {
        _ if review.screening.is_some() => "What is worse than known".to_owned(),
        [pan] => format!("Review of {}", pan.title.as_deref().unwrap_or(&pan.path)),
        pans => format!("Review of {}", said::number_of(pans.len(), "pan")),
    };
    let body = html! {
        h1 { (shown(&heading)) }
        (summary(review))
        (problems(&review.sources, &review.problems))
        (built_on(&review.sources, &review.book))
        (concessions(review))
        (mended(review))
        @for (number, list) in review.checklists.iter().enumerate() {
            (checklist::section(review, list, number))
        }
        @if review.pans.len() > 1 && review.screening.is_none() { (across::section(review)) }
        @for (number, one) in review.pans.iter().enumerate() {
            (pan::section(review, one, number))
        }
        (cautions())
        (made_from(&review.sources, review.rules))
    };
    page(&heading, &body)
}

/// Writes readings with their drawings.
pub(crate) fn measured(measured: &Measured) -> String {
    let heading = match measured.pans.as_slice() {
        [pan] => format!("Readings of {}", pan.title.as_deref().unwrap_or(&pan.path)),
        [] => "Nothing was read".to_owned(),
        pans => format!("Readings of {}", said::number_of(pans.len(), "pan")),
    };
    let body = html! {
        h1 { (shown(&heading)) }
        (problems(&measured.sources, &measured.problems))
        @for (number, one) in measured.pans.iter().enumerate() {
            (pan::readings(&measured.sources, one, number))
        }
        (cautions())
        (made_from(&measured.sources, 0))
    };
    page(&heading, &body)
}

/// A whole page. Its policy allows nothing but the one style sheet in it, known by its digest.
fn page(title: &str, body: &Markup) -> String {
    let style = format!("{STYLE}{}", svg::STYLE);
    let digest = STANDARD.encode(Sha256::digest(style.as_bytes()));
    let policy = format!(
        "default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    );
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(policy);
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (shown(title)) }
                style { (PreEscaped(style)) }
            }
            body { main { (body) } }
        }
    };
    format!("{}\n", markup.into_string())
}

/// What the rulebook builds on and changes.
fn built_on(sources: &Sources, book: &BookUsed) -> Markup {
    let lines = changes::lines(book);
    html! {
        @if !lines.is_empty() {
            section {
                h2 { (changes::HEADING) }
                dl { @for line in &lines { dt { (line.word) } dd { (shown(&line.placed(sources))) } } }
            }
        }
    }
}

/// In words what came out: the first thing that is read, and for some the only one.
fn summary(review: &Review) -> Markup {
    let findings = || review.pans.iter().flat_map(|pan| &pan.findings);
    let counts = said::counts(&by_verdict(findings()));
    if let Some(said) = screening::summary(review) {
        return html! { p.lead { (shown(&said)) } };
    }
    html! {
        p.lead { (outcome(review)) }
        p { "Held against " (said::number_of(review.rules, "rule")) ": " (counts) "." }
        @for (number, list) in review.checklists.iter().enumerate() {
            p { a href=(format!("#checklist-{number}")) { "Checklist" } " " (shown(&said::checklist_summary(list))) }
        }
        @if let Some(said) = conceded::summary(review) { p { (shown(&said)) } }
        @let decisions = decisions(review);
        @if !decisions.is_empty() { p { "Decided by: " (decisions) "." } }
    }
}

fn outcome(review: &Review) -> String {
    let against = review.pans.iter().filter(|pan| is_against(pan)).count();
    let pans = review.pans.len();
    // What needs a decision although no pan has anything against it.
    let beside = [
        (!review.conceding.findings.is_empty(), "a concession needs a decision"),
        (
            review.checklists.iter().any(ChecklistHeld::is_against),
            "a checklist is not shown to be met",
        ),
    ];
    let beside: Vec<&str> =
        beside.into_iter().filter(|(stands, _)| *stands).map(|(_, words)| words).collect();
    match (pans, against) {
        (0, _) => "Nothing was judged.".to_owned(),
        (_, 0) if !beside.is_empty() => {
            format!("Nothing was found against the pans, and {}.", beside.join(", and "))
        }
        (_, 0) => "Nothing was found against what was looked at.".to_owned(),
        (1, _) => "Something is against this pan that the rulebook does not allow.".to_owned(),
        (_, 1) => {
            format!("1 of {pans} pans has something against it that the rulebook does not allow.")
        }
        _ => format!(
            "{against} of {pans} pans have something against them that the rulebook does not allow."
        ),
    }
}

fn decisions(review: &Review) -> String {
    let findings = review.pans.iter().flat_map(|pan| &pan.findings);
    let mut all: Vec<String> = findings.map(|f| said::decision(f.decision)).collect();
    all.sort();
    all.dedup();
    all.join("; ")
}

fn is_against(pan: &PanReview) -> bool {
    use sumpwright_core::document::rulebook::Force;
    pan.findings.iter().any(|f| {
        matches!(f.verdict, Verdict::DoesNotConform | Verdict::NotJudged)
            || (f.verdict == Verdict::Inconclusive && f.force == Force::Shall)
    })
}

fn problems(sources: &Sources, problems: &[Diagnostic]) -> Markup {
    html! {
        @if !problems.is_empty() {
            section {
                h2 { "Problems of the documents" }
                @for problem in problems {
                    div.finding {
                        h3 {
                            span.verdict { (severity(problem)) }
                            " " (shown(&problem.message))
                        }
                        p.place { (shown(&place::text(sources, problem.primary.span))) }
                        (source::excerpt(sources, problem.primary.span))
                        @if let Some(help) = &problem.help { p { (shown(help)) } }
                    }
                }
            }
        }
    }
}

/// What is against the concessions themselves.
fn concessions(review: &Review) -> Markup {
    html! {
        @if !review.conceding.findings.is_empty() {
            section {
                h2 { (conceded::HEADING) }
                @for finding in &review.conceding.findings {
                    div.finding {
                        h3 {
                            span class="verdict breach" { (finding.fault.words()) }
                            " " (shown(&conceded::finding(finding)))
                        }
                        p.place { (shown(&conceded::about(finding))) }
                        p.place { (shown(&place::text(&review.sources, finding.span))) }
                        (source::excerpt(&review.sources, finding.span))
                        p { (shown(&finding.help)) }
                    }
                }
            }
        }
    }
}

/// What is known and no more.
fn mended(review: &Review) -> Markup {
    let stale = screening::stale(review);
    html! {
        @if !stale.is_empty() {
            section {
                h2 { (screening::HEADING) }
                @for finding in stale {
                    div.finding {
                        h3 {
                            span class="verdict" { (screening::WORD) }
                            " " (shown(&screening::finding(finding)))
                        }
                        p.place { (shown(&screening::about(finding))) }
                        p.place { (shown(&place::text(&review.sources, finding.span))) }
                        (source::excerpt(&review.sources, finding.span))
                        p { (shown(&finding.help)) }
                    }
                }
            }
        }
    }
}

fn severity(problem: &Diagnostic) -> &'static str {
    match problem.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    }
}

fn cautions() -> Markup {
    html! {
        section.cautions {
            h2 { "Cautions" }
            p { (said::CAUTIONS) }
        }
    }
}

/// Every text that was read, with its digest, so that the page can be held against what it is about.
fn made_from(sources: &Sources, rules: usize) -> Markup {
    let mut listed = BTreeSet::new();
    // Two rulebooks that build on one file read it twice; it is listed once.
    let files: Vec<(&str, String)> = sources
        .files()
        .map(|file| (sources.path(file), hex(sources.text(file).as_bytes())))
        .filter(|file| listed.insert(file.clone()))
        .collect();
    html! {
        section {
            h2 { "Made from" }
            p {
                "sumpwright " (env!("CARGO_PKG_VERSION"))
                @if rules > 0 { ", a rulebook of " (said::number_of(rules, "rule")) }
                ". SHA-256 of every file as it was read:"
            }
            div.wide {
                table {
                    thead { tr { th scope="col" { "file" } th scope="col" { "SHA-256" } } }
                    tbody {
                        @for (path, digest) in &files {
                            tr { th scope="row" { (shown(path)) } td.digest { (digest) } }
                        }
                    }
                }
            }
        }
    }
}

fn hex(bytes: &[u8]) -> String {
    let mut text = String::new();
    for byte in Sha256::digest(bytes) {
        // Writing into a string does not fail.
        let _ = write!(text, "{byte:02x}");
    }
    text
}

/// Text of others: what could hide or turn is spelt out; the page escapes it.
fn shown(text: &str) -> String {
    visible::visible_paragraph(&unglued(text))
}

#[cfg(test)]
mod tests;
