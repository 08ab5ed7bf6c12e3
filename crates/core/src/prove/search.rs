//! New cases tried: an input that the rule's cases change moved on, or a part of the fixture left out.

use super::case::{Prepared, Trial, read};
use super::change::{Change, change_all};
use super::edit::{in_unit, plain};
use super::is_expected;
use super::notice::{Mutant, verdict, verdict_of};
use crate::document::dossier::Dossier;
use crate::measure::ObjectKind;
use crate::model::Memo;
use crate::quantity::{ParsedQuantity, StatedUncertainty, parse_quantity};
use crate::review::Sweep;
use crate::rule::Rule;
use crate::source::{FileId, Node, Scalar, Sources, Span, Value};
use crate::verdict::Verdict;
use std::collections::BTreeSet;
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
    /// The text that it stands in.
    pub(super) book: FileId,
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
    fn new(ground: Ground<'_>, draft: Draft, dossier: &Dossier) -> Option<Self> {
        let sweep = read(dossier, draft.exact, ground.book, ground.memo).ok()?;
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
    draft: Draft,
    dossier: Dossier,
    path: String,
    at: Span,
    /// The quantity as written before and behind its number.
    around: (String, String),
    parsed: ParsedQuantity,
    /// Values in SI base units to begin with, ascending.
    values: Vec<f64>,
    tried: Option<Vec<(f64, Point)>>,
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
        let dossier = change_all(&self.dossier, &[change], ground.book).ok()?;
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

/// The inputs that the cases change: as they are written, with an uncertainty where none is, and together with
/// what other cases on the same fixture change.
pub(super) fn lines(sources: &Sources, trials: &[Trial]) -> Vec<Line> {
    let mut all: Vec<Line> = Vec::new();
    let mut seen = BTreeSet::new();
    let mut add = |line: Option<Line>| {
        if let Some(line) = line
            && seen.insert((line.draft.clone(), line.path.clone(), line.around.clone()))
        {
            all.push(line);
        }
    };
    for widened in [false, true] {
        for trial in trials {
            for (path, node) in &trial.doc.set {
                add(line(sources, trials, trial, (&path.text, node), widened));
            }
        }
    }
    for trial in trials {
        for other in trials.iter().filter(|o| o.doc.fixture.text == trial.doc.fixture.text) {
            for (path, node) in &other.doc.set {
                let changed = draft(sources, trial, "");
                let meets = |own: &str| leads(own, &path.text) || leads(&path.text, own);
                let own = changed.set.iter().map(|(own, _)| own).chain(&changed.dropped);
                if own.clone().count() > 0 && !own.into_iter().any(|own| meets(own)) {
                    add(line(sources, trials, trial, (&path.text, node), false));
                }
            }
        }
    }
    all
}

/// Whether one path is the other or the beginning of it.
fn leads(short: &str, long: &str) -> bool {
    long.strip_prefix(short).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
}

fn draft(sources: &Sources, trial: &Trial, without: &str) -> Draft {
    let set = trial.doc.set.iter().filter(|(path, _)| path.text != without);
    Draft {
        fixture: trial.doc.fixture.text.clone(),
        exact: trial.doc.exact,
        set: set.map(|(path, to)| (path.text.clone(), sources.slice(to.span).to_owned())).collect(),
        dropped: trial.doc.dropped.iter().map(|path| path.text.clone()).collect(),
    }
}

fn line(
    sources: &Sources,
    trials: &[Trial],
    trial: &Trial,
    (path, node): (&str, &Node),
    widened: bool,
) -> Option<Line> {
    let written = node.scalar()?;
    let parsed = parse_quantity(written).ok()?;
    let before = written.text.get(..parsed.number_range.start)?.to_owned();
    let behind = written.text.get(parsed.number_range.end..)?;
    let behind = if widened {
        if parsed.uncertainty != StatedUncertainty::Nothing {
            return None;
        }
        let width = in_unit(parsed.value.abs() / 100.0, &parsed.unit, 2);
        format!(" ± {width}")
    } else {
        behind.to_owned()
    };
    let fixture = &trial.doc.fixture.text;
    Some(Line {
        draft: draft(sources, trial, path),
        dossier: trial.dossier.clone(),
        path: path.to_owned(),
        at: node.span,
        around: (before, behind),
        values: values(trials, fixture, path),
        parsed,
        tried: None,
    })
}

/// The values that cases on a fixture give to one input, those between them, and some beyond.
fn values(trials: &[Trial], fixture: &str, path: &str) -> Vec<f64> {
    let set = trials.iter().filter(|t| t.doc.fixture.text == fixture).flat_map(|t| &t.doc.set);
    let values = set.filter(|(own, _)| own.text == path).filter_map(|(_, node)| {
        parse_quantity(node.scalar()?).ok().map(|parsed| parsed.value)
    });
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    values.dedup();
    let (Some(low), Some(high)) = (values.first().copied(), values.last().copied()) else {
        return values;
    };
    let share = if high.abs() > low.abs() { high.abs() } else { low.abs() } / 50.0;
    let span = if high - low > share { high - low } else { share };
    let between: Vec<f64> =
        values.iter().zip(values.iter().skip(1)).map(|(a, b)| f64::midpoint(*a, *b)).collect();
    values.extend(between);
    for far in [0.25, 1.0, 4.0, 16.0] {
        values.extend([low - far * span, high + far * span]);
    }
    values.sort_by(f64::total_cmp);
    values
}

/// The fixtures as they are, and with each part left out or said to be none that the rule asks for or its cases
/// change.
pub(super) fn points(ground: Ground<'_>, trials: &[Trial], plain: &[Prepared]) -> Vec<Point> {
    let mut paths: BTreeSet<String> = BTreeSet::new();
    if let Some(when) = &ground.rule.when {
        let read = when.paths().into_iter().filter(|path| path.each.is_none());
        paths.extend(read.map(|path| path.written.clone()));
    }
    if ground.rule.kind != ObjectKind::Pan {
        paths.insert(ground.rule.kind.family().to_owned());
    }
    for path in trials.iter().flat_map(|t| &t.doc.set).map(|(path, _)| &path.text) {
        paths.extend(path.split('.').next().map(str::to_owned));
    }
    let mut all = Vec::new();
    for prepared in plain {
        let Ok(dossier) = &prepared.dossier else { continue };
        let fixture = &prepared.doc.fixture.text;
        let at = prepared.doc.span;
        let blank = Draft { fixture: fixture.clone(), exact: false, set: vec![], dropped: vec![] };
        let mut drafts = vec![(blank.clone(), None), (Draft { exact: true, ..blank.clone() }, None)];
        for path in &paths {
            let none = vec![(path.clone(), "none".to_owned())];
            let change = |to| Some(Change { path: path.clone(), at, to });
            drafts.push((Draft { set: none, ..blank.clone() }, change(Some(written("none", at)))));
            drafts.push((Draft { dropped: vec![path.clone()], ..blank.clone() }, change(None)));
        }
        for (draft, change) in drafts {
            let changes: Vec<Change> = change.into_iter().collect();
            if let Ok(dossier) = change_all(dossier, &changes, ground.book) {
                all.extend(Point::new(ground, draft, &dossier));
            }
        }
    }
    all
}

fn written(text: &str, at: Span) -> Node {
    Node { span: at, defined: at, value: Value::Scalar(scalar(text, at)) }
}

fn scalar(text: &str, at: Span) -> Scalar {
    Scalar { text: text.to_owned(), span: at, verbatim_at: None, plain: true }
}
