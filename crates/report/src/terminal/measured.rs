//! Every reading of a pan, with what moves it most.

use super::page::Page;
use super::{closing, coverage, pan, problem};
use crate::said;
use crate::said::glued;
use crate::scale::{Scale, coarser};
use sumpwright_core::review::{MeasureReading, Measured};

/// Writes every reading of every pan.
pub(super) fn write(page: &mut Page, measured: &Measured) {
    for found in &measured.problems {
        problem::write(page, &measured.sources, found);
    }
    for measured_pan in &measured.pans {
        page.gap();
        page.heading(&pan::heading(&measured_pan.path, measured_pan.title.as_deref()));
        for reading in &measured_pan.measures {
            write_one(page, reading);
        }
        if let Some(map) = measured_pan.coverage.as_ref().filter(|_| page.options.all) {
            coverage::write(page, map);
        }
        page.gap();
        pan::inputs_and_notes(page, &measured_pan.inputs, &measured_pan.notes);
    }
    page.gap();
    let readings: usize = measured.pans.iter().map(|pan| pan.measures.len()).sum();
    page.paragraph(&format!(
        "Measured {}, in {}: {}.",
        said::number_of(measured.pans.len(), "pan"),
        said::number_of(measured.sources.files_read(), "file"),
        said::number_of(readings, "reading"),
    ));
    closing::problems(page, &measured.problems);
}

fn write_one(page: &mut Page, measure: &MeasureReading) {
    let reading = measure.reading.as_ref().ok();
    let size = reading.map_or(0.0, |reading| reading.bounds.high);
    let scale = Scale::of_value(measure.spec.dimension, size);
    let name = match &measure.object {
        Some(object) => format!("{} · {object}", measure.spec.name),
        None => measure.spec.name.to_owned(),
    };
    let value = match &measure.reading {
        Ok(reading) => glued(&scale.reading(reading)),
        Err(unknown) => format!("not known: {}", unknown.reason),
    };
    let worst = measure.worst.as_ref().map(|worst| format!("worst in {}", said::worst(worst)));
    let most = measure.contributions.first();
    let most = most.map(|m| format!("moved most by {}, {}", m.path, said::effect(m, &scale)));
    let parts: Vec<_> = [Some(value), worst, most].into_iter().flatten().collect();
    page.entry(&name, &parts.join("; "));
    if page.options.all {
        for contribution in &measure.contributions {
            let moved = said::effect(contribution, &scale);
            page.row("moved by", &format!("{}: {moved}", contribution.path));
        }
        for state in &measure.states {
            page.row("state", &said::state(state, reading.map_or(0.0, coarser), &scale));
        }
        page.row("formula", measure.spec.formula);
        page.row("source", measure.spec.source);
    }
    for note in &measure.notes {
        page.row("note", note);
    }
}
