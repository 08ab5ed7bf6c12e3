//! Along the line of one input: how far it has to go until the rule is held with the guard taken off.

use crate::measure::{Bounds, ObjectKind, Unknown};
use crate::quantity::Input;
use crate::review::{Finding, LimitSide, Situation, Sweep, margin_at};
use crate::rule::Rule;
use crate::source::Span;
use core::cmp::Ordering;

/// How often the step is lengthened while the limit is not reached.
const LENGTHENED: usize = 6;
/// How often the bracket is halved: to a thousandth of it.
const HALVED: usize = 10;

/// A rule on an object, as a function of one value at a time.
pub(super) struct Line<'a> {
    pub(super) rule: &'a Rule,
    pub(super) finding: &'a Finding,
    pub(super) key: Option<(ObjectKind, usize)>,
    pub(super) sweep: &'a Sweep,
}

/// An input and how far it would have to go by first order.
pub(super) struct Estimate {
    pub(super) span: Span,
    pub(super) steps: f64,
}

/// An input and how far it goes, in steps of its own, with sign.
#[derive(Clone, Copy)]
pub(super) struct Candidate<'a> {
    pub(super) input: &'a Input,
    pub(super) steps: f64,
}

impl<'a> Candidate<'a> {
    pub(super) fn new(input: &'a Input, steps: f64) -> Self {
        Self { input, steps }
    }

    /// Its standard uncertainty, or one unit of its last digit where it is taken as exact.
    pub(super) fn step(&self) -> f64 {
        if self.input.u > 0.0 { self.input.u } else { self.input.last_digit }
    }

    /// The lesser change first, then by path.
    pub(super) fn nearer(&self, other: &Self) -> Ordering {
        self.steps
            .abs()
            .total_cmp(&other.steps.abs())
            .then_with(|| self.input.path.cmp(&other.input.path))
    }
}

impl Line<'_> {
    /// How far inside the limits the rule lies with the guard of the stated values taken off, in SI base units.
    fn worth(&self, situation: &Situation) -> Result<Bounds, Unknown> {
        let mut least: Option<f64> = None;
        for limit in &self.finding.limits {
            let formula = match limit.side {
                LimitSide::AtLeast => self.rule.at_least.as_ref(),
                LimitSide::AtMost => self.rule.at_most.as_ref(),
            };
            let Some(formula) = formula else { continue };
            let margin = margin_at((&self.rule.measure, formula), limit.side, situation, self.key)?;
            let worth = margin.low - limit.guard.unwrap_or(0.0);
            if least.is_none_or(|least| worth < least) {
                least = Some(worth);
            }
        }
        least.map(Bounds::exactly).ok_or_else(|| Unknown::because("the rule has no limit"))
    }

    /// Every input that moves the rule, with the steps that first order asks of it.
    pub(super) fn estimates(&self, wanted: impl Fn(&Input) -> bool) -> Vec<Estimate> {
        let Ok(now) = self.worth(&self.sweep.nominal) else { return Vec::new() };
        if !now.low.is_finite() {
            return Vec::new();
        }
        let wanted = |span: Span| {
            self.sweep.inputs().iter().any(|input| input.span == span && wanted(input))
        };
        let uncertain = self.sweep.propagate(|situation| self.worth(situation));
        let mut moved = uncertain.map_or_else(|_| Vec::new(), |(_, moved)| moved);
        moved.extend(self.sweep.last_digits(|situation| self.worth(situation)));
        moved
            .iter()
            .filter(|contribution| wanted(contribution.span))
            .map(|c| Estimate { span: c.span, steps: -now.low / c.effect })
            .filter(|estimate| estimate.steps.is_finite())
            .collect()
    }

    /// The candidate taken as far as the limit and `beyond` ask; nothing where that is not reached.
    pub(super) fn reach<'c>(&self, candidate: Candidate<'c>, beyond: f64) -> Option<Candidate<'c>> {
        let step = candidate.step();
        let inside = |steps: f64| {
            let situation = self.sweep.moved_by(candidate.input.span, steps * step);
            self.worth(&situation).is_ok_and(|worth| worth.low - beyond >= 0.0)
        };
        let (mut short, mut far) = (0.0, candidate.steps);
        let mut lengthened = 0;
        while !inside(far) {
            if lengthened == LENGTHENED {
                return None;
            }
            lengthened += 1;
            short = far;
            far *= 1.5;
        }
        for _ in 0..HALVED {
            let middle = f64::midpoint(short, far);
            if inside(middle) {
                far = middle;
            } else {
                short = middle;
            }
        }
        Some(Candidate { steps: far, ..candidate })
    }
}
