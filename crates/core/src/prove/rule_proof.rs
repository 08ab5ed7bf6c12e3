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
use crate::model::Memo;
use crate::quantity::parse_quantity;
use crate::review::judge;
use crate::rule::Rule;
use crate::source::{Diagnostic, FileId, Node, Sources, Span};
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
    /// The fixtures that they name, unchanged.
    pub(super) plain: &'a [Prepared],
    pub(super) sources: &'a Sources,
    pub(super) memo: &'a Arc<Memo>,
}

/// Runs the cases of a rule and tries to alter it unnoticed.
pub(super) fn rule_proof(material: Material<'_>) -> RuleProof {
    let Material { rule, memo, .. } = material;
    let (trials, outcomes) = run_cases(rule, material.cases, memo);
    let verdict_of = |trial: &Trial| match outcomes.get(trial.index) {
        Some(CaseOutcome::Judged(verdict)) => Some(*verdict),
        _ => None,
    };
    let holds = |trial: &&Trial| {
        verdict_of(trial).is_some_and(|verdict| is_expected(verdict, trial.doc.expect.value))
    };
    let held: Vec<&Trial> = trials.iter().filter(holds).collect();
    let numbers = numbers(rule);
    let pins: Vec<Option<f64>> = numbers.iter().map(|number| pin_of(rule, number)).collect();
    let slacks: Vec<Slack> =
        numbers.iter().zip(&pins).map(|(at, pin)| slack(rule, at, *pin, &held)).collect();
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
    }
}

/// The cases that can be judged, and what came of every one.
fn run_cases(rule: &Rule, cases: &[Prepared], memo: &Arc<Memo>) -> (Vec<Trial>, Vec<CaseOutcome>) {
    let book = rule.doc.id.span.file;
    let read = |(index, prepared): (usize, &Prepared)| trial(index, prepared, book, memo);
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

fn trial(
    index: usize,
    prepared: &Prepared,
    book: FileId,
    memo: &Arc<Memo>,
) -> Result<Trial, Vec<Diagnostic>> {
    let dossier = prepared.dossier.clone()?;
    let sweep = read(&dossier, prepared.doc.exact, book, memo)?;
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
    let ground = Ground { rule, book: rule.doc.id.span.file, memo: material.memo };
    let mut search = Search::new(ground, material.sources, trials, material.plain);
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
            && let Some(why) = contradicted(&fate)
        {
            stale.push(Stale { span: words.span, words: words.text.clone(), why });
        }
        all.push(Alteration { words: one.words, kind: one.kind, fate });
    }
    stale.sort_by_key(|stale| stale.span);
    (all, stale, needed)
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
