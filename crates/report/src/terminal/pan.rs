//! One pan: its heading, its findings, and what has to be known beside them.

use super::finding;
use super::page::Page;
use crate::counts::by_verdict;
use crate::place;
use crate::said;
use crate::said::glued;
use crate::scale::Scale;
use crate::told::{Shown, Told, is_told};
use std::collections::BTreeMap;
use sumpwright_core::quantity::print_in;
use sumpwright_core::review::{Finding, InputUsed, PanReview, Review};
use sumpwright_core::source::Sources;
use sumpwright_core::verdict::Verdict;

/// How many inputs taken as exact are named, unless all are asked for.
const EXACT_SHOWN: usize = 4;

/// How many needs of the pan are named, unless all are asked for.
const NEEDS_SHOWN: usize = 5;

/// Writes one pan, with what is shown of its findings.
pub(super) fn write(page: &mut Page, review: &Review, pan: &PanReview, shown: &Shown<'_>) {
    let sources = &review.sources;
    page.gap();
    page.heading(&heading(&pan.path, pan.title.as_deref()));
    if !pan.baselines.is_empty() {
        page.row("baseline", &pan.baselines.join(", "));
    }
    for told in &shown.told {
        match told {
            Told::Waiting { need, findings } if !page.options.all => {
                finding::write_waiting(page, sources, need, findings);
            }
            Told::Waiting { findings, .. } => {
                for finding in findings {
                    finding::write(page, sources, finding);
                }
            }
            Told::Alone(finding) => finding::write(page, sources, finding),
        }
    }
    page.gap();
    passed_over_row(page, &shown.passed_over);
    if page.options.all {
        verdict_lines(page, &pan.findings);
    }
    if review.screening.is_none() {
        page.row("verdicts", &said::counts(&by_verdict(&pan.findings)));
    }
    if nothing_judged(&pan.findings) {
        page.row("", "nothing was judged: no rule applies to this pan");
    }
    measure_next(page, sources, pan);
    inputs_and_notes(page, &pan.inputs, &pan.notes);
}

/// What there was no room for, by rule.
fn passed_over_row(page: &mut Page, rules: &BTreeMap<&str, usize>) {
    let count: usize = rules.values().sum();
    if count == 0 {
        return;
    }
    let each: Vec<_> = rules
        .iter()
        .map(
            |(rule, count)| {
                if *count > 1 { format!("{rule} ({count})") } else { (*rule).to_owned() }
            },
        )
        .collect();
    let more = said::number_of(count, "more finding");
    page.row("more", &format!("{more}; --all tells them in full: {}", each.join(", ")));
}

/// Path and title of a pan.
pub(super) fn heading(path: &str, title: Option<&str>) -> String {
    title.map_or_else(|| path.to_owned(), |title| format!("{path} · {title}"))
}

fn nothing_judged(findings: &[Finding]) -> bool {
    findings.iter().all(|finding| finding.verdict == Verdict::NotApplicable)
}

/// A line for each rule that is not told in full: conforming with value and margin, or not applicable.
fn verdict_lines(page: &mut Page, findings: &[Finding]) {
    for finding in findings.iter().filter(|f| !is_told(f)) {
        let identity = said::identity(finding);
        if finding.verdict == Verdict::NotApplicable {
            let reason = if finding.reason.is_empty() { "" } else { ": " };
            page.row("not applied", &format!("{identity}{reason}{}", finding.reason));
            continue;
        }
        let scale = Scale::of_finding(finding);
        let value = said::computed(finding, &scale).map_or_else(String::new, |v| format!(": {v}"));
        let limits: Vec<_> = finding
            .limits
            .iter()
            .map(|limit| {
                let asked = said::limit(finding, limit, &scale);
                let margin = limit.margin.map_or_else(String::new, |margin| {
                    format!(", {}", said::margin(&margin, limit.side, &scale))
                });
                format!("{asked}{margin}")
            })
            .collect();
        page.row("conforms", &format!("{identity}{value}; {}", limits.join("; ")));
    }
}

/// What is only assumed, then what inconclusive rules ask for, most asked for first.
fn measure_next(page: &mut Page, sources: &Sources, pan: &PanReview) {
    let mut wanted = Vec::new();
    for input in pan.inputs.iter().filter(|input| input.assumed) {
        let value = glued(&print_in(input.value, input.u, &input.unit));
        let at = place::text(sources, input.span);
        wanted.push(format!(
            "{} ({at}), only assumed to be {value}: {}",
            input.path, input.how_to_get
        ));
    }
    let assumed: Vec<&str> =
        pan.inputs.iter().filter(|i| i.assumed).map(|i| i.path.as_str()).collect();
    let mut asked: BTreeMap<&str, usize> = BTreeMap::new();
    for need in pan.findings.iter().flat_map(|finding| &finding.needs) {
        if !assumed.contains(&need.path.as_str()) {
            *asked.entry(&need.path).or_default() += 1;
        }
    }
    let mut asked: Vec<_> = asked.into_iter().collect();
    asked.sort_by(|(a, n), (b, m)| m.cmp(n).then(a.cmp(b)));
    for (path, rules) in asked {
        wanted.push(format!("{path}, for {}", said::number_of(rules, "verdict")));
    }
    let shown = if page.options.all { wanted.len() } else { NEEDS_SHOWN };
    let mut word = "to measure";
    for want in wanted.iter().take(shown) {
        page.row(word, want);
        word = "";
    }
    if let Some(more @ 1..) = wanted.len().checked_sub(shown) {
        page.row("", &format!("and {more} more; --all lists them"));
    }
}

/// What was taken as exact, and the notes on how it was computed.
pub(super) fn inputs_and_notes(page: &mut Page, inputs: &[InputUsed], notes: &[String]) {
    let mut exact: Vec<_> =
        inputs.iter().filter(|i| i.u <= 0.0 && !i.assumed).map(|i| i.path.as_str()).collect();
    // A stable sort: the pan's own first, then what it refers to, then its baselines'.
    exact.sort_by_key(|path| match path.split('.').next() {
        Some("baseline") => 2,
        Some("vehicle" | "oil" | "duty") => 1,
        _ => 0,
    });
    let shown = if page.options.all { exact.len() } else { EXACT_SHOWN };
    if !exact.is_empty() {
        let first: Vec<_> = exact.iter().take(shown).copied().collect();
        let more = match exact.len().checked_sub(shown) {
            Some(more @ 1..) => format!(" and {more} more; --all lists them"),
            _ => String::new(),
        };
        let count = said::number_of(exact.len(), "input");
        page.row("as exact", &format!("{count} taken as exact: {}{more}", first.join(", ")));
    }
    for note in notes {
        page.row("note", note);
    }
}
