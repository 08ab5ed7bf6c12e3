//! Which findings are told, in which order, and which of them together.

use crate::counts::gravest_first;
use sumpwright_core::review::Finding;
use sumpwright_core::verdict::Verdict;

/// A finding that is told by itself, or several that wait for the same thing to be stated.
#[derive(Debug)]
pub(crate) enum Told<'a> {
    Alone(&'a Finding),
    Waiting(Vec<&'a Finding>),
}

/// Whether a finding is written in full: something is against the pan, it could not be said, or someone has remarked on it.
pub(crate) fn is_told(finding: &Finding) -> bool {
    !matches!(finding.verdict, Verdict::Conforms | Verdict::NotApplicable)
        || !finding.remarks.is_empty()
}

/// Those that are told, the gravest first; several that wait for one thing stand where the first of them would.
///
/// A pan that is described for the first time leaves whole families out: thirty rules would say the same few things.
pub(crate) fn told(findings: &[Finding]) -> Vec<Told<'_>> {
    let mut all: Vec<Vec<&Finding>> = Vec::new();
    for finding in gravest_first(findings).into_iter().filter(|finding| is_told(finding)) {
        let same = all.iter_mut().find(|group| {
            group.first().is_some_and(|first| waits_alone(first) && wait_for_one(first, finding))
        });
        match same {
            Some(group) => group.push(finding),
            None => all.push(vec![finding]),
        }
    }
    let told = |group: Vec<_>| match group[..] {
        [alone] => Told::Alone(alone),
        _ => Told::Waiting(group),
    };
    all.into_iter().map(told).collect()
}

/// Whether all there is to say of a finding is that one thing is not stated.
fn waits_alone(finding: &Finding) -> bool {
    finding.verdict == Verdict::Inconclusive
        && finding.reading.is_none()
        && finding.needs.len() == 1
        && finding.notes.is_empty()
        && finding.acceptance.is_none()
        && finding.remarks.is_empty()
}

fn wait_for_one(one: &Finding, other: &Finding) -> bool {
    let need = |finding: &Finding| finding.needs.first().map(|need| need.path.clone());
    waits_alone(other)
        && need(one) == need(other)
        && one.reason == other.reason
        && one.subject == other.subject
}
