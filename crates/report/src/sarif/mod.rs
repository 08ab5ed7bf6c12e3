//! A review as SARIF 2.1.0, the open standard (OASIS) for results of checks of files.
//!
//! Every finding is a result, those that conform too. Places are in the files as given, columns in characters
//! (`unicodeCodePoints`). A finding that was not judged is a notification and makes the run unsuccessful; problems of
//! documents are notifications as well. Clauses of customers' lists are results of rules of their own.

mod checklist;
mod concessions;
mod place;
mod result;
mod rules;
mod screening;
mod wire;

use crate::changes;
use crate::said::unglued;
use place::location;
use sumpwright_core::review::Review;
use sumpwright_core::source::{Diagnostic, Severity, Sources, has_error};
use sumpwright_core::verdict::Verdict;
use wire::{
    Artifact, ArtifactLocation, Descriptor, Driver, Invocation, Log, Message, Notification, Run,
    RunProperties, Tool,
};

/// Writes a review.
pub(crate) fn review(review: &Review) -> String {
    crate::json::pretty(&log(review))
}

fn log(review: &Review) -> Log {
    let (mut rules, index) = rules::descriptors(review);
    rules.extend(concessions::descriptors(review));
    rules.extend(screening::descriptors(review));
    let clauses = rules.len();
    rules.extend(checklist::descriptors(review));
    let judged = |f: &&sumpwright_core::review::Finding| f.verdict != Verdict::NotJudged;
    let findings = || review.pans.iter().flat_map(|pan| &pan.findings);
    let suppressed = findings().any(|finding| finding.acceptance.is_some());
    let results = review
        .pans
        .iter()
        .flat_map(|pan| pan.findings.iter().filter(judged).map(move |finding| (pan, finding)))
        .map(|(pan, finding)| result::result(&review.sources, pan, finding, &index, suppressed))
        .chain(concessions::results(review, suppressed))
        .chain(screening::results(review, suppressed))
        .chain(checklist::results(review, suppressed, clauses))
        .collect();
    let counts = crate::json::counts(findings());
    Log {
        schema: "https://json.schemastore.org/sarif-2.1.0.json",
        version: "2.1.0",
        runs: vec![Run {
            tool: Tool {
                driver: Driver {
                    name: "sumpwright",
                    version: env!("CARGO_PKG_VERSION"),
                    semantic_version: env!("CARGO_PKG_VERSION"),
                    rules,
                    notifications: notification_descriptors(review),
                },
            },
            invocations: vec![invocation(review)],
            artifacts: artifacts(&review.sources),
            column_kind: "unicodeCodePoints",
            results,
            properties: RunProperties { counts },
        }],
    }
}

fn artifacts(sources: &Sources) -> Vec<Artifact> {
    sources
        .files()
        .map(|file| Artifact { location: ArtifactLocation { uri: place::uri(sources.path(file)) } })
        .collect()
}

fn invocation(review: &Review) -> Invocation {
    let not_judged = review.pans.iter().flat_map(|pan| {
        let findings = pan.findings.iter().filter(|f| f.verdict == Verdict::NotJudged);
        findings.map(|finding| Notification {
            level: "error",
            descriptor: Descriptor { id: finding.rule.clone() },
            message: Message::text(format!("{} was not judged: {}", pan.path, finding.reason)),
            locations: vec![location(&review.sources, finding.subject, "", None)],
        })
    });
    let unfinished: Vec<Notification> = not_judged.collect();
    let problems = review.problems.iter().map(|problem| notification(&review.sources, problem));
    let changes = changes::lines(&review.book).into_iter().map(|line| Notification {
        level: if line.loosens { "warning" } else { "note" },
        descriptor: Descriptor { id: line.word.replace(' ', "-") },
        message: Message::text(unglued(&format!("{}: {}", line.word, line.text))),
        locations: vec![location(&review.sources, line.span, "", None)],
    });
    let problems: Vec<Notification> = problems.chain(changes).collect();
    let successful =
        unfinished.is_empty() && !has_error(&review.problems) && !review.is_of_nothing();
    Invocation {
        execution_successful: successful,
        tool_execution_notifications: unfinished,
        tool_configuration_notifications: problems,
    }
}

fn notification(sources: &Sources, problem: &Diagnostic) -> Notification {
    let help = problem.help.as_deref().map_or_else(String::new, |help| format!("\n{help}"));
    Notification {
        level: match problem.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        },
        descriptor: Descriptor { id: problem.code.word().to_owned() },
        message: Message::text(unglued(&format!("{}{help}", problem.message))),
        locations: vec![location(sources, problem.primary.span, &problem.primary.text, None)],
    }
}

/// The kinds of problem that occur, each once.
fn notification_descriptors(review: &Review) -> Vec<wire::Rule> {
    let mut codes: Vec<_> = review.problems.iter().map(|problem| problem.code).collect();
    codes.sort_unstable();
    codes.dedup();
    codes.into_iter().map(|code| wire::Rule::described(code.word(), code.description())).collect()
}

#[cfg(test)]
mod tests;
