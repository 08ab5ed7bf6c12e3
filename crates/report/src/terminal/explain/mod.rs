//! A rule or a measure laid open, for people.

mod chain;
mod condition;
mod measure;
mod rule;

use super::page::Page;
use super::{book, finding};
use crate::place;
use crate::said;
use sumpwright_core::document::rulebook::Force;
use sumpwright_core::explain::{Everything, Explanation, Subject};
use sumpwright_core::measure::ObjectKind;
use sumpwright_core::quantity::Dimension;
use sumpwright_core::review::Contribution;
use sumpwright_core::source::{Sources, Span};
use unicode_width::UnicodeWidthStr;

/// Writes an explanation; nothing of a name that is unknown, for the host says that beside the results.
pub(super) fn write(page: &mut Page, explanation: &Explanation) {
    let sources = &explanation.sources;
    match &explanation.subject {
        Subject::Everything(everything) => {
            book::write(page, sources, &explanation.book);
            list(page, everything);
            if !explanation.book.edition.is_empty() {
                let edition = &explanation.book.edition;
                page.paragraph(&format!("The rulebook is of edition {edition}."));
            }
        }
        Subject::Rule(rule) => match &rule.on_pan {
            Some(on_pan) => chain::write(page, sources, rule, on_pan),
            None => rule::write(page, sources, rule),
        },
        Subject::Measure(measure) => measure::write(page, sources, measure),
        Subject::Unknown { .. } | Subject::Nothing => {}
    }
}

/// One line for each rule and each measure.
fn list(page: &mut Page, everything: &Everything) {
    let ids = everything.rules.iter().map(|rule| rule.id.as_str());
    let names = ids.chain(everything.measures.iter().map(|spec| spec.name));
    let widest = names.map(UnicodeWidthStr::width).max().unwrap_or(0);
    page.gap();
    page.heading("Rules");
    let words = [Force::Shall, Force::Should].map(|force| self::force(force).width());
    let columns = words.into_iter().max().unwrap_or(0);
    for rule in &everything.rules {
        page.listed((&rule.id, widest), (force(rule.force), columns), &rule.title);
    }
    page.gap();
    page.heading("Measures");
    let units = everything.measures.iter().map(|spec| unit(spec.dimension));
    let columns = units.map(|unit| unit.width()).max().unwrap_or(0);
    for spec in &everything.measures {
        page.listed((spec.name, widest), (&unit(spec.dimension), columns), spec.meaning);
    }
    page.gap();
    page.paragraph(&format!(
        "{}, {}. Name one to have it explained; name a pan behind a rule to see how it came to its verdict.",
        said::number_of(everything.rules.len(), "rule"),
        said::number_of(everything.measures.len(), "measure"),
    ));
}

fn force(force: Force) -> &'static str {
    match force {
        Force::Shall => "shall",
        Force::Should => "should",
    }
}

/// What a rule is judged, or a measure read, for.
fn read_for(kind: ObjectKind) -> &'static str {
    match kind {
        ObjectKind::Pan => "the pan as a whole",
        ObjectKind::Drain => "each of the drains",
        ObjectKind::Baffle => "each of the baffles",
        ObjectKind::FinSet => "each of the sets of fins",
        ObjectKind::Neighbour => "each of the pan's neighbours in the vehicle",
        _ => "each object of its kind",
    }
}

/// The usual unit of a dimension; `1` for a plain number.
fn unit(dimension: Dimension) -> String {
    if dimension.is_number() { "1".to_owned() } else { dimension.usual_symbol() }
}

/// An input with what stands there: `vehicle.check.level, 12 ± 2 mm (vehicle.yaml:15:17)`.
fn input(sources: &Sources, moved: &Contribution) -> String {
    format!("{}, {}", moved.path, stands(sources, moved.span))
}

/// What stands at a place, and the place: `12 ± 2 mm (vehicle.yaml:15:17)`.
fn stands(sources: &Sources, span: Span) -> String {
    let span = place::clamp(sources, span);
    format!("{} ({})", sources.slice(span), place::text(sources, span))
}
