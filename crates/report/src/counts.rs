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

/// The counts in words, those that are zero left out: `2 do not conform, 1 inconclusive`.
pub(crate) fn in_words(counts: &[(Verdict, usize)]) -> String {
    let parts: Vec<_> = counts
        .iter()
        .filter(|(_, count)| *count > 0)
        .map(|(verdict, count)| format!("{count} {}", plural(*verdict, *count)))
        .collect();
    if parts.is_empty() { "no verdict".to_owned() } else { parts.join(", ") }
}

fn plural(verdict: Verdict, count: usize) -> &'static str {
    match (verdict, count) {
        (Verdict::DoesNotConform, 2..) => "do not conform",
        (Verdict::Conforms, 2..) => "conform",
        _ => verdict.words(),
    }
}

/// `1 rule`, `2 rules`.
pub(crate) fn number_of(count: usize, thing: &str) -> String {
    if count == 1 { format!("1 {thing}") } else { format!("{count} {thing}s") }
}
