//! Which findings are told, in which order, and which of them together.

use crate::counts::gravest_first;
use std::collections::BTreeSet;
use sumpwright_core::review::{Finding, PanReview};
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

/// How much is told in one go where no more is asked for.
pub(crate) const MOST: usize = 50;

/// The places among what is told of all pans that have room: the first of each rule before a second of any, then from
/// the front. A flood of one kind must not hide that there is another.
pub(crate) fn with_room(pans: &[PanReview]) -> BTreeSet<(usize, usize)> {
    let all: Vec<_> = pans.iter().map(|pan| told(&pan.findings)).collect();
    let places = || {
        all.iter().enumerate().flat_map(|(pan, told)| {
            told.iter().enumerate().map(move |(place, t)| ((pan, place), t))
        })
    };
    let mut rules = BTreeSet::new();
    let firsts = places().filter(|(_, told)| {
        let new = told.findings().iter().filter(|finding| rules.insert(finding.rule.as_str()));
        new.count() > 0
    });
    let mut room: BTreeSet<_> = firsts.map(|(at, _)| at).take(MOST).collect();
    for (at, _) in places() {
        if room.len() >= MOST {
            break;
        }
        room.insert(at);
    }
    room
}

impl<'a> Told<'a> {
    /// The finding, or all of them.
    pub(crate) fn findings(&self) -> &[&'a Finding] {
        match self {
            Self::Alone(finding) => core::slice::from_ref(finding),
            Self::Waiting(findings) => findings,
        }
    }
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
