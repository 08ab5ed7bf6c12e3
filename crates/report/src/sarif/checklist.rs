//! Clauses of customers' lists, as results of rules of their own.

use super::place::location;
use super::wire::{
    ClauseProperties, Configuration, Location, Message, ResultProperties, Results, Rule,
};
use crate::json::reading;
use crate::said::{self, unglued};
use std::collections::BTreeMap;
use sumpwright_core::quantity::Dimension;
use sumpwright_core::review::{Answer, ChecklistHeld, ClauseHeld, PanReview, Review, RuleAnswer};
use sumpwright_core::verdict::Verdict;

/// The id by which programs know a clause: that of its list's file and its name there. Two lists of one name in
/// different folders share it; the index of the rule tells them apart, as the standard has it.
fn id(list: &ChecklistHeld, clause: &ClauseHeld) -> String {
    let file = list.path.rsplit(['/', '\\']).next().unwrap_or(&list.path);
    let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    format!("checklist.{stem}.{}", clause.name)
}

/// Every clause of every list once, in the order of the results.
pub(super) fn descriptors(review: &Review) -> Vec<Rule> {
    let clauses = review.checklists.iter().flat_map(|list| {
        let first = list.pans.first();
        first.into_iter().flat_map(|pan| &pan.clauses).map(move |clause| (list, clause))
    });
    let rule = |(list, clause): (&ChecklistHeld, &ClauseHeld)| Rule {
        full_description: clause.number.as_ref().map(|number| {
            Message::text(format!("Clause {number} of {}, {}", list.title, list.customer))
        }),
        default_configuration: Some(Configuration {
            level: if clause.binding { "error" } else { "note" },
        }),
        ..Rule::described(&id(list, clause), &clause.says)
    };
    clauses.map(rule).collect()
}

/// Every clause on every pan. `first` is where the descriptors stand among the rules.
pub(super) fn results(review: &Review, suppressed: bool, first: usize) -> Vec<Results> {
    let (mut all, mut before) = (Vec::new(), first);
    for list in &review.checklists {
        for pan in &list.pans {
            let judged = review.pans.iter().find(|judged| judged.path == pan.path);
            for (place, clause) in pan.clauses.iter().enumerate() {
                let index = before + place;
                let known = format!("{} | {} | {}", id(list, clause), list.path, pan.path);
                let mut result = result(review, judged, clause, &pan.path);
                result.rule_id = id(list, clause);
                result.rule_index = Some(index);
                result.partial_fingerprints =
                    BTreeMap::from([("finding/v1", known.replace('\\', "/"))]);
                result.suppressions = suppressed.then(Vec::new);
                all.push(result);
            }
        }
        before += list.pans.first().map_or(0, |pan| pan.clauses.len());
    }
    all
}

fn result(review: &Review, judged: Option<&PanReview>, clause: &ClauseHeld, pan: &str) -> Results {
    let (kind, level) = kind_and_level(clause);
    let binding = if clause.binding { "" } else { " (not binding)" };
    let said = format!(
        "{}: {}{binding} {pan}: {}; {}.",
        said::clause_name(clause),
        clause.says,
        clause.answer.words(),
        said::answered_by(clause).trim_end_matches('.')
    );
    Results {
        rule_id: String::new(),
        rule_index: None,
        kind,
        level,
        message: Message::text(unglued(&said)),
        locations: vec![location(&review.sources, clause.span, "", None)],
        related_locations: related(review, judged, clause),
        partial_fingerprints: BTreeMap::new(),
        suppressions: None,
        properties: ResultProperties {
            verdict: clause.answer.words(),
            reading: reading(None, Dimension::default()),
            limits: Vec::new(),
            remarks: Vec::new(),
            computed_changes: Vec::new(),
            clause: Some(ClauseProperties {
                pan: pan.to_owned(),
                binding: clause.binding,
                against: clause.is_against(),
            }),
        },
    }
}

/// A level other than none is allowed only for `fail`. What is not shown counts against where it is binding; what could
/// not be decided is open, as the finding that answers it is. What a document, a person or a concession settles is told
/// and is no `pass`: nothing of it was computed.
fn kind_and_level(clause: &ClauseHeld) -> (&'static str, &'static str) {
    let against = if clause.binding { ("fail", "error") } else { ("fail", "note") };
    match clause.answer {
        Answer::Rules(Verdict::Conforms) => ("pass", "none"),
        Answer::Rules(Verdict::NotApplicable) => ("notApplicable", "none"),
        Answer::Rules(Verdict::Conceded) | Answer::Evidence | Answer::Statement => {
            ("informational", "none")
        }
        Answer::Rules(Verdict::Inconclusive | Verdict::NotJudged) => ("open", "none"),
        Answer::Unanswered if !clause.binding => ("open", "none"),
        Answer::Rules(Verdict::DoesNotConform | Verdict::Advisory) | Answer::Unanswered => against,
    }
}

/// Where the values stand that the verdicts of its rules are about.
fn related(review: &Review, judged: Option<&PanReview>, clause: &ClauseHeld) -> Vec<Location> {
    let of = |answer: &RuleAnswer| {
        let mut findings = judged.into_iter().flat_map(|pan| &pan.findings);
        let finding = findings.find(|f| f.rule == answer.rule && f.object == answer.object)?;
        let said = format!("{}: {}", answer.rule, answer.verdict.words());
        Some(location(&review.sources, finding.subject, &said, answer.object.as_deref()))
    };
    clause.rules.iter().filter_map(of).collect()
}
