//! How many findings have which verdict.

use sumpwright_core::review::Finding;
use sumpwright_core::verdict::Verdict;

/// What a reader looks for first: what is against a pan, then what is open, each by rule and object.
pub(crate) fn gravest_first(findings: &[Finding]) -> Vec<&Finding> {
    let rank = |verdict: Verdict| match verdict {
        Verdict::DoesNotConform => 0,
        Verdict::NotJudged => 1,
        Verdict::Inconclusive => 2,
        Verdict::Advisory => 3,
        Verdict::Conceded => 4,
        Verdict::Conforms | Verdict::NotApplicable => 5,
    };
    let mut sorted: Vec<&Finding> = findings.iter().collect();
    // A stable sort.
    sorted.sort_by_key(|finding| rank(finding.verdict));
    sorted
}

/// Each verdict with the number of findings that have it, in the order of [`Verdict::ALL`].
pub(crate) fn by_verdict<'a>(
    findings: impl IntoIterator<Item = &'a Finding>,
) -> Vec<(Verdict, usize)> {
    let mut counts: Vec<_> = Verdict::ALL.into_iter().map(|verdict| (verdict, 0)).collect();
    for finding in findings {
        for (verdict, count) in &mut counts {
            *count += usize::from(*verdict == finding.verdict);
        }
    }
    counts
}
