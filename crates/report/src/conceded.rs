//! What is said of concessions, the same in every format.

use crate::place;
use crate::said::{glued, number_of};
use sumpwright_core::document::date::Date;
use sumpwright_core::review::{Acceptance, Conceding, ConcessionFinding, Remark, Review};
use sumpwright_core::source::Sources;

/// Over the findings on concessions.
pub(crate) const HEADING: &str = "Concessions that need a decision";

/// The word beside what a concession says of a finding.
pub(crate) fn word(acceptance: &Acceptance) -> &'static str {
    if acceptance.refused.is_none() { "accepted" } else { "not covered" }
}

/// The whole concession in a sentence or two, why it does not cover the finding first.
pub(crate) fn told(acceptance: &Acceptance) -> String {
    let Acceptance { name, kind, reason, by, function, from, expires, bound, .. } = acceptance;
    let stop = if reason.ends_with(['.', '!', '?']) { "" } else { "." };
    let led = match &acceptance.refused {
        Some(refused) => format!("by the {} {name}: {refused}. It is", kind.words()),
        None => format!("by the {} {name},", kind.words()),
    };
    let serials = acceptance.serials.join(", ");
    let narrower: String = [
        acceptance.quantity.map(|count| format!(", for {count} pieces")),
        (!serials.is_empty()).then(|| format!(", serials {serials}")),
        acceptance.purpose.as_ref().map(|purpose| format!(", for {purpose}")),
    ]
    .into_iter()
    .flatten()
    .collect();
    let bound = glued(bound);
    format!(
        "{led} up to {bound}, from {from} to {expires}{narrower}; signed by {by}, {function}. Reason: {reason}{stop}"
    )
}

/// What is against a concession, with what it is for.
pub(crate) fn finding(finding: &ConcessionFinding) -> String {
    format!("{}: {}", finding.name, finding.message)
}

/// The pan and the finding that a concession is for.
pub(crate) fn about(finding: &ConcessionFinding) -> String {
    let object = finding.object.as_ref().map_or_else(String::new, |object| format!(" · {object}"));
    format!("{} · {}{object}", finding.pan, finding.rule)
}

/// The id by which programs know what is against a concession.
pub(crate) fn id(finding: &ConcessionFinding) -> String {
    format!("concession.{}", finding.fault.words().replace(' ', "-"))
}

/// The last sentence on concessions; nothing where none was read.
pub(crate) fn summary(review: &Review) -> Option<String> {
    let Conceding { on, read, elsewhere, findings } = &review.conceding;
    if *read == 0 {
        return None;
    }
    let parts: String = [
        on.map(|on| format!(", judged by {on}")),
        (!findings.is_empty())
            .then(|| format!("; {} against them", number_of(findings.len(), "finding"))),
        (*elsewhere > 0).then(|| format!("; {elsewhere} for what was not looked at here")),
        next_expiry(review).map(|day| format!("; the next in use ends on {day}")),
    ]
    .into_iter()
    .flatten()
    .collect();
    Some(format!("{}{parts}.", number_of(*read, "concession")))
}

/// The first day on which a concession that covers something ends.
fn next_expiry(review: &Review) -> Option<Date> {
    let findings = review.pans.iter().flat_map(|pan| &pan.findings);
    let used = findings.filter_map(|finding| finding.acceptance.as_ref());
    used.filter(|acceptance| acceptance.refused.is_none()).map(|a| a.expires).min()
}

/// A reviewer's remark with who made it, and what has changed since.
pub(crate) fn remark(remark: &Remark) -> String {
    let Remark { text, judgement, by, on, changed, .. } = remark;
    let day = on.map_or_else(String::new, |on| format!(", {on}"));
    let judgement = judgement.as_ref().map_or_else(String::new, |word| format!("{word}: "));
    let changed = changed.as_ref().map_or_else(String::new, |c| format!(" (since then {c})"));
    format!("{judgement}{text} – {by}{day}{changed}")
}

/// Where a concession stands.
pub(crate) fn at(sources: &Sources, acceptance: &Acceptance) -> String {
    place::text(sources, acceptance.span)
}
