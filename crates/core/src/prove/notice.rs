//! Which cases notice an alteration.

use super::case::Trial;
use super::is_expected;
use crate::review::{Sweep, worst_verdict};
use crate::rule::Rule;
use crate::verdict::Verdict;

/// A rule, or the way it is judged, in another form.
#[derive(Debug)]
pub(super) enum Mutant {
    /// Another rule.
    Rule(Box<Rule>),
    /// No rule.
    LeftOut,
    /// Every standard uncertainty so many times as large.
    Uncertainty(f64),
    /// What cannot be read passes.
    UnknownConforms,
}

/// What the rule itself comes to.
pub(super) fn verdict(rule: &Rule, sweep: &Sweep) -> Verdict {
    worst_verdict(rule, sweep, 1.0, Verdict::Inconclusive)
}

/// What an altered rule comes to. One that is left out finds nothing against anything.
pub(super) fn verdict_of(mutant: &Mutant, rule: &Rule, sweep: &Sweep) -> Verdict {
    match mutant {
        Mutant::Rule(altered) => verdict(altered, sweep),
        Mutant::LeftOut => Verdict::NotApplicable,
        Mutant::Uncertainty(factor) => worst_verdict(rule, sweep, *factor, Verdict::Inconclusive),
        Mutant::UnknownConforms => worst_verdict(rule, sweep, 1.0, Verdict::Conforms),
    }
}

/// The first two cases that notice; whether a third does changes nothing.
pub(super) fn noticing(mutant: &Mutant, rule: &Rule, trials: &[&Trial]) -> Vec<usize> {
    let notices = |trial: &&&Trial| {
        !is_expected(verdict_of(mutant, rule, &trial.sweep), trial.doc.expect.value)
    };
    trials.iter().filter(notices).map(|trial| trial.index).take(2).collect()
}
