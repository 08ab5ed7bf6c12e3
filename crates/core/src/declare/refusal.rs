//! Why something is not declared.

use crate::review::{Answer, Finding, PanReview, Review};
use crate::source::Span;
use crate::verdict::Verdict;

/// One thing that is not shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// What, in a sentence without a stop.
    pub what: String,
    /// Where to look.
    pub at: Span,
    /// Whether judging was not finished, which weighs more than that something does not conform.
    pub unfinished: bool,
}

/// Everything that stands against a declaration, in the order of the review.
pub(super) fn refusals(review: &Review) -> Vec<Refusal> {
    let mut found = Vec::new();
    for pan in &review.pans {
        found.extend(
            pan.findings.iter().filter(|finding| finding.is_against()).map(|f| of_finding(pan, f)),
        );
        if pan.findings.iter().all(|finding| finding.verdict == Verdict::NotApplicable) {
            let what = format!("no rule applies to {}, so nothing was judged", pan.path);
            let at = pan.inputs.first().map_or(NOWHERE, |input| input.span);
            found.push(Refusal { what, at, unfinished: true });
        }
    }
    for finding in &review.conceding.findings {
        found.push(Refusal { what: finding.message.clone(), at: finding.span, unfinished: false });
    }
    for list in &review.checklists {
        for pan in &list.pans {
            for clause in pan.clauses.iter().filter(|clause| clause.is_against()) {
                let name = clause.number.as_ref().unwrap_or(&clause.name);
                let answer = match clause.answer {
                    Answer::Unanswered => "nothing answers it".to_owned(),
                    answer => format!("its rules come to: {}", answer.words()),
                };
                let what = format!("clause {name} of {} on {}: {answer}", list.title, pan.path);
                found.push(Refusal { what, at: clause.span, unfinished: false });
            }
        }
    }
    found
}

const NOWHERE: Span = Span { file: crate::source::FileId(0), start: 0, end: 0 };

fn of_finding(pan: &PanReview, finding: &Finding) -> Refusal {
    let object = finding.object.as_ref().map(|object| format!(" · {object}")).unwrap_or_default();
    let what = format!("{}{object} on {}: {}", finding.rule, pan.path, finding.verdict.words());
    Refusal { what, at: finding.subject, unfinished: finding.verdict == Verdict::NotJudged }
}
