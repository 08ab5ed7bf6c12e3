//! What counts against a pan, in the few words by which it is known again: rule, object, path in the description,
//! verdict and value. No line, no day and no version is among them.

use crate::document::dossier::tidy;
use crate::document::reader::kind_of;
use crate::document::{DocumentKind, known::KnownFinding};
use crate::quantity::{Unit, print_in};
use crate::review::{Finding, LimitSide, PanReview, gravity};
use crate::source::{FileId, Node, Sources, Span, Value, parse};
use crate::verdict::Verdict;
use std::collections::BTreeMap;

/// A finding that counts against a pan.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Against {
    pub(super) rule: String,
    pub(super) object: Option<String>,
    /// Dotted path of the value that it points at.
    pub(super) at: String,
    pub(super) verdict: Verdict,
    pub(super) value: Option<Reached>,
    /// The limits, where they have a value.
    pub(super) limits: Vec<(LimitSide, f64)>,
}

/// A value, in SI base units and as it is written down.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Reached {
    pub(super) si: f64,
    pub(super) text: String,
}

/// What makes a finding one that was not known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Worse {
    /// Its verdict is graver.
    Verdict,
    /// Its value is further outside the limit.
    Value,
    /// There is no value any more.
    NoValue,
}

impl Against {
    /// A finding of a pan, if it counts against it.
    pub(super) fn of(finding: &Finding, paths: &mut Paths<'_>) -> Option<Self> {
        if !finding.is_against() {
            return None;
        }
        let limits: Vec<(LimitSide, f64)> = finding
            .limits
            .iter()
            .filter_map(|limit| Some((limit.side, limit.value?.bounds.value()?)))
            .collect();
        Some(Self {
            rule: finding.rule.clone(),
            object: finding.object.clone(),
            at: paths.of(finding.subject),
            verdict: finding.verdict,
            value: reached(finding, &limits),
            limits,
        })
    }

    /// Why it is worse than what is known of it; nothing where it is not.
    pub(super) fn worse_than(&self, known: &KnownFinding) -> Option<Worse> {
        let then = if known.verdict.text == Verdict::DoesNotConform.words() {
            Verdict::DoesNotConform
        } else {
            Verdict::Inconclusive
        };
        if gravity(self.verdict) > gravity(then) {
            return Some(Worse::Verdict);
        }
        let then = known.value.as_ref()?;
        let Some(now) = &self.value else { return Some(Worse::NoValue) };
        let outwards = outside(&self.limits, now.si)? - outside(&self.limits, then.value)?;
        // It is written with so many digits: within half a unit of the last it is the same. What is not shown to be
        // no worse, is worse.
        let no_worse = outwards <= 0.5 * then.last_digit * (1.0 + 1e-9);
        (!no_worse).then_some(Worse::Value)
    }
}

/// How far outside the limit that it breaks most a value lies; negative inside.
fn outside(limits: &[(LimitSide, f64)], value: f64) -> Option<f64> {
    let each = limits.iter().map(|(side, limit)| match side {
        LimitSide::AtLeast => limit - value,
        LimitSide::AtMost => value - limit,
    });
    each.max_by(f64::total_cmp)
}

/// The value of a finding, or the worse of its bounds, with as many digits as its uncertainty deserves.
fn reached(finding: &Finding, limits: &[(LimitSide, f64)]) -> Option<Reached> {
    let reading = finding.reading?;
    let ends = [(reading.bounds.low, reading.u_low), (reading.bounds.high, reading.u_high)];
    let finite = ends.into_iter().filter(|(end, _)| end.is_finite());
    let far = |end: f64| outside(limits, end).unwrap_or(0.0);
    let (si, u) = finite.max_by(|(a, _), (b, _)| far(*a).total_cmp(&far(*b)))?;
    let unit = Unit::for_value(finding.dimension, si);
    Some(Reached { si, text: print_in(si, u, &unit) })
}

/// Everything that counts against a pan, in the order of its findings.
pub(super) fn of_pan(pan: &PanReview, sources: &Sources) -> Vec<Against> {
    let mut paths = Paths::new(&pan.path, sources);
    pan.findings.iter().filter_map(|finding| Against::of(finding, &mut paths)).collect()
}

/// The dotted paths of places in the documents of one pan.
#[derive(Debug)]
pub(super) struct Paths<'a> {
    pan: String,
    sources: &'a Sources,
    trees: BTreeMap<FileId, Option<Node>>,
}

impl<'a> Paths<'a> {
    pub(super) fn new(pan: &str, sources: &'a Sources) -> Self {
        Self { pan: tidy(pan), sources, trees: BTreeMap::new() }
    }

    /// The path of a place, with the document before it where it is not the pan: `vehicle.check.level`. The kind of
    /// the document alone where a place stands for the whole of it.
    pub(super) fn of(&mut self, span: Span) -> String {
        let sources = self.sources;
        let read = || parse(sources, span.file, &mut Vec::new());
        let tree = self.trees.entry(span.file).or_insert_with(read);
        let kind = tree.as_ref().and_then(kind_of);
        let prefix = match kind {
            Some(DocumentKind::Pan) if tidy(sources.path(span.file)) != self.pan => "baseline",
            Some(DocumentKind::Pan) | None => "",
            Some(kind) => kind.key(),
        };
        let mut words: Vec<String> = Vec::new();
        if let Some(node) = tree {
            down(node, span, &mut words);
        }
        // The first key stands for the whole document.
        let whole = kind.is_some_and(|kind| words == [kind.key()]);
        if whole || words.is_empty() {
            let kind = kind.map_or("pan", DocumentKind::key);
            return if prefix == "baseline" { prefix.to_owned() } else { kind.to_owned() };
        }
        if !prefix.is_empty() {
            words.insert(0, prefix.to_owned());
        }
        words.join(".")
    }
}

/// Goes down to the smallest thing that a place lies in.
fn down(node: &Node, span: Span, words: &mut Vec<String>) {
    let holds =
        |outer: Span| outer.file == span.file && outer.start <= span.start && span.end <= outer.end;
    let inside = |node: &Node| holds(node.span) || holds(node.defined);
    match &node.value {
        Value::Mapping(entries) => {
            let found = entries.iter().find(|e| holds(e.key.span) || inside(&e.value));
            if let Some(entry) = found {
                words.push(entry.key.text.clone());
                down(&entry.value, span, words);
            }
        }
        Value::Sequence(items) => {
            let found = items.iter().enumerate().find(|(_, item)| inside(item));
            if let Some((number, item)) = found {
                words.push(number.to_string());
                down(item, span, words);
            }
        }
        Value::Null | Value::Scalar(_) => {}
    }
}
