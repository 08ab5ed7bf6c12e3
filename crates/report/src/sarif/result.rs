//! A finding as a result.

use super::place::location;
use super::wire::{LimitProperties, Location, Message, ResultProperties, Results, Suppression};
use crate::json::reading;
use crate::said::unglued;
use crate::scale::Scale;
use crate::{computed, conceded, deciding, said};
use std::collections::BTreeMap;
use sumpwright_core::document::rulebook::Force;
use sumpwright_core::quantity::Dimension;
use sumpwright_core::review::{Finding, LimitReading, PanReview};
use sumpwright_core::source::Sources;
use sumpwright_core::verdict::Verdict;

/// One rule on one object.
pub(super) fn result(
    sources: &Sources,
    pan: &PanReview,
    finding: &Finding,
    rules: &BTreeMap<String, usize>,
    suppressed: bool,
) -> Results {
    let scale = Scale::of_finding(finding);
    let (kind, level) = kind_and_level(finding);
    Results {
        rule_id: finding.rule.clone(),
        rule_index: rules.get(&finding.rule).copied(),
        kind,
        level,
        message: Message::text(unglued(&message(finding, &scale))),
        locations: vec![location(sources, finding.subject, "", finding.object.as_deref())],
        related_locations: related(sources, finding, &scale),
        partial_fingerprints: BTreeMap::from([("finding/v1", fingerprint(pan, finding))]),
        suppressions: suppressed.then(|| suppressions(sources, finding)),
        properties: ResultProperties {
            verdict: finding.verdict.words(),
            reading: reading(finding.reading, finding.dimension),
            limits: finding.limits.iter().map(|l| limit(finding, l, &scale)).collect(),
            remarks: finding.remarks.iter().map(|r| unglued(&conceded::remark(r))).collect(),
            computed_changes: computed::paragraphs(sources, finding),
            clause: None,
        },
    }
}

fn limit(finding: &Finding, limit: &LimitReading, scale: &Scale) -> LimitProperties {
    let difference = Dimension { point: false, ..finding.dimension };
    LimitProperties {
        text: unglued(&said::limit(finding, limit, scale)),
        margin: reading(limit.margin, difference),
    }
}

/// The mapping of verdicts to kinds; a level other than none is allowed only for `fail`.
fn kind_and_level(finding: &Finding) -> (&'static str, &'static str) {
    // What a concession covers is told as what it is without it, beside the suppression.
    let verdict = match &finding.acceptance {
        Some(accepted) if finding.verdict == Verdict::Conceded => accepted.without,
        _ => finding.verdict,
    };
    match (verdict, finding.force) {
        (Verdict::Conforms, _) => ("pass", "none"),
        (Verdict::DoesNotConform | Verdict::Conceded, Force::Shall) => ("fail", "error"),
        (Verdict::DoesNotConform | Verdict::Conceded, Force::Should) | (Verdict::Advisory, _) => {
            ("fail", "note")
        }
        (Verdict::NotApplicable, _) => ("notApplicable", "none"),
        // What was not judged never comes here: it is a notification.
        (Verdict::Inconclusive | Verdict::NotJudged, _) => ("open", "none"),
    }
}

/// The concession as a suppression: accepted where it covers the finding, else rejected.
fn suppressions(sources: &Sources, finding: &Finding) -> Vec<Suppression> {
    let suppression = |accepted: &sumpwright_core::review::Acceptance| Suppression {
        kind: "external",
        status: if accepted.refused.is_none() { "accepted" } else { "rejected" },
        justification: unglued(&conceded::told(accepted)),
        location: location(sources, accepted.span, "", None),
    };
    finding.acceptance.iter().map(suppression).collect()
}

fn message(finding: &Finding, scale: &Scale) -> String {
    let asked: Vec<String> =
        finding.limits.iter().map(|limit| said::limit(finding, limit, scale)).collect();
    let asked = asked.join(", ");
    let worst = finding
        .worst
        .as_ref()
        .map_or_else(String::new, |worst| format!(", in the state {}", said::worst(worst)));
    let said = said::in_short(finding, scale);
    let limit = if asked.is_empty() { String::new() } else { format!("; asked: {asked}") };
    format!("{}: {}: {said}{worst}{limit}.", finding.title, finding.verdict.words())
}

/// The limit in the rulebook, then what moves the reading most.
fn related(sources: &Sources, finding: &Finding, scale: &Scale) -> Vec<Location> {
    let mut all = Vec::new();
    match deciding::deciding(finding) {
        Some(limit) => {
            let said = format!("limit: {}", said::limit(finding, limit, scale));
            all.push(location(sources, limit.span, &said, None));
        }
        None => all.push(location(sources, finding.rule_span, "asked by this rule", None)),
    }
    if let Some(driver) = &finding.driver {
        let said = format!("moves it most: {}", said::effect(driver, scale));
        all.push(location(sources, driver.span, &said, Some(&driver.path)));
    }
    all
}

/// What a finding is known by from run to run: no line, value or version is in it.
fn fingerprint(pan: &PanReview, finding: &Finding) -> String {
    let object = finding.object.as_deref().unwrap_or("pan");
    format!("{} | {} | {object}", finding.rule, pan.path.replace('\\', "/"))
}
