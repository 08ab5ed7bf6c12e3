//! One rule on one pan: condition, measure, limits, margin, verdict, and the chain that leads to it.

use super::situation::Situation;
use super::sweep::Sweep;
use super::{Contribution, Finding, LimitReading, LimitSide, Need, Reading};
use crate::document::field_of_path;
use crate::document::rulebook::Force;
use crate::measure::{Bounds, ObjectKind, Sample, Unknown};
use crate::quantity::Missing;
use crate::rule::{Formula, FormulaKind, Function, Rule, Scope, Truth, evaluate, judge_condition};
use crate::source::{Scalar, Span};
use crate::verdict::{Margin, Standing, Verdict, decide, guard_factor};

/// How many inputs are named as worth measuring next.
const NEEDS: usize = 3;

/// The findings of a rule on a pan: one for the pan, or one for each object.
pub(crate) fn judge(rule: &Rule, sweep: &Sweep) -> Vec<Finding> {
    let objects = match sweep.nominal.objects(rule.kind) {
        Ok(objects) => objects,
        Err(unknown) => return vec![Judged { rule, sweep, object: None }.unknown(&unknown)],
    };
    if objects.is_empty() {
        let judged = Judged { rule, sweep, object: None };
        return vec![
            judged.not_applicable(format!("the pan says that it has no {}", rule.kind.family())),
        ];
    }
    objects
        .into_iter()
        .enumerate()
        .map(|(index, name)| {
            let object = (rule.kind != ObjectKind::Pan).then_some((index, name));
            Judged { rule, sweep, object }.judge()
        })
        .collect()
}

/// Reads what a rule asks at the stated values, for all its objects, as far as its condition is not false.
pub(super) fn read_first(rule: &Rule, stated: &Situation) {
    let Ok(objects) = stated.objects(rule.kind) else { return };
    for index in 0..objects.len() {
        let object = (rule.kind != ObjectKind::Pan).then_some((rule.kind, index));
        if let Some(condition) = &rule.when
            && !matches!(judge_condition(condition, stated, object), Truth::True)
        {
            continue;
        }
        let formulas = [Some(&rule.measure), rule.at_least.as_ref(), rule.at_most.as_ref()];
        for formula in formulas.into_iter().flatten() {
            let _ = evaluate(formula, stated, object);
        }
    }
}

/// The worst verdict over a rule's objects and nothing else: for the many questions of a proof. Every standard
/// uncertainty is taken so many times as large as stated; `unread` is the verdict where something is unknown.
pub(crate) fn worst_verdict(rule: &Rule, sweep: &Sweep, factor: f64, unread: Verdict) -> Verdict {
    let Ok(objects) = sweep.nominal.objects(rule.kind) else { return unread };
    let of_object = |(index, name)| {
        let object = (rule.kind != ObjectKind::Pan).then_some((index, name));
        Judged { rule, sweep, object }.verdict_alone(factor).unwrap_or(unread)
    };
    let verdicts = objects.into_iter().enumerate().map(of_object);
    verdicts.max_by_key(|verdict| gravity(*verdict)).unwrap_or(Verdict::NotApplicable)
}

/// The gravest verdict over a rule's objects, as a review would have it.
pub(crate) fn gravest(rule: &Rule, sweep: &Sweep) -> Verdict {
    let verdicts = judge(rule, sweep).into_iter().map(|finding| finding.verdict);
    verdicts.max_by_key(|verdict| gravity(*verdict)).unwrap_or(Verdict::NotApplicable)
}

/// How grave a verdict of one rule is beside others of it.
pub(crate) fn gravity(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::NotApplicable => 0,
        Verdict::Conforms | Verdict::Conceded => 1,
        Verdict::Inconclusive => 2,
        Verdict::Advisory => 3,
        Verdict::DoesNotConform => 4,
        Verdict::NotJudged => 5,
    }
}

struct Judged<'a> {
    rule: &'a Rule,
    sweep: &'a Sweep,
    object: Option<(usize, String)>,
}

impl Judged<'_> {
    fn key(&self) -> Option<(ObjectKind, usize)> {
        self.object.as_ref().map(|(index, _)| (self.rule.kind, *index))
    }

    fn judge(&self) -> Finding {
        if let Some(condition) = &self.rule.when {
            match judge_condition(condition, &self.sweep.nominal, self.key()) {
                Truth::True => {}
                Truth::False => {
                    let when = self.rule.doc.when.as_ref().map_or("", |w| &w.text);
                    return self.not_applicable(format!("its condition is not met: {when}"));
                }
                Truth::Unknown(unknown) => return self.unknown(&unknown),
            }
        }
        match self.measured() {
            Ok(finding) => finding,
            Err(unknown) => self.unknown(&unknown),
        }
    }

    /// As [`Judged::judge`], for the verdict alone.
    fn verdict_alone(&self, factor: f64) -> Result<Verdict, Unknown> {
        if let Some(condition) = &self.rule.when {
            match judge_condition(condition, &self.sweep.nominal, self.key()) {
                Truth::True => {}
                Truth::False => return Ok(Verdict::NotApplicable),
                Truth::Unknown(unknown) => return Err(unknown),
            }
        }
        let margin = |(side, formula, _)| {
            let of = |situation: &_| self.margin_at(situation, side, formula);
            Ok(margin_of(self.sweep.propagate_times(factor, of)?.0))
        };
        let margins = self.sides().map(margin).collect::<Result<Vec<_>, Unknown>>()?;
        Ok(self.verdict(decide(self.rule.decision, &margins)))
    }

    fn measured(&self) -> Result<Finding, Unknown> {
        let (reading, _) = self.propagate(&self.rule.measure)?;
        let mut finding = self.blank(Verdict::NotJudged);
        finding.reading = Some(reading);
        let mut deciding: Option<(f64, Vec<Contribution>, LimitSide)> = None;
        let mut margins = Vec::new();
        for (side, formula, scalar) in self.sides() {
            let (limit, margin, contributions) = self.limit(side, formula)?;
            let worth = margin.bounds.low - guard_factor(self.rule.decision) * margin.u_low;
            if deciding.as_ref().is_none_or(|(least, ..)| worth < *least) {
                deciding = Some((worth, contributions, side));
            }
            margins.push(margin_of(margin));
            let factor = guard_factor(self.rule.decision);
            finding.limits.push(LimitReading {
                side,
                text: scalar.text.clone(),
                span: scalar.span,
                value: Some(limit),
                margin: Some(margin),
                guard: Some(
                    factor
                        * if margin.u_low >= margin.u_high { margin.u_low } else { margin.u_high },
                ),
            });
        }
        finding.verdict = self.verdict(decide(self.rule.decision, &margins));
        if let Some((_, contributions, side)) = deciding {
            self.explain(&mut finding, contributions, side);
        }
        Ok(finding)
    }

    fn verdict(&self, standing: Standing) -> Verdict {
        match (standing, self.rule.doc.force.value) {
            (Standing::Inside, _) => Verdict::Conforms,
            (Standing::Outside, Force::Shall) => Verdict::DoesNotConform,
            (Standing::Outside, Force::Should) => Verdict::Advisory,
            (Standing::Between, _) => Verdict::Inconclusive,
        }
    }

    /// Who moves the margin, and what would settle an open question.
    fn explain(&self, finding: &mut Finding, contributions: Vec<Contribution>, side: LimitSide) {
        let breached = matches!(
            finding.verdict,
            Verdict::DoesNotConform | Verdict::Advisory | Verdict::Inconclusive
        );
        finding.contributions = contributions;
        if breached && finding.contributions.is_empty() {
            let formula = self.sides().find(|(s, ..)| *s == side).map(|(_, formula, _)| formula);
            if let Some(limit) = formula {
                finding.contributions =
                    self.sweep.last_digits(|situation| self.margin_at(situation, side, limit));
            }
        }
        if breached {
            finding.driver = finding
                .contributions
                .first()
                .filter(|first| first.span != finding.subject)
                .cloned();
        }
        if finding.verdict == Verdict::Inconclusive {
            finding.reason = straddles(finding);
            // Nothing that is measured better closes a bound that is open, for a state could not be read or a formula
            // tells one side only; nor bounds that lie on both sides of the limit, beyond all that is uncertain.
            let factor = guard_factor(self.rule.decision);
            let open = |limit: &LimitReading| {
                limit.margin.is_some_and(|margin| {
                    let Bounds { low, high } = margin.bounds;
                    low.is_infinite()
                        || (low + factor * margin.u_low < 0.0
                            && high - factor * margin.u_high > 0.0)
                })
            };
            if !finding.limits.iter().any(open) {
                finding.needs = needs_of(&finding.contributions);
            }
        }
    }

    fn sides(&self) -> impl Iterator<Item = (LimitSide, &Formula, &Scalar)> {
        let rule = self.rule;
        let least = rule.at_least.as_ref().zip(rule.doc.at_least.as_ref());
        let most = rule.at_most.as_ref().zip(rule.doc.at_most.as_ref());
        least
            .map(|(f, s)| (LimitSide::AtLeast, f, s))
            .into_iter()
            .chain(most.map(|(f, s)| (LimitSide::AtMost, f, s)))
    }

    fn propagate(&self, formula: &Formula) -> Result<(Reading, Vec<Contribution>), Unknown> {
        self.sweep.propagate(|situation| Ok(evaluate(formula, situation, self.key())?.bounds))
    }

    /// Limit, margin and what moves the margin. The margin is propagated as one quantity, so that what measure
    /// and limit share cancels.
    fn limit(
        &self,
        side: LimitSide,
        limit: &Formula,
    ) -> Result<(Reading, Reading, Vec<Contribution>), Unknown> {
        let (value, _) = self.propagate(limit)?;
        let (margin, contributions) =
            self.sweep.propagate(|situation| self.margin_at(situation, side, limit))?;
        Ok((value, margin, contributions))
    }

    fn margin_at(
        &self,
        situation: &Situation,
        side: LimitSide,
        limit: &Formula,
    ) -> Result<Bounds, Unknown> {
        margin_at((&self.rule.measure, limit), side, situation, self.key())
    }

    fn not_applicable(&self, reason: String) -> Finding {
        Finding { reason, ..self.blank(Verdict::NotApplicable) }
    }

    fn unknown(&self, unknown: &Unknown) -> Finding {
        let mut finding = self.blank(Verdict::Inconclusive);
        finding.reason.clone_from(&unknown.reason);
        finding.needs = unknown.missing.iter().map(need_of).collect();
        let missing = unknown.missing.first().map(|missing| missing.within);
        finding.subject = missing.or(unknown.at).unwrap_or(finding.subject);
        finding
    }

    fn blank(&self, verdict: Verdict) -> Finding {
        let doc = &self.rule.doc;
        let sample = self.first_sample();
        let object =
            self.object.as_ref().map(|(_, name)| format!("{}.{name}", self.rule.kind.family()));
        Finding {
            rule: doc.id.text.clone(),
            title: doc.title.text.clone(),
            force: doc.force.value,
            object,
            verdict,
            measure: doc.measure.text.clone(),
            dimension: self.rule.measure.dimension,
            reading: None,
            limits: Vec::new(),
            decision: self.rule.decision,
            subject: sample.as_ref().map_or_else(|| self.whole(), |s| s.subject),
            driver: None,
            contributions: Vec::new(),
            worst: sample.as_ref().and_then(|s| s.worst.clone()),
            states: sample.as_ref().map(|s| s.states.clone()).unwrap_or_default(),
            reason: String::new(),
            needs: Vec::new(),
            notes: self
                .rule
                .notes
                .iter()
                .cloned()
                .chain(sample.into_iter().flat_map(|s| s.notes))
                .collect(),
            because: doc.because.text.clone(),
            source: doc.source.text.clone(),
            remedy: doc.remedy.as_ref().map(|t| t.text.clone()),
            computed: None,
            caution: doc.caution.as_ref().map(|t| t.text.clone()),
            rule_span: doc.id.span,
            acceptance: None,
            remarks: Vec::new(),
        }
    }

    /// The place that stands for the whole pan: the key that says the kind.
    fn whole(&self) -> Span {
        super::documents::kind_key(self.sweep.pan_node())
    }

    /// What the first measure of the formula says at the stated values: subject, worst state, notes.
    fn first_sample(&self) -> Option<Sample> {
        let (spec, object) = first_measure(&self.rule.measure)
            .map(|spec| (spec, self.key().filter(|(kind, _)| *kind == spec.kind)))?;
        let index = object.map_or(0, |(_, index)| index);
        self.sweep.nominal.own.outcome(spec, index).as_ref().as_ref().ok().cloned()
    }
}

/// Measure minus limit, or limit minus measure: not negative is inside.
///
/// # Errors
/// Says why one of them, or the difference, has no value.
pub(crate) fn margin_at(
    (measure, limit): (&Formula, &Formula),
    side: LimitSide,
    situation: &Situation,
    object: Option<(ObjectKind, usize)>,
) -> Result<Bounds, Unknown> {
    let measure = evaluate(measure, situation, object)?.bounds;
    let limit = evaluate(limit, situation, object)?.bounds;
    let minus = |a: Bounds, b: Bounds| Bounds { low: a.low - b.high, high: a.high - b.low };
    let margin = match side {
        LimitSide::AtLeast => minus(measure, limit),
        LimitSide::AtMost => minus(limit, measure),
    };
    if margin.low.is_nan() || margin.high.is_nan() {
        return Err(Unknown::because("measure and limit are both without bound"));
    }
    Ok(margin)
}

fn margin_of(reading: Reading) -> Margin {
    Margin {
        low: reading.bounds.low,
        high: reading.bounds.high,
        u_low: reading.u_low,
        u_high: reading.u_high,
    }
}

/// The first measure of a formula that is this pan's own.
fn first_measure(formula: &Formula) -> Option<&'static crate::measure::Spec> {
    match &formula.kind {
        FormulaKind::Measure(spec) => Some(spec),
        FormulaKind::Number(_) | FormulaKind::Call(Function::Baseline | Function::Spread, _) => {
            None
        }
        FormulaKind::Negative(inner) => first_measure(inner),
        FormulaKind::Binary(_, left, right) => first_measure(left).or_else(|| first_measure(right)),
        FormulaKind::Call(_, arguments) => arguments.iter().find_map(first_measure),
    }
}

fn straddles(finding: &Finding) -> String {
    let bounded = finding.reading.is_some_and(|r| r.bounds.value().is_none());
    if bounded {
        "the reading is known only within bounds, and these do not settle it".to_owned()
    } else {
        "the uncertainty reaches across the limit".to_owned()
    }
}

fn needs_of(contributions: &[Contribution]) -> Vec<Need> {
    let mut list: Vec<&Contribution> = contributions.iter().collect();
    // A stable sort: what is only assumed comes first, the rest stays by size of effect.
    list.sort_by_key(|c| !c.assumed);
    list.into_iter()
        .take(NEEDS)
        .map(|c| Need { path: c.path.clone(), span: c.span, how_to_get: c.how_to_get.to_owned() })
        .collect()
}

fn need_of(missing: &Missing) -> Need {
    Need {
        path: missing.path.clone(),
        span: missing.within,
        how_to_get: field_of_path(&missing.path)
            .map_or_else(String::new, |f| f.how_to_get.to_owned()),
    }
}
