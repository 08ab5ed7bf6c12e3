//! A whole review for programs.

use super::REVIEW_SCHEMA;
use super::book::{BookWire, book};
use super::checklist::{ChecklistWire, checklist};
use super::conceded::{ConcedingWire, conceding};
use super::finding::{FindingWire, finding};
use super::screening::{ScreeningWire, screening};
use super::wire::{InputWire, MadeBy, ProblemWire, files, input, made_by, problems};
use crate::counts::by_verdict;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;
use sumpwright_core::review::{Finding, PanReview, Review};

/// How many findings have each verdict, named by the verdict's words with underscores.
pub(crate) type Counts = BTreeMap<String, usize>;

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct ReviewWire {
    schema: &'static str,
    made_by: MadeBy,
    rules: usize,
    rulebook: BookWire,
    counts: Counts,
    files: Vec<String>,
    problems: Vec<ProblemWire>,
    concessions: ConcedingWire,
    pans: Vec<PanWire>,
    /// There only where the pans were held against a list.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    checklists: Vec<ChecklistWire>,
    /// There only where no more is told than what is worse than known.
    #[serde(skip_serializing_if = "Option::is_none")]
    screening: Option<ScreeningWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct PanWire {
    path: String,
    title: Option<String>,
    baselines: Vec<String>,
    counts: Counts,
    findings: Vec<FindingWire>,
    inputs: Vec<InputWire>,
    notes: Vec<String>,
}

pub(super) fn document(review: &Review) -> ReviewWire {
    let pan = |pan: &PanReview| PanWire {
        path: pan.path.clone(),
        title: pan.title.clone(),
        baselines: pan.baselines.clone(),
        counts: counts(pan.findings.iter()),
        findings: pan.findings.iter().map(|f| finding(&review.sources, f)).collect(),
        inputs: pan.inputs.iter().map(|i| input(&review.sources, i)).collect(),
        notes: pan.notes.clone(),
    };
    ReviewWire {
        schema: REVIEW_SCHEMA,
        made_by: made_by(),
        rules: review.rules,
        rulebook: book(&review.sources, &review.book),
        counts: counts(review.pans.iter().flat_map(|pan| &pan.findings)),
        files: files(&review.sources),
        problems: problems(&review.sources, &review.problems),
        concessions: conceding(&review.sources, &review.conceding),
        pans: review.pans.iter().map(pan).collect(),
        checklists: review.checklists.iter().map(|list| checklist(&review.sources, list)).collect(),
        screening: review.screening.as_ref().map(|found| screening(&review.sources, found)),
    }
}

/// How many findings have each verdict, by its words with underscores.
pub(crate) fn counts<'a>(findings: impl Iterator<Item = &'a Finding>) -> Counts {
    by_verdict(findings)
        .into_iter()
        .map(|(verdict, count)| (verdict.words().replace(' ', "_"), count))
        .collect()
}
