//! What every rule and clause came to then, and comes to now.

use super::found::{Item, ItemOutcome};
use crate::declare::{ClauseResult, RuleResult};
use std::collections::{BTreeMap, BTreeSet};

/// What is known of the pans beside their results.
#[derive(Debug)]
pub(super) struct Known<'a> {
    /// What a pan rests on that is not as declared, by the pan's path.
    pub(super) altered: BTreeMap<String, String>,
    /// A file of evidence that is not as declared.
    pub(super) altered_evidence: Vec<(String, String)>,
    /// Why pans that are not judged now are not.
    pub(super) withheld: Option<&'a str>,
    /// Whether another version of the program judges.
    pub(super) other_engine: bool,
}

/// Values that differ by no more than this share are alike where another version computed them: it may sum in
/// another order.
const ALIKE: f64 = 1e-9;

/// Every rule on every object that was declared or comes out now.
pub(super) fn rules(then: &[RuleResult], now: &[RuleResult], known: &Known<'_>) -> Vec<Item> {
    let key =
        |result: &RuleResult| (result.pan.clone(), result.rule.clone(), result.object.clone());
    let by_key: BTreeMap<_, _> = now.iter().map(|result| (key(result), result)).collect();
    let mut items: Vec<Item> =
        then.iter().map(|old| of_rule(old, by_key.get(&key(old)).copied(), known)).collect();
    let declared: BTreeSet<_> = then.iter().map(key).collect();
    let added = now.iter().filter(|result| !declared.contains(&key(result)));
    items.extend(added.map(|new| Item {
        pan: new.pan.clone(),
        name: new.rule.clone(),
        object: new.object.clone(),
        list: None,
        declared: None,
        now: Some(new.verdict.clone()),
        outcome: ItemOutcome::Different,
        why: "it is judged now, and nothing was declared of it".to_owned(),
    }));
    items
}

fn of_rule(old: &RuleResult, new: Option<&RuleResult>, known: &Known<'_>) -> Item {
    let (outcome, why) = match (new, known.altered.get(&old.pan), known.withheld) {
        (Some(new), None, _) => judged_again(old, new, known.other_engine),
        (None, None, Some(because)) => {
            (ItemOutcome::NotReproducible, format!("it rests on what is withheld: {because}"))
        }
        (_, Some(file), _) => (ItemOutcome::Altered, format!("it rests on {file}")),
        (None, None, None) => {
            (ItemOutcome::Different, "it was declared, and is not judged now".to_owned())
        }
    };
    Item {
        pan: old.pan.clone(),
        name: old.rule.clone(),
        object: old.object.clone(),
        list: None,
        declared: Some(old.verdict.clone()),
        now: new.map(|new| new.verdict.clone()),
        outcome,
        why,
    }
}

fn judged_again(old: &RuleResult, new: &RuleResult, other_engine: bool) -> (ItemOutcome, String) {
    let pairs = [(old.low, new.low), (old.high, new.high)];
    let to_the_bit = pairs.iter().all(|(a, b)| a.map(f64::to_bits) == b.map(f64::to_bits));
    let nearly = pairs.iter().all(|(a, b)| alike(*a, *b));
    if old.verdict != new.verdict {
        return (ItemOutcome::Different, "the verdict is another".to_owned());
    }
    match (to_the_bit, nearly && other_engine) {
        (true, _) => (ItemOutcome::Same, String::new()),
        (false, true) => {
            (ItemOutcome::Same, "in its last digits another, by another version".to_owned())
        }
        (false, false) => (ItemOutcome::Different, "the value is another".to_owned()),
    }
}

fn alike(a: Option<f64>, b: Option<f64>) -> bool {
    match (a, b) {
        (None, None) => true,
        (Some(a), Some(b)) => {
            let larger = if a.abs() > b.abs() { a.abs() } else { b.abs() };
            (a - b).abs() <= ALIKE * larger
        }
        _ => false,
    }
}

/// Every clause, which is as good as the worst of its rules.
pub(super) fn clauses(
    then: &[ClauseResult],
    now: &[ClauseResult],
    rules: &[Item],
    known: &Known<'_>,
) -> Vec<Item> {
    let found = |old: &ClauseResult| {
        now.iter()
            .find(|new| (&new.list, &new.pan, &new.clause) == (&old.list, &old.pan, &old.clause))
    };
    let mut items: Vec<Item> =
        then.iter().map(|old| of_clause(old, found(old), rules, known)).collect();
    let declared = |new: &&ClauseResult| {
        !then
            .iter()
            .any(|old| (&new.list, &new.pan, &new.clause) == (&old.list, &old.pan, &old.clause))
    };
    items.extend(now.iter().filter(declared).map(|new| Item {
        declared: None,
        now: Some(new.answer.clone()),
        outcome: ItemOutcome::Different,
        why: "it is asked for now, and nothing was declared of it".to_owned(),
        ..of_clause(new, Some(new), rules, known)
    }));
    items
}

fn of_clause(
    old: &ClauseResult,
    new: Option<&ClauseResult>,
    rules: &[Item],
    known: &Known<'_>,
) -> Item {
    let its = rules.iter().filter(|item| item.pan == old.pan && old.rules.contains(&item.name));
    let worst = its.max_by_key(|item| item.outcome);
    let by_rules = worst.map(|item| (item.outcome, item.why.clone()));
    let evidence = known.altered_evidence.first().filter(|_| old.answer == "by evidence");
    let (outcome, why) = match (by_rules, new) {
        (Some((ItemOutcome::Same, _)) | None, Some(new)) if new.answer != old.answer => {
            (ItemOutcome::Different, "the answer is another".to_owned())
        }
        (Some(found), _) => found,
        (None, _) if evidence.is_some() => {
            let file =
                evidence.map(|(name, state)| format!("{name} is {state}")).unwrap_or_default();
            (ItemOutcome::Altered, file)
        }
        (None, Some(_)) if old.answer == "by evidence" => (
            ItemOutcome::Same,
            "the document is the one declared; what it shows is for a person to judge".to_owned(),
        ),
        (None, Some(_)) if old.answer == "by statement" => {
            (ItemOutcome::Same, "a person's word, which cannot be computed".to_owned())
        }
        (None, Some(_)) => (ItemOutcome::Same, String::new()),
        (None, None) => match (known.altered.get(&old.pan), known.withheld) {
            (Some(file), _) => (ItemOutcome::Altered, format!("it rests on {file}")),
            (None, Some(because)) => (
                ItemOutcome::NotReproducible,
                format!("the pan rests on what is withheld: {because}"),
            ),
            // A list that names an altered document is not read as a whole: its other clauses are not answered for that.
            (None, None) => match known.altered_evidence.first() {
                Some((name, state)) => (
                    ItemOutcome::Altered,
                    format!(
                        "nothing answers it now, for a document of its list is not as declared: {name} is {state}"
                    ),
                ),
                None => {
                    (ItemOutcome::Different, "it was declared, and is not answered now".to_owned())
                }
            },
        },
    };
    Item {
        pan: old.pan.clone(),
        name: old.number.clone().unwrap_or_else(|| old.clause.clone()),
        object: None,
        list: Some(old.list.clone()),
        declared: Some(old.answer.clone()),
        now: new.map(|new| new.answer.clone()),
        outcome,
        why,
    }
}
