//! The least single change of a pan that would make a rule conform, found by computation and tried on the text.
//!
//! A value is searched along its own line with the guard of the stated values; what is found is rounded outward,
//! written into the document, and the whole rulebook is judged again on that text, uncertainty and all. Only what
//! stands that is called a change.

mod search;
mod tried;
mod written;

use crate::measure::{ObjectKind, Unknown};
use crate::quantity::Input;
use crate::review::{
    Change, Costly, Finding, PanReview, Remedy, Request, Review, Situation, Sweep, review_then,
};
use crate::rule::{Rule, Rulebook, Scope};
use crate::source::{Files, Sources};
use crate::verdict::Verdict;
use search::{Candidate, Line};
use tried::{Trial, tried};

/// How many values are followed to the limit for one finding: those that the first-order estimate puts nearest.
const NEAR: usize = 16;
/// How many of those that reach it are written and judged.
const CANDIDATES: usize = 5;
/// How often a found value is pushed on because the guard grew on the way.
const PUSHES: usize = 3;
/// Rounding of a corner's place, in metres.
const ROUNDING: f64 = 1e-9;
/// How many changes with a cost are told: the least alone, for the next are larger still.
const COSTLY: usize = 1;

/// As [`crate::review::review`], with a computed change, or why there is none, beside each finding of what does not
/// conform.
pub fn review(request: Request<'_>) -> Review {
    review_then(request, |rulebook, sources, sweep, pan| {
        let found: Vec<Option<Remedy>> = {
            let seeker = Seeker { files: request.files, rulebook, sources, sweep, pan };
            pan.findings.iter().map(|finding| seeker.remedy(finding)).collect()
        };
        for (finding, remedy) in pan.findings.iter_mut().zip(found) {
            finding.computed = remedy;
        }
    })
}

struct Seeker<'a> {
    files: &'a dyn Files,
    rulebook: &'a Rulebook,
    sources: &'a Sources,
    sweep: &'a Sweep,
    pan: &'a PanReview,
}

impl Seeker<'_> {
    fn remedy(&self, finding: &Finding) -> Option<Remedy> {
        if !matches!(finding.verdict, Verdict::DoesNotConform | Verdict::Advisory) {
            return None;
        }
        let rule = self.rulebook.rules.iter().find(|rule| rule.doc.id.text == finding.rule)?;
        let line = Line { rule, finding, key: self.key(rule, finding).ok()?, sweep: self.sweep };
        let candidates = self.candidates(&line);
        let mut costly: Vec<Costly> = Vec::new();
        for candidate in &candidates {
            let Some((change, trial)) = self.change(&line, candidate) else { continue };
            if trial.turned.is_empty() {
                return Some(Remedy::Change(change));
            }
            costly.push(Costly { change, turned: trial.turned });
        }
        if !costly.is_empty() {
            costly.truncate(COSTLY);
            return Some(Remedy::AtACost(costly));
        }
        let outside = finding.contributions.iter().find(|c| !of_pan_document(&c.path));
        Some(Remedy::NotFound { tried: candidates.len(), outside: outside.map(|c| c.path.clone()) })
    }

    /// The object of a finding as formulas ask for it.
    fn key(&self, rule: &Rule, finding: &Finding) -> Result<Option<(ObjectKind, usize)>, Unknown> {
        let Some(object) = &finding.object else { return Ok(None) };
        let names = self.sweep.nominal.objects(rule.kind)?;
        let family = rule.kind.family();
        let index = names.iter().position(|name| *object == format!("{family}.{name}"));
        let index = index.ok_or_else(|| Unknown::because("the object is not there"))?;
        Ok(Some((rule.kind, index)))
    }

    /// The values of the pan that reach the limit, the least change first.
    fn candidates(&self, line: &Line<'_>) -> Vec<Candidate<'_>> {
        let mut near: Vec<Candidate<'_>> = line
            .estimates(|input| self.may_change(input))
            .into_iter()
            .filter_map(|estimate| {
                let input = self.sweep.inputs().iter().find(|i| i.span == estimate.span)?;
                self.may_change(input).then(|| Candidate::new(input, estimate.steps))
            })
            .collect();
        near.sort_by(Candidate::nearer);
        near.truncate(NEAR);
        let reaching = near.into_iter().filter_map(|candidate| line.reach(candidate, 0.0));
        let reaching = reaching.filter(|candidate| self.stays_on_its_rail(candidate));
        let mut reached: Vec<Candidate<'_>> = reaching.take(CANDIDATES).collect();
        reached.sort_by(Candidate::nearer);
        reached
    }

    /// A candidate as a change of the text under which the rule conforms, and what else that does.
    fn change(&self, line: &Line<'_>, candidate: &Candidate<'_>) -> Option<(Change, Trial)> {
        let (mut candidate, mut beyond) = (*candidate, 0.0);
        for _ in 0..PUSHES {
            let change = written::change(self.sources, &candidate)?;
            let text = written::applied(self.sources, &change)?;
            let trial = tried(self.files, self.pan, self.rulebook, line.finding, &text)?;
            if trial.conforms {
                return Some((change, trial));
            }
            // The uncertainty is larger there than at the stated values: the difference is asked for on top.
            beyond += trial.short? * 1.05;
            candidate = line.reach(candidate, beyond)?;
        }
        None
    }

    /// Whether the pan reaches no farther beyond its rail than it does as stated: what is wider than its own flange is no
    /// change to consider.
    fn stays_on_its_rail(&self, candidate: &Candidate<'_>) -> bool {
        let by = candidate.steps * candidate.step();
        let moved = self.sweep.moved_by(candidate.input.span, by);
        match (beyond_rail(&self.sweep.nominal), beyond_rail(&moved)) {
            (Ok(stated), Ok(moved)) => moved <= stated + ROUNDING,
            _ => true,
        }
    }

    /// Whether a change of this value would be a change of the pan: not of what carries it, of what the transmission
    /// sets, of a property that comes with the alloy, or of what is only assumed and wants measuring.
    fn may_change(&self, input: &Input) -> bool {
        let fixed = ["interior.rail", "material.", "check.", "instruments.", "object."];
        of_pan_document(&input.path)
            && !input.assumed
            && !fixed.iter().any(|start| input.path.starts_with(start))
            && self.sources.path(input.span.file) == self.pan.path
    }
}

/// How far a pan reaches beyond its rail in plan, in metres; negative where it stays within.
fn beyond_rail(situation: &Situation) -> Result<f64, Unknown> {
    let scene = situation.own.scene()?;
    let [low, high] = scene.rail()?.bounds();
    scene.with_terrain(|terrain| {
        let beyond = terrain.mesh().points.iter().map(|point| {
            let plan = point.truncate();
            (plan - high).max(low - plan).max_element()
        });
        Ok(beyond.fold(f64::NEG_INFINITY, |a, b| if b > a { b } else { a }))
    })
}

/// Whether a path is one of the pan's own document.
fn of_pan_document(path: &str) -> bool {
    let first = path.split('.').next().unwrap_or("");
    !matches!(first, "vehicle" | "oil" | "duty" | "baseline")
}
