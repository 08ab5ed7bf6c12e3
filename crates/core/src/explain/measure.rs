//! A measure: what it is, what it reads, and which rules use it.

use super::on_pan::{size_of, without_dust};
use super::{MeasureExplained, MeasureSeen, ShownOn, rule};
use crate::document::field_of_path;
use crate::measure::{Spec, Unknown};
use crate::review::{MeasureReading, Need, OpenedPan, Sweep, readings};
use crate::rule::{Rule, Scope};
use crate::source::Span;

/// A measure in full, on a pan if there is one.
pub(super) fn explained(
    spec: &'static Spec,
    rules: &[Rule],
    pan: Option<&OpenedPan>,
    is_demo: bool,
) -> MeasureExplained {
    let uses = |rule: &&Rule| rule::measures(rule).iter().any(|used| used.name == spec.name);
    MeasureExplained {
        spec,
        rules: rules.iter().filter(uses).map(rule::line).collect(),
        shown_on: pan.map(|pan| ShownOn {
            path: pan.path.clone(),
            title: pan.title.clone(),
            is_demo,
            objects: readings(spec, &pan.sweep)
                .into_iter()
                .enumerate()
                .map(|(place, reading)| seen(spec, place, reading, &pan.sweep))
                .collect(),
        }),
        curve: None,
    }
}

fn seen(
    spec: &'static Spec,
    place: usize,
    mut reading: MeasureReading,
    sweep: &Sweep,
) -> MeasureSeen {
    let size = reading.reading.as_ref().map_or(0.0, |reading| size_of(reading.bounds));
    reading.contributions = without_dust(reading.contributions, size);
    let exact = sweep.last_digits(|situation| situation.reading(spec, place));
    MeasureSeen {
        exact: without_dust(exact, size),
        subject: reading.subject.and_then(|span| subject(span, sweep)),
        needs: reading.reading.as_ref().err().map_or_else(Vec::new, needs),
        reading,
    }
}

fn needs(unknown: &Unknown) -> Vec<Need> {
    unknown.missing.iter().map(|missing| need(missing.path.clone(), missing.within)).collect()
}

/// The input that a reader would change, with how a person gets it.
fn subject(span: Span, sweep: &Sweep) -> Option<Need> {
    let path = sweep.nominal.own.path_at(span).filter(|path| !path.is_empty())?;
    Some(need(path, span))
}

fn need(path: String, span: Span) -> Need {
    let how_to_get = field_of_path(&path).map_or("", |field| field.how_to_get).to_owned();
    Need { path, span, how_to_get }
}
