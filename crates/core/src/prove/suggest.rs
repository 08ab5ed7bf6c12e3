//! A case that would notice an alteration: written out where one can be found, else in words.

use super::candidates::{lines, points};
use super::case::{Prepared, Trial};
use super::notice::Mutant;
use super::search::{Draft, Ground, Line, Point};
use super::{AlterationKind, Suggestion, expectation};
use crate::document::rulebook::Expected;
use crate::source::Sources;

/// Looks for cases that are missing; what it made for one alteration serves the next.
pub(super) struct Search<'a> {
    ground: Ground<'a>,
    sources: &'a Sources,
    trials: Vec<&'a Trial>,
    plain: &'a [Prepared],
    /// Points that a suggestion names already.
    named: Vec<(Point, String)>,
    lines: Option<Vec<Line>>,
    points: Option<Vec<Point>>,
}

impl<'a> Search<'a> {
    pub(super) fn new(
        ground: Ground<'a>,
        sources: &'a Sources,
        trials: Vec<&'a Trial>,
        plain: &'a [Prepared],
    ) -> Self {
        Self { ground, sources, trials, plain, named: Vec::new(), lines: None, points: None }
    }

    /// What would notice an alteration that no case notices.
    pub(super) fn suggestion(&mut self, kind: AlterationKind, mutant: &Mutant) -> Suggestion {
        let rule = self.ground.rule;
        if let Some((_, text)) = self.named.iter().find(|(p, _)| p.differs(mutant, rule)) {
            return Suggestion::Case(text.clone());
        }
        match self.find(mutant) {
            Some(point) => {
                let text = point.own().map_or_else(String::new, |own| line_of(&point.draft, own));
                self.named.push((point, text.clone()));
                Suggestion::Case(text)
            }
            None => Suggestion::Words(words(kind)),
        }
    }

    fn find(&mut self, mutant: &Mutant) -> Option<Point> {
        let (ground, rule) = (self.ground, self.ground.rule);
        let lines = self.lines.get_or_insert_with(|| lines(self.sources, &self.trials));
        if let Some(found) = lines.iter_mut().find_map(|line| line.find(ground, mutant)) {
            return Some(found);
        }
        let points = self.points.get_or_insert_with(|| points(ground, &self.trials, self.plain));
        let at = points.iter().position(|point| point.differs(mutant, rule))?;
        Some(points.swap_remove(at))
    }
}

impl Point {
    /// What the rule as it stands comes to there, in the word of a case.
    pub(super) fn own(&self) -> Option<Expected> {
        expectation(self.verdict)
    }
}

/// A case as one line of a rulebook.
pub(super) fn line_of(draft: &Draft, expect: Expected) -> String {
    let mut parts = vec![format!("fixture: {}", draft.fixture)];
    if draft.exact {
        parts.push("exact: true".to_owned());
    }
    if !draft.set.is_empty() {
        let set: Vec<String> = draft.set.iter().map(|(path, to)| format!("{path}: {to}")).collect();
        parts.push(format!("set: {{ {} }}", set.join(", ")));
    }
    match draft.dropped.as_slice() {
        [] => {}
        [one] => parts.push(format!("drop: {one}")),
        several => parts.push(format!("drop: [{}]", several.join(", "))),
    }
    parts.push(format!("expect: {}", expect.words()));
    format!("- {{ {} }}", parts.join(", "))
}

/// What kind of case is missing.
fn words(kind: AlterationKind) -> &'static str {
    match kind {
        AlterationKind::Number => {
            "a case within the pin of this number, on the side to which it was moved"
        }
        AlterationKind::Comparison | AlterationKind::Unit => "cases on both sides of this limit",
        AlterationKind::Condition => {
            "a case in which this condition is met and one in which it is not, both with a reading of the measure"
        }
        AlterationKind::Measure => {
            "a case in which the two measures lie on different sides of the limit; where they can never, \
             declare the alteration equivalent"
        }
        AlterationKind::Baseline => "a case on another baseline, near the limit",
        AlterationKind::Force => "a case that breaches the limit",
        AlterationKind::Rule => "a case in which the rule applies",
        AlterationKind::Uncertainty => {
            "a case whose stated uncertainty just reaches across the limit, and one where it just does not"
        }
        AlterationKind::Unknown => "a case in which something that the measure needs is left out",
    }
}
