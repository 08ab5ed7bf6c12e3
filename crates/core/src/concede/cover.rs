//! What a concession covers of the findings of one pan, and why it does not cover what it was meant for.

use super::against::fault;
use crate::document::concessions::{Bound, ConcessionDoc, ConcessionKind};
use crate::document::date::Date;
use crate::document::object::Stage;
use crate::quantity::print_in;
use crate::review::{
    Acceptance, ConcessionFault, ConcessionFinding, Finding, LimitReading, LimitSide, PanReview,
};
use crate::source::{Code, Diagnostic};
use crate::verdict::{Margin, Standing, Verdict, decide, guard_factor};

/// What came of one entry.
#[derive(Debug, Default)]
pub(super) struct Covered {
    pub(super) findings: Vec<ConcessionFinding>,
    pub(super) problem: Option<Diagnostic>,
}

/// Marks the findings of a pan that an entry bears on.
pub(super) fn cover(
    entry: &ConcessionDoc,
    pan: &mut PanReview,
    (on, state): (Date, Option<Stage>),
) -> Covered {
    let mut covered = Covered::default();
    if let Some(finding) = pan.findings.iter().find(|finding| is_of_other_dimension(entry, finding))
    {
        covered.problem = Some(wrong_dimension(entry, finding));
        return covered;
    }
    let path = pan.path.clone();
    let stopped = not_now(entry, on).or_else(|| wrong_kind(entry, state));
    let mut meant = 0;
    for finding in pan.findings.iter_mut().filter(|finding| is_meant(entry, finding)) {
        let already = finding.acceptance.as_ref().is_some_and(|other| other.refused.is_none());
        if already || !is_breach(finding.verdict) && finding.verdict != Verdict::Inconclusive {
            continue;
        }
        let refused = match &stopped {
            Some((_, message, _)) => Some(message.clone()),
            None => refusal(entry, finding),
        };
        meant += 1;
        if stopped.is_none()
            && is_breach(finding.verdict)
            && let Some(message) = &refused
        {
            covered.findings.push(exceeded(entry, &path, finding, message));
        }
        mark(entry, finding, refused);
    }
    match stopped {
        Some((kind, message, help)) => {
            let span = if kind == ConcessionFault::WrongKind {
                entry.kind.span
            } else {
                entry.expires.span
            };
            let span = if kind == ConcessionFault::NotInForce { entry.from.span } else { span };
            covered.findings.push(fault(entry, &path, kind, (message, span), help));
        }
        None if meant == 0 => covered.findings.extend(unused(entry, pan)),
        None => {}
    }
    covered
}

/// Whether an entry is for the rule and the object of a finding.
pub(super) fn is_meant(entry: &ConcessionDoc, finding: &Finding) -> bool {
    let object = entry.object.as_ref().map(|object| object.text.as_str());
    finding.rule == entry.rule.text && (object.is_none() || finding.object.as_deref() == object)
}

fn is_breach(verdict: Verdict) -> bool {
    matches!(verdict, Verdict::DoesNotConform | Verdict::Advisory)
}

fn is_of_other_dimension(entry: &ConcessionDoc, finding: &Finding) -> bool {
    finding.rule == entry.rule.text && finding.dimension != entry.bound.unit.dimension
}

fn wrong_dimension(entry: &ConcessionDoc, finding: &Finding) -> Diagnostic {
    let (measured, bound) = (finding.dimension.name(), entry.bound.unit.dimension.name());
    let message = format!("{} measures {measured}, and the bound is {bound}", finding.rule);
    let unit = finding.dimension.usual_symbol();
    let help = if unit.is_empty() {
        "write a plain number".to_owned()
    } else {
        format!("write it in {unit}, or in another unit of the same kind")
    };
    Diagnostic::error(Code::WrongDimension, entry.bound.span, message).help(help)
}

type Stopped = (ConcessionFault, String, String);

/// Whether the day is outside its term.
fn not_now(entry: &ConcessionDoc, on: Date) -> Option<Stopped> {
    let renew =
        "mend what it was for, or have it accepted anew under another name; then take it out";
    if on > entry.expires.date {
        let message = format!("it ended on {}, and this review is of {on}", entry.expires.date);
        return Some((ConcessionFault::Expired, message, renew.to_owned()));
    }
    (on < entry.from.date).then(|| {
        let message = format!("it holds from {}, and this review is of {on}", entry.from.date);
        let help = "review by a day from which it holds, or mend what it is for";
        (ConcessionFault::NotInForce, message, help.to_owned())
    })
}

/// A deviation permit is given before a pan is made, a concession after.
fn wrong_kind(entry: &ConcessionDoc, state: Option<Stage>) -> Option<Stopped> {
    let wanted = match entry.kind.value {
        ConcessionKind::Concession => Stage::AsMade,
        ConcessionKind::DeviationPermit => Stage::AsDesigned,
    };
    if state == Some(wanted) {
        return None;
    }
    let words = |stage| match stage {
        Stage::AsMade => "as made",
        Stage::AsDesigned => "as designed",
    };
    let kind = entry.kind.value.words();
    let is = state.map_or("does not say which it is", |stage| match stage {
        Stage::AsMade => "is one as made",
        Stage::AsDesigned => "is one as designed",
    });
    let message = format!("a {kind} is for a pan {}, and this pan {is}", words(wanted));
    let help = match state {
        None => {
            format!("add `object: {{ state: {} }}` to the pan if that is what it is", words(wanted))
        }
        Some(_) => "have it accepted as the other kind, or state the pan as what it is".to_owned(),
    };
    Some((ConcessionFault::WrongKind, message, help))
}

/// Why an entry does not cover a finding that it is for; nothing where it does.
fn refusal(entry: &ConcessionDoc, finding: &Finding) -> Option<String> {
    if finding.verdict == Verdict::Inconclusive && !entry.also_inconclusive {
        return Some("it is not for what cannot be decided".to_owned());
    }
    let Some(margin) = margin_to(&entry.bound, finding) else {
        return Some("there is no value to hold against its bound".to_owned());
    };
    let bound = &entry.bound.text;
    match decide(finding.decision, &[margin]) {
        Standing::Inside => None,
        Standing::Outside => Some(format!("the value is worse than its bound of {bound}")),
        Standing::Between => {
            Some(format!("with its uncertainty the value could be worse than the bound of {bound}"))
        }
    }
}

/// The limit that decides: the one with the least margin.
pub(super) fn deciding(finding: &Finding) -> Option<(&LimitReading, f64)> {
    let mut least: Option<(f64, &LimitReading, f64)> = None;
    for limit in &finding.limits {
        let (Some(margin), Some(value)) = (limit.margin, limit.value) else { continue };
        let breach = finding.acceptance.as_ref().map_or(finding.verdict, |a| a.without);
        let reached = if is_breach(breach) { margin.bounds.high } else { margin.bounds.low };
        if least.is_none_or(|(value, ..)| reached < value) {
            least = Some((reached, limit, f64::midpoint(value.bounds.low, value.bounds.high)));
        }
    }
    least.map(|(_, limit, value)| (limit, value))
}

/// How far within its bound the value is: not negative is within.
fn margin_to(bound: &Bound, finding: &Finding) -> Option<Margin> {
    let reading = finding.reading?;
    let (limit, _) = deciding(finding)?;
    let (low, high) = (reading.bounds.low, reading.bounds.high);
    Some(match limit.side {
        LimitSide::AtMost => Margin {
            low: bound.value - high,
            high: bound.value - low,
            u_low: reading.u_high,
            u_high: reading.u_low,
        },
        LimitSide::AtLeast => Margin {
            low: low - bound.value,
            high: high - bound.value,
            u_low: reading.u_low,
            u_high: reading.u_high,
        },
    })
}

/// The value with what the decision rule takes off: the tightest bound that would do.
pub(super) fn tightest(finding: &Finding) -> Option<f64> {
    let reading = finding.reading?;
    let factor = guard_factor(finding.decision);
    let (limit, _) = deciding(finding)?;
    let value = match limit.side {
        LimitSide::AtMost => reading.bounds.high + factor * reading.u_high,
        LimitSide::AtLeast => reading.bounds.low - factor * reading.u_low,
    };
    value.is_finite().then_some(value)
}

fn exceeded(
    entry: &ConcessionDoc,
    pan: &str,
    finding: &Finding,
    message: &str,
) -> ConcessionFinding {
    let help = match tightest(finding) {
        Some(value) => {
            let reaches = print_in(value, 0.0, &entry.bound.unit);
            format!(
                "the value with its uncertainty reaches {reaches}: mend it, or have the departure \
                     accepted anew with a bound that holds"
            )
        }
        None => "state what the value needs, or mend it".to_owned(),
    };
    let kind = ConcessionFault::Exceeded;
    let mut found = fault(entry, pan, kind, (message.to_owned(), entry.bound.span), help);
    found.object.clone_from(&finding.object);
    found.other = Some((finding.subject, "the value comes of this".to_owned()));
    found
}

/// Marks a finding; only one that is covered changes its verdict.
fn mark(entry: &ConcessionDoc, finding: &mut Finding, refused: Option<String>) {
    let without = finding.verdict;
    if refused.is_none() {
        finding.verdict = Verdict::Conceded;
    }
    finding.acceptance = Some(Acceptance {
        name: entry.name.text.clone(),
        kind: entry.kind.value,
        span: entry.name.span,
        reason: entry.reason.text.clone(),
        by: entry.by.text.clone(),
        function: entry.function.text.clone(),
        from: entry.from.date,
        expires: entry.expires.date,
        bound: entry.bound.text.clone(),
        quantity: entry.quantity.as_ref().map(|count| count.value),
        serials: entry.serials.iter().map(|serial| serial.text.clone()).collect(),
        purpose: entry.purpose.as_ref().map(|text| text.text.clone()),
        without,
        refused,
    });
}

/// Nothing needs it; not said where the rule could not be judged, since then nobody knows.
fn unused(entry: &ConcessionDoc, pan: &PanReview) -> Option<ConcessionFinding> {
    let of_rule = || pan.findings.iter().filter(|finding| finding.rule == entry.rule.text);
    if of_rule().any(|finding| finding.verdict == Verdict::NotJudged) {
        return None;
    }
    let meant: Vec<&Finding> = of_rule().filter(|finding| is_meant(entry, finding)).collect();
    let other = meant.iter().find_map(|f| f.acceptance.as_ref().map(|a| a.name.clone()));
    let (message, span) = match (other, meant.first(), &entry.object) {
        (Some(other), ..) => (format!("`{other}` covers it already"), entry.name.span),
        (None, None, Some(object)) => {
            (format!("the rule has no finding on {}", object.text), object.span)
        }
        (None, Some(finding), _) => {
            (format!("the rule's verdict is `{}`", finding.verdict.words()), entry.rule.span)
        }
        (None, None, None) => ("the rule has no finding on this pan".to_owned(), entry.rule.span),
    };
    let objects: Vec<&str> = of_rule().filter_map(|finding| finding.object.as_deref()).collect();
    let near = entry.object.as_ref().filter(|_| meant.is_empty());
    let help = match near.and_then(|object| crate::source::nearest(&object.text, objects)) {
        Some(near) => {
            format!("did you mean `{near}`? take the entry out if nothing needs it any more")
        }
        None => {
            "take the entry out; what is accepted without need hides what comes later".to_owned()
        }
    };
    Some(fault(entry, &pan.path, ConcessionFault::Unused, (message, span), help))
}
