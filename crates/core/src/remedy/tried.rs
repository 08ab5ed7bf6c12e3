//! A change tried on the text itself: every rule judged again, uncertainty and all.

use crate::review::{Finding, PanReview, Sweep, gravity, judge, rejudged};
use crate::rule::Rulebook;
use crate::source::{FileProblem, Files, Recording};
use crate::verdict::Verdict;
use std::sync::Arc;

/// A margin that changes by a smaller share than this is the same but for rounding.
const ROUNDING: f64 = 1e-9;

/// What the changed description comes to.
pub(super) struct Trial {
    /// Whether the rule conforms.
    pub(super) conforms: bool,
    /// By how much the guarded margin falls short, where it has a value.
    pub(super) short: Option<f64>,
    /// Rules that come out worse than before, each with its verdict.
    pub(super) turned: Vec<String>,
}

/// Judges the pan with another text in place of its own; nothing where that text is no sound description.
pub(super) fn tried(
    files: &dyn Files,
    pan: &PanReview,
    rulebook: &Rulebook,
    asked: &Finding,
    text: &str,
) -> Option<Trial> {
    let altered = Altered { files, path: &pan.path, text };
    rejudged(&altered, &pan.path, |sweep| {
        let own = rulebook
            .rules
            .iter()
            .filter(|rule| rule.doc.id.text == asked.rule)
            .flat_map(|rule| judge(rule, sweep))
            .find(|finding| finding.object == asked.object)?;
        let conforms = own.verdict == Verdict::Conforms;
        let turned = if conforms { turned(pan, rulebook, sweep) } else { Vec::new() };
        Some(Trial { conforms, short: short(&own), turned })
    })?
}

/// What the worst limit misses with its guard taken off.
fn short(finding: &Finding) -> Option<f64> {
    let mut worst: Option<f64> = None;
    for limit in &finding.limits {
        let margin = limit.margin?;
        let short = limit.guard.unwrap_or(0.0) - margin.bounds.low;
        if worst.is_none_or(|worst| short > worst) {
            worst = Some(short);
        }
    }
    worst.filter(|short| short.is_finite() && *short > 0.0)
}

fn turned(pan: &PanReview, rulebook: &Rulebook, sweep: &Sweep) -> Vec<String> {
    let told = |now: &Finding| {
        let was = pan.findings.iter().find(|was| was.rule == now.rule && was.object == now.object);
        let before = was.map_or(0, |was| gravity(was.verdict));
        let farther = if gravity(now.verdict) > before.max(gravity(Verdict::Conforms)) {
            ""
        } else if was.is_some_and(|was| is_farther(was, now)) {
            ", and farther from its limit"
        } else {
            return None;
        };
        let object = now.object.as_ref().map_or_else(String::new, |o| format!(" · {o}"));
        Some(format!("{}{object} ({}{farther})", now.rule, now.verdict.words()))
    };
    rulebook
        .rules
        .iter()
        .flat_map(|rule| judge(rule, sweep))
        .filter_map(|finding| told(&finding))
        .collect()
}

/// Whether a rule that was not met already is breached by more than before, beyond what is unsure: mending one thing
/// by spoiling another that is bad as it is helps nobody.
fn is_farther(was: &Finding, now: &Finding) -> bool {
    let breached = |verdict| matches!(verdict, Verdict::DoesNotConform | Verdict::Advisory);
    if !(breached(was.verdict) && breached(now.verdict)) {
        return false;
    }
    let worst = |finding: &Finding| {
        let margins = finding.limits.iter().filter_map(|limit| limit.margin);
        margins
            .map(|margin| (margin.bounds.high, margin.u_high))
            .reduce(|a, b| if b.0 < a.0 { b } else { a })
    };
    match (worst(was), worst(now)) {
        (Some((was, _)), Some((now, u))) => was - now > u && was - now > ROUNDING * was.abs(),
        _ => false,
    }
}

/// The host's files with another text at one path.
struct Altered<'a> {
    files: &'a dyn Files,
    path: &'a str,
    text: &'a str,
}

impl Files for Altered<'_> {
    fn read(&self, path: &str, root: Option<&str>, limit: u64) -> Result<Vec<u8>, FileProblem> {
        if path == self.path {
            return Ok(self.text.as_bytes().to_vec());
        }
        self.files.read(path, root, limit)
    }

    fn exists(&self, path: &str) -> bool {
        self.files.exists(path)
    }

    fn built_in(&self) -> Vec<(String, String)> {
        self.files.built_in()
    }

    fn recording(
        &self,
        path: &str,
        root: Option<&str>,
        limit: u64,
    ) -> Result<Arc<dyn Recording>, FileProblem> {
        self.files.recording(path, root, limit)
    }
}
