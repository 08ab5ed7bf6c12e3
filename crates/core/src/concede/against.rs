//! What a concession covers beyond need, and how a finding on a concession is made.

use super::cover::{deciding, is_meant, tightest};
use crate::document::concessions::ConcessionDoc;
use crate::quantity::print_in;
use crate::review::{ConcessionFault, ConcessionFinding, Finding, LimitSide, PanReview};
use crate::source::Span;
use crate::verdict::Verdict;

/// A bound is too wide where it lets a value lie more than so many times as far outside the limit as it lies with its
/// uncertainty. Our own choice, no source: room for a mending that is under way, not for what nobody has looked at.
const MOST_ROOM: f64 = 2.0;

/// A finding on an entry.
pub(super) fn fault(
    entry: &ConcessionDoc,
    pan: &str,
    fault: ConcessionFault,
    (message, span): (String, Span),
    help: String,
) -> ConcessionFinding {
    ConcessionFinding {
        fault,
        name: entry.name.text.clone(),
        pan: pan.to_owned(),
        rule: entry.rule.text.clone(),
        object: entry.object.as_ref().map(|object| object.text.clone()),
        message,
        span,
        other: None,
        help,
    }
}

/// Where an entry covers more than is needed: objects that it does not name, values that there are not, and days.
pub(super) fn too_wide(
    entry: &ConcessionDoc,
    pan: &PanReview,
    longest: Option<u32>,
) -> Vec<ConcessionFinding> {
    let covered: Vec<&Finding> = pan
        .findings
        .iter()
        .filter(|finding| is_meant(entry, finding) && is_by(entry, finding))
        .collect();
    let found = [
        without_object(entry, pan, &covered),
        loose_bound(entry, pan, &covered),
        long_term(entry, pan, longest),
    ];
    found.into_iter().flatten().collect()
}

/// Whether an entry covers a finding.
fn is_by(entry: &ConcessionDoc, finding: &Finding) -> bool {
    let by = finding.acceptance.as_ref();
    finding.verdict == Verdict::Conceded && by.is_some_and(|by| by.span == entry.name.span)
}

fn without_object(
    entry: &ConcessionDoc,
    pan: &PanReview,
    covered: &[&Finding],
) -> Option<ConcessionFinding> {
    let objects: Vec<&str> = pan
        .findings
        .iter()
        .filter(|finding| finding.rule == entry.rule.text)
        .filter_map(|finding| finding.object.as_deref())
        .collect();
    if entry.object.is_some() || objects.len() < 2 || covered.is_empty() {
        return None;
    }
    let message =
        format!("the rule is for {} objects of this pan, and none is named", objects.len());
    let needed: Vec<String> = covered
        .iter()
        .filter_map(|finding| finding.object.as_deref())
        .map(|object| format!("`object: {object}`"))
        .collect();
    let help = format!("write an entry for each that needs one: {}", needed.join(", "));
    let place = (message, entry.name.span);
    Some(fault(entry, &pan.path, ConcessionFault::TooWide, place, help))
}

fn loose_bound(
    entry: &ConcessionDoc,
    pan: &PanReview,
    covered: &[&Finding],
) -> Option<ConcessionFinding> {
    let mut least: Option<(f64, f64)> = None;
    for finding in covered {
        let (limit, at) = deciding(finding)?;
        let needed = tightest(finding)?;
        let outwards = if limit.side == LimitSide::AtMost { 1.0 } else { -1.0 };
        let (room, need) = ((entry.bound.value - at) * outwards, (needed - at) * outwards);
        // One finding that needs the room is enough.
        if room <= MOST_ROOM * need {
            return None;
        }
        if least.is_none_or(|(most, _)| need > most) {
            least = Some((need, needed));
        }
    }
    let (_, needed) = least?;
    let bound = &entry.bound;
    let message = format!(
        "its bound of {} is more than {MOST_ROOM} times as far outside the limit as the value is",
        bound.text
    );
    let reached = print_in(needed, 0.0, &bound.unit);
    let help =
        format!("the value with its uncertainty reaches {reached}: accept no more than is needed");
    Some(fault(entry, &pan.path, ConcessionFault::TooWide, (message, bound.span), help))
}

fn long_term(
    entry: &ConcessionDoc,
    pan: &PanReview,
    longest: Option<u32>,
) -> Option<ConcessionFinding> {
    let longest = longest?;
    let days = entry.expires.date.days_after(entry.from.date);
    if days <= i64::from(longest) {
        return None;
    }
    let message = format!("its term is {days} days, and the project allows {longest}");
    let help = "have it accepted for a shorter term, and anew after that".to_owned();
    let place = (message, entry.expires.span);
    Some(fault(entry, &pan.path, ConcessionFault::TooWide, place, help))
}
