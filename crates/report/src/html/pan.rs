//! One pan: summary, drawings, findings, the table of all verdicts, and what has to be known beside them.

use super::finding::{anchor, article, class, waiting};
use super::{shown, svg};
use crate::counts::by_verdict;
use crate::scale::Scale;
use crate::svg::polar;
use crate::told::{Told, told};
use crate::{deciding, place, said};
use maud::{Markup, html};
use sumpwright_core::coverage::CoverageMap;
use sumpwright_core::figure::Figure;
use sumpwright_core::measure::Unknown;
use sumpwright_core::quantity::print_in;
use sumpwright_core::review::{Finding, InputUsed, PanMeasured, PanReview, Review};
use sumpwright_core::source::Sources;
use sumpwright_core::verdict::Verdict;

pub(super) fn section(review: &Review, pan: &PanReview, number: usize) -> Markup {
    let (sources, whole) = (&review.sources, review.screening.is_none());
    let title = pan.title.as_deref().unwrap_or(&pan.path);
    let told = told(&pan.findings);
    html! {
        section id=(format!("pan-{number}")) {
            h2 { (shown(title)) }
            p.place { (shown(&pan.path)) }
            @if !pan.baselines.is_empty() {
                p { "Against the baseline " (shown(&pan.baselines.join(", "))) "." }
            }
            @if whole { p { (said::counts(&by_verdict(&pan.findings))) "." } }
            (breaches(&pan.findings, number))
            (figures(&pan.figures, pan.coverage.as_ref(), title, number))
            @if !told.is_empty() { h3 { "What is against it, and what is open" } }
            @for told in &told {
                @match told {
                    Told::Alone(finding) => { (article(sources, number, finding)) },
                    Told::Waiting { need, findings } => { (waiting(sources, number, need, findings)) },
                }
            }
            @if whole {
                h3 { "All verdicts" }
                (verdicts(&pan.findings))
            }
            (not_known(sources, pan))
            (exact(&pan.inputs))
            (notes(&pan.notes))
        }
    }
}

/// What does not conform, in a line each: a reader who goes no farther than the drawings knows what they are of.
fn breaches(findings: &[Finding], number: usize) -> Markup {
    let breaches = || findings.iter().filter(|f| f.verdict == Verdict::DoesNotConform);
    let said = |finding: &Finding| {
        let short = said::in_short(finding, &Scale::of_finding(finding));
        match &finding.worst {
            Some(worst) => format!("{short} ({})", said::worst(worst)),
            None => short,
        }
    };
    html! {
        @if breaches().next().is_some() {
            p { "What does not conform:" }
            ul {
                @for finding in breaches() {
                    li {
                        a href=(format!("#{}", anchor(number, finding))) { (shown(&finding.title)) }
                        ": " (shown(&said(finding))) "."
                    }
                }
            }
        }
    }
}

/// Readings of one pan.
pub(super) fn readings(sources: &Sources, pan: &PanMeasured, number: usize) -> Markup {
    let title = pan.title.as_deref().unwrap_or(&pan.path);
    html! {
        section id=(format!("pan-{number}")) {
            h2 { (shown(title)) }
            p.place { (shown(&pan.path)) }
            (figures(&pan.figures, pan.coverage.as_ref(), title, number))
            div.wide { table {
                thead { tr {
                    th scope="col" { "measure" } th scope="col" { "reading" }
                    th scope="col" { "moved most by" }
                } }
                tbody { @for reading in &pan.measures { (measure_row(sources, reading)) } }
            } }
            (exact(&pan.inputs))
            (notes(&pan.notes))
        }
    }
}

fn measure_row(sources: &Sources, reading: &sumpwright_core::review::MeasureReading) -> Markup {
    let size = reading.reading.as_ref().map_or(0.0, |r| r.bounds.high);
    let scale = Scale::of_value(reading.spec.dimension, size);
    let name = match &reading.object {
        Some(object) => format!("{} · {object}", reading.spec.name),
        None => reading.spec.name.to_owned(),
    };
    let said = match &reading.reading {
        Ok(found) => scale.reading(found),
        Err(unknown) => format!("not known: {}", unknown.reason),
    };
    let moved = reading.contributions.first().map(|c| {
        format!("{} ({}): {}", c.path, place::text(sources, c.span), said::effect(c, &scale))
    });
    html! {
        tr {
            th scope="row" { (shown(&name)) br; span.quiet { (shown(reading.spec.meaning)) } }
            td { (shown(&said)) }
            td { (shown(&moved.unwrap_or_default())) }
        }
    }
}

/// The drawings, and the coverage map or why there is none.
fn figures(
    figures: &[Figure],
    coverage: Option<&Result<CoverageMap, Unknown>>,
    title: &str,
    number: usize,
) -> Markup {
    let charts: Vec<_> = coverage.into_iter().flatten().flat_map(polar::charts).collect();
    html! {
        @if !(figures.is_empty() && charts.is_empty()) {
            div.figures {
                @for (place, figure) in figures.iter().enumerate() {
                    figure {
                        (svg::inline(figure, &format!("drawing-{number}-{place}"), &shown(title)))
                        figcaption { (shown(&svg::caption(figure))) }
                    }
                }
                @for (place, chart) in charts.iter().enumerate() {
                    figure {
                        (polar::inline(chart, &format!("coverage-{number}-{place}"), &shown(title)))
                        figcaption {
                            (shown(&polar::caption(chart)))
                            @if place == 0 { " " (polar::READ_AS) }
                        }
                    }
                }
            }
        }
        @if let Some(Err(unknown)) = coverage {
            p.note { "There is no coverage map: " (shown(&unknown.reason)) "." }
        }
    }
}

fn verdicts(findings: &[Finding]) -> Markup {
    html! {
        div.wide {
            table.verdicts {
                thead { tr {
                    th scope="col" { "rule" } th scope="col" { "verdict" }
                    th scope="col" { "computed" } th scope="col" { "asked" }
                    th scope="col" { "margin" }
                } }
                tbody { @for finding in findings { (row(finding)) } }
            }
        }
    }
}

fn row(finding: &Finding) -> Markup {
    let scale = Scale::of_finding(finding);
    let limit = deciding::deciding(finding);
    let asked = limit.map_or_else(String::new, |l| said::limit(finding, l, &scale));
    let margin = limit.and_then(|l| l.margin.map(|m| said::margin(&m, l.side, &scale)));
    html! {
        tr {
            th scope="row" { (shown(&said::identity(finding))) br; span.quiet { (shown(&finding.title)) } }
            td { span class=(class(finding.verdict)) { (finding.verdict.words()) } }
            td { (shown(&said::computed(finding, &scale).unwrap_or_default())) }
            td { (shown(&asked)) }
            td { (shown(&margin.unwrap_or_default())) }
        }
    }
}

/// What is only assumed, and what open verdicts ask for.
fn not_known(sources: &Sources, pan: &PanReview) -> Markup {
    let assumed: Vec<&InputUsed> = pan.inputs.iter().filter(|input| input.assumed).collect();
    let mut needs: Vec<_> = pan.findings.iter().flat_map(|f| &f.needs).collect();
    needs.sort_by(|a, b| a.path.cmp(&b.path));
    needs.dedup_by(|a, b| a.path == b.path);
    needs.retain(|need| assumed.iter().all(|input| input.path != need.path));
    html! {
        @if !(assumed.is_empty() && needs.is_empty()) {
            h3 { "What is not known, and what to measure next" }
            ul {
                @for input in assumed {
                    li {
                        b { (shown(&input.path)) } " (" (shown(&place::text(sources, input.span)))
                        "), only assumed to be " (print_in(input.value, input.u, &input.unit)) ": "
                        (shown(input.how_to_get))
                    }
                }
                @for need in needs {
                    li {
                        b { (shown(&need.path)) } " (" (shown(&place::text(sources, need.span)))
                        "): " (shown(&need.how_to_get))
                    }
                }
            }
        }
    }
}

fn exact(inputs: &[InputUsed]) -> Markup {
    let exact: Vec<&str> =
        inputs.iter().filter(|i| i.u <= 0.0 && !i.assumed).map(|i| i.path.as_str()).collect();
    html! {
        @if !exact.is_empty() {
            details {
                summary { (said::number_of(exact.len(), "input")) " taken as exact" }
                p.paths { (shown(&exact.join(", "))) }
            }
        }
    }
}

fn notes(notes: &[String]) -> Markup {
    html! { @for note in notes { p.note { (shown(note)) } } }
}
