//! New cases tried: one input moved on until the rule and its alteration come to different verdicts.

use super::case::read;
use super::change::{Change, change_all};
use super::edit::plain;
use super::is_expected;
use super::notice::{Mutant, verdict, verdict_of};
use crate::document::dossier::Dossier;
use crate::model::Memo;
use crate::quantity::{ParsedQuantity, parse_quantity};
use crate::review::Sweep;
use crate::rule::Rule;
use crate::source::{Node, Scalar, Span, Value};
use crate::verdict::Verdict;
use std::sync::Arc;

/// Halvings between two tried values in search of one at which rule and alteration differ.
const HALVINGS: usize = 30;

/// Halvings from such a value to the ends of the stretch in which they differ.
const NARROWINGS: usize = 10;

/// Rule and alteration may differ by rounding alone, as where both stand on the limit; a stretch shorter than
/// this share of what was tried is no case to build on.
const LEAST_STRETCH: f64 = 1e-6;

/// What every trial needs.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ground<'a> {
    /// The rule as it stands.
    pub(super) rule: &'a Rule,
    /// What was computed already.
    pub(super) memo: &'a Arc<Memo>,
}

/// A case not yet written.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Draft {
    pub(super) fixture: String,
    pub(super) exact: bool,
    pub(super) set: Vec<(String, String)>,
    pub(super) dropped: Vec<String>,
}

/// A draft, judged by the rule as it stands.
#[derive(Debug)]
pub(super) struct Point {
    pub(super) draft: Draft,
    pub(super) verdict: Verdict,
    sweep: Sweep,
}

impl Point {
    pub(super) fn new(ground: Ground<'_>, draft: Draft, dossier: &Dossier) -> Option<Self> {
        let sweep = read(dossier, draft.exact, ground.memo).ok()?;
        Some(Self { draft, verdict: verdict(ground.rule, &sweep), sweep })
    }

    /// Whether an alteration comes to another verdict here than the rule.
    pub(super) fn differs(&self, mutant: &Mutant, rule: &Rule) -> bool {
        let altered = verdict_of(mutant, rule, &self.sweep);
        self.own().is_some_and(|own| !is_expected(altered, own))
    }
}

/// One input moved on, everything else left as a case has it.
#[derive(Debug)]
pub(super) struct Line {
    pub(super) draft: Draft,
    pub(super) dossier: Dossier,
    pub(super) path: String,
    pub(super) at: Span,
    /// The quantity as written before and behind its number.
    pub(super) around: (String, String),
    pub(super) parsed: ParsedQuantity,
    /// Values in SI base units to begin with, ascending.
    pub(super) values: Vec<f64>,
    pub(super) tried: Option<Vec<(f64, Point)>>,
}

impl Line {
    /// A value, in SI base units, with so many digits.
    fn text(&self, value: f64, digits: usize) -> String {
        let number = plain(self.parsed.unit.from_si(value), digits);
        format!("{}{number}{}", self.around.0, self.around.1)
    }

    fn point(&self, ground: Ground<'_>, text: String) -> Option<Point> {
        let to = Some(written(&text, self.at));
        let change = Change { path: self.path.clone(), at: self.at, to };
        let dossier = change_all(&self.dossier, &[change]).ok()?;
        let mut draft = self.draft.clone();
        draft.set.push((self.path.clone(), text));
        Point::new(ground, draft, &dossier)
    }

    fn at(&self, ground: Ground<'_>, value: f64) -> Option<Point> {
        self.point(ground, self.text(value, 12))
    }

    /// A point at which an alteration differs from the rule, well inside the stretch where it does.
    pub(super) fn find(&mut self, ground: Ground<'_>, mutant: &Mutant) -> Option<Point> {
        let tried = self.tried.take().unwrap_or_else(|| {
            self.values.iter().filter_map(|v| Some((*v, self.at(ground, *v)?))).collect()
        });
        let stretch = self.stretch(ground, mutant, &tried);
        self.tried = Some(tried);
        let (from, to) = stretch?;
        let (centre, room) = (f64::midpoint(from, to), (to - from) / 4.0);
        (2..=12)
            .map(|digits| self.text(centre, digits))
            .filter(|text| self.value_of(text).is_some_and(|v| (v - centre).abs() <= room))
            .filter_map(|text| self.point(ground, text))
            .find(|point| point.differs(mutant, ground.rule))
    }

    fn value_of(&self, text: &str) -> Option<f64> {
        parse_quantity(&scalar(text, self.at)).ok().map(|parsed| parsed.value)
    }

    /// The ends of a stretch of values in which an alteration differs.
    fn stretch(
        &self,
        ground: Ground<'_>,
        mutant: &Mutant,
        tried: &[(f64, Point)],
    ) -> Option<(f64, f64)> {
        let differs = |point: &Point| point.differs(mutant, ground.rule);
        let least = match (tried.first(), tried.last()) {
            (Some((low, _)), Some((high, _))) => LEAST_STRETCH * (high - low),
            _ => return None,
        };
        let hits = tried.iter().enumerate().filter(|(_, (_, point))| differs(point));
        let mut found = hits.map(|(hit, (value, _))| {
            let same = |(v, point): &(f64, Point)| (!differs(point)).then_some(*v);
            let before = tried.get(..hit).and_then(|list| list.iter().rev().find_map(same));
            let behind = tried.get(hit + 1..).and_then(|list| list.iter().find_map(same));
            let edge = |same: f64| self.edge(ground, mutant, *value, same);
            (before.map_or(*value, edge), behind.map_or(*value, edge))
        });
        if let Some(stretch) = found.find(|(low, high)| high - low > least) {
            return Some(stretch);
        }
        let pairs = tried.iter().zip(tried.iter().skip(1));
        pairs.filter(|((_, a), (_, b))| a.verdict != b.verdict).find_map(|((a, left), (b, _))| {
            let (mut low, mut high) = (*a, *b);
            for _ in 0..HALVINGS {
                let middle = f64::midpoint(low, high);
                let point = self.at(ground, middle)?;
                if differs(&point) {
                    let low = self.edge(ground, mutant, middle, low);
                    let high = self.edge(ground, mutant, middle, high);
                    return (high - low > least).then_some((low, high));
                }
                if point.verdict == left.verdict {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            None
        })
    }

    /// The last value that differs on the way to one that does not.
    fn edge(&self, ground: Ground<'_>, mutant: &Mutant, differs: f64, same: f64) -> f64 {
        let (mut inside, mut outside) = (differs, same);
        for _ in 0..NARROWINGS {
            let middle = f64::midpoint(inside, outside);
            let point = self.at(ground, middle);
            if point.is_some_and(|point| point.differs(mutant, ground.rule)) {
                inside = middle;
            } else {
                outside = middle;
            }
        }
        inside
    }
}

pub(super) fn written(text: &str, at: Span) -> Node {
    Node { span: at, defined: at, value: Value::Scalar(scalar(text, at)) }
}

fn scalar(text: &str, at: Span) -> Scalar {
    Scalar { text: text.to_owned(), span: at, verbatim_at: None, plain: true }
}
