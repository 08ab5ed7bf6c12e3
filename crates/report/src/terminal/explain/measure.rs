//! A measure in full: what it is, which rules use it, and what it reads.

use super::{chain, force, input, read_for, said, stands, unit};
use crate::scale::Scale;
use crate::terminal::page::Page;
use crate::terminal::pan;
use sumpwright_core::explain::{MeasureExplained, MeasureSeen, ShownOn};
use sumpwright_core::measure::Spec;
use sumpwright_core::review::{Contribution, Need};
use sumpwright_core::source::Sources;

/// Over the uncertain inputs.
const MOVED_BY: &str = "Inputs that move it, and what one standard uncertainty of each does:";

/// Over the inputs without a stated uncertainty.
const EXACT: &str = "Inputs taken as exact, and what one unit of the last digit written would do:";

/// Writes a measure.
pub(super) fn write(page: &mut Page, sources: &Sources, measure: &MeasureExplained) {
    let spec = measure.spec;
    page.gap();
    page.heading(spec.name);
    page.row("meaning", spec.meaning);
    page.row("formula", spec.formula);
    page.row("source", spec.source);
    page.row("range", spec.range);
    page.row("checked", &format!("against {} ({})", spec.checked_against, spec.checked_by));
    page.row("unit", &unit_row(spec));
    let duty = if spec.over_duty { ", over every state of the duty" } else { "" };
    page.row("read for", &format!("{}{duty}", read_for(spec.kind)));
    let mut word = "used by";
    for rule in &measure.rules {
        page.row(word, &format!("{} ({}): {}", rule.id, force(rule.force), rule.title));
        word = "";
    }
    if measure.rules.is_empty() {
        page.row(word, "no rule of this rulebook");
    }
    if let Some(shown) = &measure.shown_on {
        on_pan(page, sources, spec, shown);
    }
}

fn unit_row(spec: &Spec) -> String {
    let name = spec.dimension.name();
    if spec.dimension.is_number() { name } else { format!("{}, {name}", unit(spec.dimension)) }
}

fn on_pan(page: &mut Page, sources: &Sources, spec: &Spec, shown: &ShownOn) {
    page.gap();
    let demo = if shown.is_demo { " of the demo" } else { "" };
    let pan = pan::heading(&shown.path, shown.title.as_deref());
    page.heading(&format!("What it reads in the pan{demo}, {pan}"));
    for seen in &shown.objects {
        one(page, sources, seen);
    }
    if shown.objects.is_empty() {
        page.row("reading", &format!("the pan says that it has no {}", spec.kind.family()));
    }
}

fn one(page: &mut Page, sources: &Sources, seen: &MeasureSeen) {
    let reading = &seen.reading;
    let size = reading.reading.as_ref().map_or(0.0, |reading| reading.bounds.high);
    let scale = Scale::of_value(reading.spec.dimension, size);
    let object = reading.object.as_ref().map_or_else(String::new, |object| format!("{object}: "));
    let worst = reading.worst.as_ref().map(|worst| format!(", worst in {}", said::worst(worst)));
    let value = chain::reading(&reading.reading, &scale);
    page.row("reading", &format!("{object}{value}{}", worst.unwrap_or_default()));
    for need in &seen.needs {
        page.entry(&need.path, &format!("not stated. {}", need.how_to_get));
    }
    let inputs = |page: &mut Page, all: &[Contribution], what: &str| {
        if !all.is_empty() {
            page.gap();
            page.paragraph(what);
        }
        for moved in all {
            let effect = said::bare_effect(moved, &scale);
            page.entry(&input(sources, moved), &format!("{effect}. {}", moved.how_to_get));
        }
    };
    inputs(page, &reading.contributions, MOVED_BY);
    inputs(page, &seen.exact, EXACT);
    let mut moves = reading.contributions.iter().chain(&seen.exact);
    // Words move nothing by a step, and are read all the same.
    if let Some(subject) = &seen.subject
        && moves.all(|moved| moved.span != subject.span)
    {
        page.gap();
        page.paragraph("What a reader would change:");
        page.entry(&word_read(sources, subject), &subject.how_to_get);
    }
    for note in &reading.notes {
        page.row("note", note);
    }
}

fn word_read(sources: &Sources, subject: &Need) -> String {
    let there = stands(sources, subject.span);
    let there =
        if there.contains('\n') { crate::place::text(sources, subject.span) } else { there };
    format!("{}, {there}", subject.path)
}
