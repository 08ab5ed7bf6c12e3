//! Whether a rule asks more or less than another: decided from the formulas alone, for every pan at once.
//!
//! Stricter means that nothing passes which did not pass before. Each part is looked at by itself; what cannot be
//! decided is incomparable, never guessed.

use super::edition::words;
use super::order::{Order, of_conditions, of_formulas};
use super::{Condition, Formula, Rule};
use crate::document::rulebook::{Decision, Force};
use crate::source::{Scalar, Span};

/// What a rule asks beside another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strictness {
    /// The same.
    Same,
    /// More: nothing passes that did not pass before.
    Stricter,
    /// Less: everything passes that passed before.
    Looser,
    /// Neither, or it cannot be decided.
    Incomparable,
}

impl Strictness {
    /// In a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Same => "the same",
            Self::Stricter => "stricter",
            Self::Looser => "looser",
            Self::Incomparable => "incomparable",
        }
    }

    /// What two parts come to together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::Same, one) | (one, Self::Same) => one,
            (one, other) if one == other => one,
            _ => Self::Incomparable,
        }
    }

    fn of_lower_limit(order: Order) -> Self {
        match order {
            Order::Same => Self::Same,
            Order::Higher => Self::Stricter,
            Order::Lower => Self::Looser,
            Order::Unclear => Self::Incomparable,
        }
    }

    fn turned(self) -> Self {
        match self {
            Self::Stricter => Self::Looser,
            Self::Looser => Self::Stricter,
            other => other,
        }
    }
}

/// A part of a rule that asks something else.
#[derive(Debug, Clone)]
pub struct PartChange {
    /// Its key.
    pub part: &'static str,
    /// As it was written; nothing where there was none.
    pub from: Option<String>,
    /// As it is written.
    pub to: Option<String>,
    /// Where it stands now; nothing where there is none.
    pub span: Option<Span>,
    /// What that means.
    pub strictness: Strictness,
}

impl PartChange {
    /// `at_least 15 mm instead of 10 mm`.
    pub fn words(&self) -> String {
        let part = self.part;
        match (&self.from, &self.to) {
            (Some(from), None) if part == "when" => format!("always, instead of when {from}"),
            (None, Some(to)) if part == "when" => format!("when {to}, instead of always"),
            (Some(from), Some(to)) => format!("{part} {to} instead of {from}"),
            (Some(from), None) => format!("{part} taken away, which was {from}"),
            (None, Some(to)) => format!("{part} {to}, where there was none"),
            (None, None) => part.to_owned(),
        }
    }
}

/// All parts in words; each with what it means by itself where they do not all mean the same, so that none that
/// asks less hides behind one that asks more.
pub fn in_words(parts: &[PartChange]) -> String {
    let together = overall(parts);
    let one = |part: &PartChange| {
        if part.strictness == together {
            part.words()
        } else {
            format!("{} ({})", part.words(), part.strictness.word())
        }
    };
    parts.iter().map(one).collect::<Vec<_>>().join("; ")
}

/// What all parts come to together.
pub fn overall(parts: &[PartChange]) -> Strictness {
    parts.iter().map(|part| part.strictness).fold(Strictness::Same, Strictness::and)
}

/// Every part in which one rule asks something else than another.
pub fn asked_otherwise(old: &Rule, new: &Rule) -> Vec<PartChange> {
    let mut parts = Vec::new();
    parts.extend(measure(old, new));
    parts.extend(limit("at_least", side_least(old), side_least(new)));
    parts.extend(limit("at_most", side_most(old), side_most(new)));
    parts.extend(when(old, new));
    parts.extend(force(old, new));
    parts.extend(decision(old, new));
    parts
}

type Side<'a> = Option<(&'a Formula, &'a Scalar)>;

fn side_least(rule: &Rule) -> Side<'_> {
    rule.at_least.as_ref().zip(rule.doc.at_least.as_ref())
}

fn side_most(rule: &Rule) -> Side<'_> {
    rule.at_most.as_ref().zip(rule.doc.at_most.as_ref())
}

fn measure(old: &Rule, new: &Rule) -> Option<PartChange> {
    let changed = of_formulas(&old.measure, &new.measure) != Order::Same;
    changed.then(|| PartChange {
        part: "measure",
        from: Some(old.doc.measure.text.clone()),
        to: Some(new.doc.measure.text.clone()),
        span: Some(new.doc.measure.span),
        strictness: Strictness::Incomparable,
    })
}

fn limit(part: &'static str, old: Side<'_>, new: Side<'_>) -> Option<PartChange> {
    let strictness = match (old, new) {
        (None, None) => Strictness::Same,
        (None, Some(_)) => Strictness::Stricter,
        (Some(_), None) => Strictness::Looser,
        (Some((old, _)), Some((new, _))) => {
            let lower = Strictness::of_lower_limit(of_formulas(old, new));
            if part == "at_least" { lower } else { lower.turned() }
        }
    };
    (strictness != Strictness::Same).then(|| PartChange {
        part,
        from: old.map(|(_, scalar)| scalar.text.clone()),
        to: new.map(|(_, scalar)| scalar.text.clone()),
        span: new.map(|(_, scalar)| scalar.span),
        strictness,
    })
}

/// A rule that applies more often is the stricter one.
fn when(old: &Rule, new: &Rule) -> Option<PartChange> {
    let strictness = match of_conditions(old.when.as_ref(), new.when.as_ref()) {
        Order::Same => return None,
        order => Strictness::of_lower_limit(order),
    };
    let text = |rule: &Rule| rule.doc.when.as_ref().map(|when| when.text.clone());
    let span = new.when.as_ref().map(|when: &Condition| when.span);
    Some(PartChange { part: "when", from: text(old), to: text(new), span, strictness })
}

fn force(old: &Rule, new: &Rule) -> Option<PartChange> {
    let (was, is) = (old.doc.force.value, new.doc.force.value);
    let strictness = match (was, is) {
        (Force::Should, Force::Shall) => Strictness::Stricter,
        (Force::Shall, Force::Should) => Strictness::Looser,
        _ => return None,
    };
    Some(PartChange {
        part: "force",
        from: Some(was.word().to_owned()),
        to: Some(is.word().to_owned()),
        span: Some(new.doc.force.span),
        strictness,
    })
}

fn decision(old: &Rule, new: &Rule) -> Option<PartChange> {
    let is_band = new.at_least.is_some() && new.at_most.is_some();
    let strictness = of_decisions(old.decision, new.decision, is_band);
    (strictness != Strictness::Same).then(|| PartChange {
        part: "decision",
        from: Some(decision_words(old.decision)),
        to: Some(decision_words(new.decision)),
        span: new.doc.decision.map(|word| word.span),
        strictness,
    })
}

/// One-sided probability that guarded acceptance asks for, at each limit by itself.
const GUARDED: f64 = 0.95;

/// What is left of it between two limits, where each is passed by with the rest of the probability.
const GUARDED_BETWEEN: f64 = 0.90;

/// The probability of conformity that has to be shown. At one limit all decision rules are of one kind: simple
/// acceptance asks for a half. At a band a probability is that of lying between both limits, which is no more
/// than at either, and no less than one minus what lies beyond both: guarded acceptance shows at least 90 % of it.
fn of_decisions(old: Decision, new: Decision, is_band: bool) -> Strictness {
    // Least and most probability of conformity that a decision rule can be content with.
    let range = |decision| match decision {
        Decision::Simple if is_band => (0.0, 0.5),
        Decision::Simple => (0.5, 0.5),
        Decision::Guarded if is_band => (GUARDED_BETWEEN, GUARDED),
        Decision::Guarded => (GUARDED, GUARDED),
        Decision::Probability(p) => (p, p),
    };
    if old == new {
        return Strictness::Same;
    }
    match (old, new) {
        (Decision::Simple, Decision::Guarded) => return Strictness::Stricter,
        (Decision::Guarded, Decision::Simple) => return Strictness::Looser,
        _ => {}
    }
    let ((old_low, old_high), (new_low, new_high)) = (range(old), range(new));
    if old_low >= new_high && old_high <= new_low {
        Strictness::Same
    } else if new_low >= old_high {
        Strictness::Stricter
    } else if old_low >= new_high {
        Strictness::Looser
    } else {
        Strictness::Incomparable
    }
}

fn decision_words(decision: Decision) -> String {
    match decision {
        Decision::Guarded => "guarded".to_owned(),
        Decision::Simple => "simple".to_owned(),
        Decision::Probability(p) => {
            // What was read as a share of a hundred is said as one, without the last bits of the division.
            let percent: f64 = format!("{:.9}", 100.0 * p).parse().unwrap_or(100.0 * p);
            format!("probability {percent} %")
        }
    }
}

/// Keys under which a rule only says otherwise what it asks, or is proven otherwise.
pub fn told_otherwise(old: &Rule, new: &Rule) -> Vec<&'static str> {
    let (was, is) = (words(old), words(new));
    was.into_iter().zip(is).filter(|(was, is)| was.1 != is.1).map(|(was, _)| was.0).collect()
}
