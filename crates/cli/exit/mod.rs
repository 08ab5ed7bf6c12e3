//! What the caller is told by the exit status. The larger number wins.

use sumpwright_core::compare::{Comparison, PansCompared};
use sumpwright_core::confirm::{Confirmation, Outcome};
use sumpwright_core::declare::Declared;
use sumpwright_core::explain::{Explanation, Subject};
use sumpwright_core::prove::Proof;
use sumpwright_core::review::{ChecklistHeld, Finding, Measured, PanReview, Review};
use sumpwright_core::source::has_error;
use sumpwright_core::verdict::Verdict;

/// The exit statuses, as `--help` lists them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Exit {
    /// Nothing against it.
    NothingAgainst,
    /// Something does not conform, or a `shall` is inconclusive.
    Against,
    /// A document, a path or the use was at fault.
    Fault,
    /// Judging could not be finished, or nothing applied.
    Unfinished,
}

impl Exit {
    /// The number the system is given.
    pub(crate) fn code(self) -> u8 {
        match self {
            Self::NothingAgainst => 0,
            Self::Against => 1,
            Self::Fault => 2,
            Self::Unfinished => 3,
        }
    }
}

/// What an explanation comes to: a verdict that is explained is not held against anything.
pub(crate) fn of_explanation(explanation: &Explanation) -> Exit {
    let named = !matches!(explanation.subject, Subject::Unknown { .. } | Subject::Nothing);
    if named && !has_error(&explanation.problems) { Exit::NothingAgainst } else { Exit::Fault }
}

/// What a comparison comes to: a difference is held against nobody.
pub(crate) fn of_comparison(comparison: &Comparison) -> Exit {
    if comparison.has_error() { Exit::Fault } else { Exit::NothingAgainst }
}

/// The same of a pan beside its baseline.
pub(crate) fn of_pans_compared(compared: &PansCompared) -> Exit {
    if compared.has_error() || compared.sides.is_none() {
        Exit::Fault
    } else {
        Exit::NothingAgainst
    }
}

/// What a proof comes to.
pub(crate) fn of_proof(proof: &Proof) -> Exit {
    if has_error(&proof.problems) {
        Exit::Fault
    } else if proof.is_whole() {
        Exit::NothingAgainst
    } else {
        Exit::Against
    }
}

/// What a review comes to.
pub(crate) fn of_review(review: &Review) -> Exit {
    let faulty = has_error(&review.problems);
    let findings = || review.pans.iter().flat_map(|pan| &pan.findings);
    let unfinished = findings().any(|finding| finding.verdict == Verdict::NotJudged)
        // Where a document is at fault, that is what has to be mended first.
        || (!faulty && review.pans.iter().any(PanReview::is_of_nothing));
    if unfinished {
        Exit::Unfinished
    } else if faulty || review.is_of_nothing() {
        Exit::Fault
    } else if findings().any(Finding::is_against)
        || !review.conceding.findings.is_empty()
        || review.checklists.iter().any(ChecklistHeld::is_against)
        || review.screening.as_ref().is_some_and(|screening| !screening.stale.is_empty())
    {
        Exit::Against
    } else {
        Exit::NothingAgainst
    }
}

/// What declaring comes to.
pub(crate) fn of_declared(declared: &Declared) -> Exit {
    if declared.package.is_some() {
        Exit::NothingAgainst
    } else if declared.refusals.iter().any(|refusal| refusal.unfinished) {
        Exit::Unfinished
    } else if declared.refusals.is_empty() {
        Exit::Fault
    } else {
        Exit::Against
    }
}

/// What judging a declaration again comes to.
pub(crate) fn of_confirmation(found: &Confirmation) -> Exit {
    match found.outcome {
        Outcome::Confirmed => Exit::NothingAgainst,
        Outcome::Differs => Exit::Against,
        Outcome::CannotConfirm => Exit::Fault,
        Outcome::NotInWhole => Exit::Unfinished,
    }
}

/// What readings come to: only the documents can be at fault.
pub(crate) fn of_measured(measured: &Measured) -> Exit {
    if has_error(&measured.problems) || measured.pans.is_empty() {
        Exit::Fault
    } else {
        Exit::NothingAgainst
    }
}

#[cfg(test)]
mod tests;
