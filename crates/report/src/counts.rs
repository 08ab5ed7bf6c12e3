//! How many findings have which verdict.

use sumpwright_core::review::Finding;
use sumpwright_core::verdict::Verdict;

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
