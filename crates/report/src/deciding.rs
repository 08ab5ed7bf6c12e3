//! Which of a rule's limits decides its verdict.

use sumpwright_core::review::{Finding, LimitReading};
use sumpwright_core::verdict::Verdict;

/// The limit with the least margin: by what the margin can at best be for a breach, by what it can at
/// worst be for everything else. The first limit where no margin could be computed.
pub(crate) fn deciding(finding: &Finding) -> Option<&LimitReading> {
    let breach = matches!(
        finding.acceptance.as_ref().map_or(finding.verdict, |accepted| accepted.without),
        Verdict::DoesNotConform | Verdict::Advisory
    );
    let mut least: Option<(f64, &LimitReading)> = None;
    for limit in &finding.limits {
        let Some(margin) = limit.margin else { continue };
        let reached = if breach { margin.bounds.high } else { margin.bounds.low };
        if least.is_none_or(|(value, _)| reached < value) {
            least = Some((reached, limit));
        }
    }
    least.map(|(_, limit)| limit).or_else(|| finding.limits.first())
}
