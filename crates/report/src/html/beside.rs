//! A pan beside its baseline, as a page.

use super::{cautions, made_from, page, problems, shown};
use crate::beside::{self, HOW};
use crate::said::{self, number_of};
use maud::{Markup, html};
use sumpwright_core::compare::{
    MeasureBeside, Outcome, PansCompared, Sides, TopicCompared, VerdictBeside,
};

/// Writes the comparison.
pub(crate) fn pans_compared(compared: &PansCompared) -> String {
    let heading = match &compared.sides {
        Some(sides) => format!(
            "{} beside {}",
            title(&sides.pan),
            match sides.baselines.as_slice() {
                [one] => title(one).to_owned(),
                more => number_of(more.len(), "baseline"),
            }
        ),
        None => "Nothing was compared".to_owned(),
    };
    let body = html! {
        h1 { (shown(&heading)) }
        (problems(&compared.sources, &compared.problems))
        @if let Some(sides) = &compared.sides { (sides_of(sides)) }
        (cautions())
        (made_from(&compared.sources, compared.rules))
    };
    page(&heading, &body)
}

fn title(pan: &sumpwright_core::compare::PanNamed) -> &str {
    pan.title.as_deref().unwrap_or(&pan.path)
}

fn sides_of(sides: &Sides) -> Markup {
    html! {
        dl {
            dt { "pan" } dd { (shown(&beside::pan(&sides.pan))) }
            @for baseline in &sides.baselines {
                dt { "beside" } dd { (shown(&beside::pan(baseline))) }
            }
            @for (word, said) in beside::summary(sides) { dt { (word) } dd { (shown(&said)) } }
        }
        p { (shown(&beside::counts(sides))) "." }
        p.quiet { (HOW) }
        @if !sides.verdicts.is_empty() { (verdicts(sides)) }
        @for topic in &sides.topics { (topic_of(topic)) }
    }
}

fn verdicts(sides: &Sides) -> Markup {
    let (grave, rest): (Vec<_>, Vec<_>) =
        sides.verdicts.iter().partition(|one| beside::is_grave(one));
    html! {
        section {
            h2 { "Verdicts that are others" }
            @if !grave.is_empty() { (verdict_table(sides, &grave)) }
            @if !rest.is_empty() {
                details {
                    summary { (number_of(rest.len(), "rule")) " that apply on one side only, and conform there" }
                    (verdict_table(sides, &rest))
                }
            }
            p.quiet { (number_of(sides.same_verdicts, "rule")) " with the same verdict in all." }
        }
    }
}

fn verdict_table(sides: &Sides, verdicts: &[&VerdictBeside]) -> Markup {
    html! {
        div.wide { table {
            thead { tr {
                th scope="col" { "rule" }
                @for baseline in &sides.baselines { th scope="col" { (shown(title(baseline))) } }
                th scope="col" { (shown(title(&sides.pan))) }
            } }
            tbody {
                @for one in verdicts {
                    tr {
                        th scope="row" { (shown(&one.rule)) br; span.quiet { (shown(&one.title)) } }
                        @for there in &one.there {
                            td { span class=(super::finding::class(*there)) { (there.words()) } }
                        }
                        td { span class=(super::finding::class(one.here)) { (one.here.words()) } }
                    }
                }
            }
        } }
    }
}

fn topic_of(topic: &TopicCompared) -> Markup {
    let (told, rest): (Vec<_>, Vec<_>) = topic
        .measures
        .iter()
        .filter(|one| one.outcome != Outcome::Unknown)
        .partition(|one| beside::is_told(one));
    html! {
        @if !(told.is_empty() && rest.is_empty()) {
            section {
                h2 { (topic.name) }
                @if told.is_empty() { p { "No sure difference." } } @else { (table(&told)) }
                @if !rest.is_empty() {
                    details {
                        summary { (number_of(rest.len(), "measure")) " without a sure difference, or known on one side" }
                        (table(&rest))
                    }
                }
            }
        }
    }
}

fn table(measures: &[&MeasureBeside]) -> Markup {
    html! {
        div.wide { table {
            thead { tr {
                th scope="col" { "measure" } th scope="col" { "outcome" } th scope="col" { "difference" }
                th scope="col" { "here" } th scope="col" { "baseline" }
            } }
            tbody { @for one in measures { (row(one)) } }
        } }
    }
}

fn row(one: &MeasureBeside) -> Markup {
    let class = match one.outcome {
        Outcome::Lost => "verdict breach",
        Outcome::Won => "verdict held",
        _ => "",
    };
    html! {
        tr {
            th scope="row" { (shown(&beside::name(one))) br; span.quiet { (shown(one.spec.meaning)) } }
            td {
                span class=(class) { (one.outcome.words()) }
                @if let Some(better) = beside::better(one) { br; span.quiet { (shown(&better)) } }
            }
            td {
                (shown(&beside::difference(one)))
                @if let Some(driver) = beside::driver(one) { br; span.quiet { (shown(&driver)) } }
            }
            td {
                (shown(&beside::here(one)))
                @if let Some(worst) = &one.worst { br; span.quiet { "worst in " (shown(&said::worst(worst))) } }
            }
            td { (shown(&beside::there(one))) }
        }
    }
}
