//! One rule against its cases.

use super::alter::{Altered, alterations};
use super::case::{Prepared, Trial, changes, read};
use super::change::whole_of;
use super::edit::numbers;
use super::notice::{noticing, verdict};
use super::search::Ground;
use super::slack::{pin_of, slack};
use super::suggest::Search;
use super::{
    Alteration, CaseOutcome, CaseProof, Fate, RuleProof, Slack, Stale, Suggestion, is_expected,
};
use crate::document::Text;
use crate::model::Memo;
use crate::quantity::parse_quantity;
use crate::review::judge;
use crate::rule::Rule;
use crate::source::{Diagnostic, Node, Sources, Span};
use crate::verdict::Verdict;
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A suggested case takes the rule to be right, which is not known while a case says otherwise.
const CASES_FIRST: &str = "what is missing can be said once every case of this rule holds";

/// What a rule's proof is made of.
#[derive(Debug, Clone, Copy)]
pub(super) struct Material<'a> {
    pub(super) rule: &'a Rule,
    /// Its cases.
    pub(super) cases: &'a [Prepared],
    /// The same rule in the rulebooks below, the nearest first.
    pub(super) below: &'a [Below],
    /// The fixtures that they name, unchanged.
    pub(super) plain: &'a [Prepared],
    pub(super) sources: &'a Sources,
    pub(super) memo: &'a Arc<Memo>,
}

/// A rule as it stands in a rulebook below, with the cases that prove it there.
#[derive(Debug)]
pub(super) struct Below {
    pub(super) rule: Rule,
    pub(super) cases: Vec<Prepared>,
}

/// What the cases of a rule leave its numbers.
#[derive(Debug, Clone, Default)]
pub(crate) struct Held {
    /// The numbers, in the order measure, limits, condition.
    pub(crate) slacks: Vec<Slack>,
    /// How many cases there are.
    pub(crate) cases: usize,
    /// How many of them come out as expected, and so hold the numbers.
    pub(crate) holding: usize,
}

/// The slack of each number of a rule.
pub(super) fn held(material: Material<'_>) -> Held {
    let Material { rule, memo, .. } = material;
    let (cases, _) = with_those_below(material);
    let (trials, outcomes) = run_cases(rule, &cases, memo);
    let held = holding(&trials, &outcomes);
    Held { slacks: slacks(rule, &held), cases: cases.len(), holding: held.len() }
}

fn slacks(rule: &Rule, held: &[&Trial]) -> Vec<Slack> {
    let numbers = numbers(rule);
    numbers.par_iter().map(|at| slack(rule, at, pin_of(rule, at), held)).collect()
}

/// The cases that come out as expected.
fn holding<'t>(trials: &'t [Trial], outcomes: &[CaseOutcome]) -> Vec<&'t Trial> {
    let holds = |trial: &&Trial| {
        let expected = trial.doc.expect.value;
        matches!(outcomes.get(trial.index), Some(CaseOutcome::Judged(v)) if is_expected(*v, expected))
    };
    trials.iter().filter(holds).collect()
}

/// The rule's own cases with those of the rulebooks below that hold it too, and how many are replaced: those that
/// hold the rule below by its own limits, and this one no longer.
fn with_those_below(material: Material<'_>) -> (Vec<Prepared>, usize) {
    let mut cases = material.cases.to_vec();
    let mut replaced = 0;
    for Below { rule, cases: below } in material.below {
        for prepared in below {
            let holds = |rule: &Rule| {
                let trial = trial(0, prepared, material.memo);
                trial.is_ok_and(|t| is_expected(verdict(rule, &t.sweep), t.doc.expect.value))
            };
            if holds(rule) && !holds(material.rule) {
                replaced += 1;
            } else {
                cases.push(prepared.clone());
            }
        }
    }
    (cases, replaced)
}

/// Runs the cases of a rule and tries to alter it unnoticed.
pub(super) fn rule_proof(material: Material<'_>) -> RuleProof {
    let Material { rule, memo, .. } = material;
    let (all, replaced) = with_those_below(material);
    let material = Material { cases: &all, ..material };
    let (trials, outcomes) = run_cases(rule, material.cases, memo);
    let verdict_of = |trial: &Trial| match outcomes.get(trial.index) {
        Some(CaseOutcome::Judged(verdict)) => Some(*verdict),
        _ => None,
    };
    let held = holding(&trials, &outcomes);
    let pins: Vec<Option<f64>> = numbers(rule).iter().map(|at| pin_of(rule, at)).collect();
    let slacks = slacks(rule, &held);
    let altered = alterations(rule, &pins, &trials);
    let judged = || trials.iter().filter_map(verdict_of);
    let (alterations, stale, needed) = fates(material, altered, &trials, &held);
    RuleProof {
        id: rule.doc.id.text.clone(),
        span: rule.doc.id.span,
        force: rule.doc.force.value,
        never_applicable: judged().all(|verdict| verdict == Verdict::NotApplicable),
        never_breached: !judged().any(is_breach),
        cases: cases(material, outcomes, &held, &needed),
        slacks,
        alterations,
        stale,
        replaced,
        lacks_own_cases: rule.doc.overridden.is_some() && rule.doc.cases.is_empty(),
    }
}

/// The cases that can be judged, and what came of every one.
fn run_cases(rule: &Rule, cases: &[Prepared], memo: &Arc<Memo>) -> (Vec<Trial>, Vec<CaseOutcome>) {
    let read = |(index, prepared): (usize, &Prepared)| trial(index, prepared, memo);
    let read: Vec<Result<Trial, Vec<Diagnostic>>> =
        cases.par_iter().enumerate().map(read).collect();
    let (mut trials, mut outcomes) = (Vec::new(), Vec::new());
    for one in read {
        outcomes.push(match one {
            Ok(trial) => {
                let verdict = verdict(rule, &trial.sweep);
                trials.push(trial);
                CaseOutcome::Judged(verdict)
            }
            Err(problems) => CaseOutcome::Invalid(problems),
        });
    }
    (trials, outcomes)
}

fn trial(index: usize, prepared: &Prepared, memo: &Arc<Memo>) -> Result<Trial, Vec<Diagnostic>> {
    let dossier = prepared.dossier.clone()?;
    let sweep = read(&dossier, prepared.doc.exact, memo)?;
    Ok(Trial { index, doc: prepared.doc.clone(), dossier, sweep })
}

/// What came of each alteration, which declarations do not hold, and which cases alone notice one.
fn fates(
    material: Material<'_>,
    altered: Vec<Altered>,
    trials: &[Trial],
    held: &[&Trial],
) -> (Vec<Alteration>, Vec<Stale>, BTreeSet<usize>) {
    let rule = material.rule;
    let ground = Ground { rule, memo: material.memo };
    // A case on a fixture that the rule's own rulebook does not find by that name could not be pasted there.
    let found = |trial: &&Trial| {
        let fixtures = material.plain.iter().filter_map(|plain| plain.dossier.as_ref().ok());
        fixtures.into_iter().any(|fixture| fixture.pan.file == trial.dossier.pan.file)
    };
    let usable: Vec<&Trial> = trials.iter().filter(found).collect();
    let mut search = Search::new(ground, material.sources, usable, material.plain);
    let noticed: Vec<Vec<usize>> = altered
        .par_iter()
        .map(|one| one.mutant.as_ref().map_or_else(|_| Vec::new(), |m| noticing(m, rule, held)))
        .collect();
    let mut needed = BTreeSet::new();
    let mut stale = unknown_words(rule, &altered);
    let mut all = Vec::new();
    for (one, noticed) in altered.into_iter().zip(noticed) {
        let declared = rule.doc.equivalent.iter().find(|(words, _)| words.text == one.words);
        if let [only] = noticed.as_slice() {
            needed.insert(*only);
        }
        let fate = match (&one.mutant, noticed.first(), declared) {
            (Err(why), ..) => Fate::Invalid(why.clone()),
            (Ok(_), Some(case), _) => Fate::Caught(*case),
            (Ok(_), None, Some((_, reason))) => Fate::Equivalent(reason.text.clone()),
            (Ok(_), None, None) if held.len() < material.cases.len() => {
                Fate::Missed(Suggestion::Words(CASES_FIRST))
            }
            (Ok(mutant), None, None) => Fate::Missed(search.suggestion(one.kind, mutant)),
        };
        if let Some((words, _)) = declared
            && is_own(rule, words)
            && let Some(why) = contradicted(&fate)
        {
            stale.push(Stale { span: words.span, words: words.text.clone(), why });
        }
        all.push(Alteration { words: one.words, kind: one.kind, fate });
    }
    stale.sort_by_key(|stale| stale.span);
    (all, stale, needed)
}

/// Whether a declaration is made for the rule as it stands: one made below may have lost its ground.
fn is_own(rule: &Rule, words: &Text) -> bool {
    rule.doc.overridden.is_none() || words.span.file == rule.doc.last_changed().file
}

fn contradicted(fate: &Fate) -> Option<String> {
    match fate {
        Fate::Caught(case) => Some(format!("case {} notices it", case + 1)),
        Fate::Invalid(_) => Some("the altered rule is refused anyway".to_owned()),
        Fate::Missed(_) | Fate::Equivalent(_) => None,
    }
}

fn unknown_words(rule: &Rule, altered: &[Altered]) -> Vec<Stale> {
    let unknown = rule
        .doc
        .equivalent
        .iter()
        .filter(|(words, _)| is_own(rule, words))
        .filter(|(words, _)| altered.iter().all(|one| one.words != words.text));
    unknown
        .map(|(words, _)| Stale {
            span: words.span,
            words: words.text.clone(),
            why: "no alteration of this rule has these words".to_owned(),
        })
        .collect()
}

fn cases(
    material: Material<'_>,
    outcomes: Vec<CaseOutcome>,
    held: &[&Trial],
    needed: &BTreeSet<usize>,
) -> Vec<CaseProof> {
    let blames: Vec<Option<Span>> = material
        .cases
        .par_iter()
        .enumerate()
        .map(|(index, _)| {
            let trial = held.iter().find(|trial| trial.index == index)?;
            blamed_instead(material.rule, trial)
        })
        .collect();
    let cases = material.cases.iter().zip(outcomes).zip(blames).enumerate();
    cases
        .map(|(index, ((prepared, outcome), blames))| CaseProof {
            span: prepared.doc.span,
            expected: prepared.doc.expect.value,
            spare: !needed.contains(&index),
            outcome,
            blames,
        })
        .collect()
}

/// Where a breach points, if it is neither at an input that the case changes (or at the thing that it is a part
/// of) nor driven by one. A case that
/// changes no quantity, but a word or a reference, changes nothing that a finding could point at.
fn blamed_instead(rule: &Rule, trial: &Trial) -> Option<Span> {
    let is_quantity = |node: &Node| node.scalar().is_some_and(|s| parse_quantity(s).is_ok());
    let mut changed: Vec<Span> = Vec::new();
    for change in changes(&trial.doc) {
        let Some(to) = change.to.as_ref().filter(|to| is_quantity(to)) else { continue };
        changed.push(to.defined);
        changed.extend(whole_of(&trial.dossier, &change));
    }
    if changed.is_empty() {
        return None;
    }
    let findings = judge(rule, &trial.sweep);
    let breaches: Vec<_> = findings.iter().filter(|f| is_breach(f.verdict)).collect();
    let points_there = breaches.iter().any(|finding| {
        let driver = finding.driver.as_ref().map(|driver| driver.span);
        changed.contains(&finding.subject) || driver.is_some_and(|span| changed.contains(&span))
    });
    if points_there { None } else { breaches.first().map(|finding| finding.subject) }
}

fn is_breach(verdict: Verdict) -> bool {
    matches!(verdict, Verdict::DoesNotConform | Verdict::Advisory)
}
