//! Many pans at once.

use super::shown;
use crate::counts::by_verdict;
use maud::{Markup, html};
use sumpwright_core::review::Review;
use sumpwright_core::verdict::Verdict;

/// How many verdicts of each sort every pan has, and every rule that is not met somewhere beside the pans.
pub(super) fn section(review: &Review) -> Markup {
    let pans = &review.pans;
    let lines = crate::across::lines(review, false);
    let columns = crate::across::columns(&lines, pans, false);
    let title =
        |place: usize| pans.get(place).map_or("", |p| p.title.as_deref().unwrap_or(&p.path));
    html! {
        section {
            h2 { "Across the pans" }
            div.wide {
                table {
                    thead {
                        tr {
                            th scope="col" { "pan" }
                            @for verdict in Verdict::ALL { th.number scope="col" { (verdict.words()) } }
                        }
                    }
                    tbody {
                        @for (number, pan) in pans.iter().enumerate() {
                            tr {
                                th scope="row" {
                                    a href=(format!("#pan-{number}")) {
                                        (shown(pan.title.as_deref().unwrap_or(&pan.path)))
                                    }
                                }
                                @for (_, count) in by_verdict(&pan.findings) { td.number { (count) } }
                            }
                        }
                    }
                }
            }
            @if !lines.is_empty() {
                h3 { "Rules that are not met everywhere" }
                div.wide {
                    table {
                        thead { tr {
                            th scope="col" { "rule" }
                            @for place in &columns {
                                th scope="col" { a href=(format!("#pan-{place}")) { (shown(title(*place))) } }
                            }
                        } }
                        tbody {
                            @for line in &lines {
                                tr {
                                    th scope="row" { (shown(line.rule)) br; span.quiet { (shown(line.title)) } }
                                    @for place in &columns { td { (met(line.verdicts.get(*place).copied().flatten())) } }
                                }
                            }
                        }
                    }
                }
                p.quiet { (crate::across::MEANS) }
            }
        }
    }
}

/// A verdict in a short word, with the look of the long one.
fn met(verdict: Option<Verdict>) -> Markup {
    html! {
        @if verdict == Some(Verdict::NotApplicable) {
            (crate::across::short(verdict))
        } @else if let Some(verdict) = verdict {
            span class=(super::finding::class(verdict)) { (crate::across::short(Some(verdict))) }
        }
    }
}
