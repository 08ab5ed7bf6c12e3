//! Where to look for a case that is missing: along an input that the rule's cases change, or at a fixture with a
//! part left out.

use super::case::{Prepared, Trial};
use super::change::{Change, change_all};
use super::edit::in_unit;
use super::search::{Draft, Ground, Line, Point, written};
use crate::measure::ObjectKind;
use crate::quantity::{StatedUncertainty, parse_quantity};
use crate::source::{Node, Sources};
use std::collections::BTreeSet;

/// The inputs that the cases change: as they are written, with an uncertainty where none is, together with
/// what other cases on the same fixture change, and against another baseline.
pub(super) fn lines(sources: &Sources, trials: &[&Trial]) -> Vec<Line> {
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
    for trial in trials {
        for (path, node) in &trial.doc.set {
            add(on_another_baseline(sources, trials, trial, (&path.text, node)));
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

/// An input moved on against a baseline pan that has it as the case has: for rules that compare with one.
fn on_another_baseline(
    sources: &Sources,
    trials: &[&Trial],
    trial: &Trial,
    (path, node): (&str, &Node),
) -> Option<Line> {
    let first = path.split('.').next()?;
    if trial.dossier.baselines.is_empty() || ["vehicle", "oil", "duty", "baseline"].contains(&first)
    {
        return None;
    }
    let mut line = line(sources, trials, trial, (path, node), false)?;
    let there = format!("baseline.{path}");
    let change = Change { path: there.clone(), at: node.span, to: Some(node.clone()) };
    line.dossier = change_all(&line.dossier, &[change]).ok()?;
    line.draft.set.push((there, sources.slice(node.span).to_owned()));
    Some(line)
}

fn line(
    sources: &Sources,
    trials: &[&Trial],
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
fn values(trials: &[&Trial], fixture: &str, path: &str) -> Vec<f64> {
    let set = trials.iter().filter(|t| t.doc.fixture.text == fixture).flat_map(|t| &t.doc.set);
    let values = set
        .filter(|(own, _)| own.text == path)
        .filter_map(|(_, node)| parse_quantity(node.scalar()?).ok().map(|parsed| parsed.value));
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
pub(super) fn points(ground: Ground<'_>, trials: &[&Trial], plain: &[Prepared]) -> Vec<Point> {
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
        let mut drafts =
            vec![(blank.clone(), None), (Draft { exact: true, ..blank.clone() }, None)];
        for path in &paths {
            let none = vec![(path.clone(), "none".to_owned())];
            let change = |to| Some(Change { path: path.clone(), at, to });
            drafts.push((Draft { set: none, ..blank.clone() }, change(Some(written("none", at)))));
            drafts.push((Draft { dropped: vec![path.clone()], ..blank.clone() }, change(None)));
        }
        for (draft, change) in drafts {
            let changes: Vec<Change> = change.into_iter().collect();
            if let Ok(dossier) = change_all(dossier, &changes) {
                all.extend(Point::new(ground, draft, &dossier));
            }
        }
    }
    all
}
