//! A measure: what it is, what it reads, and which rules use it.

use super::{MeasureExplained, MeasureSeen, ShownOn, rule};
use crate::document::field_of_path;
use crate::measure::Spec;
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
    }
}

fn seen(spec: &'static Spec, place: usize, reading: MeasureReading, sweep: &Sweep) -> MeasureSeen {
    MeasureSeen {
        exact: sweep.last_digits(|situation| situation.reading(spec, place)),
        subject: reading.subject.and_then(|span| subject(span, sweep)),
        reading,
    }
}

/// The input that a reader would change, with how a person gets it.
fn subject(span: Span, sweep: &Sweep) -> Option<Need> {
    let path = sweep.nominal.own.path_at(span).filter(|path| !path.is_empty())?;
    let how_to_get = field_of_path(&path).map_or("", |field| field.how_to_get).to_owned();
    Some(Need { path, span, how_to_get })
}
