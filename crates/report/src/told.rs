//! Which findings are told, in which order, and which of them together.

use crate::counts::gravest_first;
use std::collections::{BTreeMap, BTreeSet};
use sumpwright_core::review::{Finding, Need, PanReview};
use sumpwright_core::verdict::Verdict;

/// A finding that is told by itself, or several that wait for the same thing to be stated.
#[derive(Debug)]
pub(crate) enum Told<'a> {
    Alone(&'a Finding),
    Waiting { need: &'a Need, findings: Vec<&'a Finding> },
}

/// What is told of a pan: what there is room for, and of each rule how many findings are passed over.
#[derive(Debug, Default)]
pub(crate) struct Shown<'a> {
    pub(crate) told: Vec<Told<'a>>,
    pub(crate) passed_over: BTreeMap<&'a str, usize>,
}

/// Whether a finding is among what is told: something is against the pan, it could not be said, or someone has remarked
/// on it.
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
        let same = all
            .iter_mut()
            .find(|group| group.first().is_some_and(|first| wait_for_one(first, finding)));
        match same {
            Some(group) => group.push(finding),
            None => all.push(vec![finding]),
        }
    }
    all.into_iter().flat_map(together).collect()
}

fn together(group: Vec<&Finding>) -> Vec<Told<'_>> {
    match (&group[..], group.first().and_then(|first| waits_for(first))) {
        ([_, _, ..], Some(need)) => vec![Told::Waiting { need, findings: group }],
        _ => group.into_iter().map(Told::Alone).collect(),
    }
}

/// How much is told in one go where no more is asked for.
const MOST: usize = 50;

/// Of all pans, what there is room for: the first of each rule before a second of any, then from the front. A flood of
/// one kind must not hide that there is another.
pub(crate) fn with_room(pans: &[PanReview]) -> Vec<Shown<'_>> {
    let all: Vec<_> = pans.iter().map(|pan| told(&pan.findings)).collect();
    let room = places_with_room(&all);
    let split = |(pan, told): (usize, Vec<_>)| {
        let mut shown = Shown::default();
        for (place, told) in told.into_iter().enumerate() {
            if room.contains(&(pan, place)) {
                shown.told.push(told);
                continue;
            }
            for finding in told.findings() {
                *shown.passed_over.entry(finding.rule.as_str()).or_default() += 1;
            }
        }
        shown
    };
    all.into_iter().enumerate().map(split).collect()
}

fn places_with_room(all: &[Vec<Told<'_>>]) -> BTreeSet<(usize, usize)> {
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

impl<'a> Shown<'a> {
    /// All that is told of one pan.
    pub(crate) fn whole(findings: &'a [Finding]) -> Self {
        Self { told: told(findings), passed_over: BTreeMap::new() }
    }
}

impl<'a> Told<'a> {
    /// The finding, or all of them.
    fn findings(&self) -> &[&'a Finding] {
        match self {
            Self::Alone(finding) => core::slice::from_ref(finding),
            Self::Waiting { findings, .. } => findings,
        }
    }
}

/// What a finding waits for, where that is one thing and all there is to say of it.
fn waits_for(finding: &Finding) -> Option<&Need> {
    let [need] = &finding.needs[..] else { return None };
    let is_all = finding.verdict == Verdict::Inconclusive
        && finding.reading.is_none()
        && finding.notes.is_empty()
        && finding.acceptance.is_none()
        && finding.remarks.is_empty();
    is_all.then_some(need)
}

fn wait_for_one(one: &Finding, other: &Finding) -> bool {
    let paths = waits_for(one).zip(waits_for(other));
    paths.is_some_and(|(one, other)| one.path == other.path)
        && one.reason == other.reason
        && one.subject == other.subject
}
