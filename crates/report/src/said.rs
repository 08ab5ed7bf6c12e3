//! The phrases in which numbers, limits and states are said, the same wherever they occur.

use crate::deciding;
use crate::scale::{Scale, coarser, is_plain};
use sumpwright_core::document::rulebook::Decision;
use sumpwright_core::measure::{StateValue, Worst};
use sumpwright_core::quantity::{Dimension, print_amount};
use sumpwright_core::review::{
    ChecklistHeld, ClauseHeld, Contribution, Finding, LimitReading, LimitSide, PanHeld, Reading,
};
use sumpwright_core::verdict::Verdict;

/// Said once under every review that holds something against a pan, or leaves something open.
pub(crate) const CAUTIONS: &str = "This review holds a description against rules; it approves no part and no \
vehicle. The vehicle maker's manual, local codes and licensed practice come first. Never go under a \
vehicle that only a jack holds: rated stands, hard level ground, wheels chocked. With the engine \
running keep clear of fans, shafts and exhaust. Fluid at 80 to 120 degC scalds: let it cool, wear \
gloves and eye protection, keep it off a hot exhaust. An inlet that uncovers can cost drive, and with \
it control, on a slope: do not try out margins there, least of all with people around.";

/// Between a number and its unit, so that no line ends there.
pub(crate) const GLUE: char = '\u{a0}';

/// Rule id and object path: what a finding is called everywhere.
pub(crate) fn identity(finding: &Finding) -> String {
    match &finding.object {
        Some(object) => format!("{} · {object}", finding.rule),
        None => finding.rule.clone(),
    }
}

/// What is said at the subject: it has to make sense alone.
pub(crate) fn in_short(finding: &Finding, scale: &Scale) -> String {
    let limit = deciding::deciding(finding);
    let parts = finding.reading.as_ref().zip(limit).and_then(|(r, l)| Some((r, l, l.margin?)));
    let Some((_, limit, margin)) = parts else {
        return if finding.reason.is_empty() {
            finding.verdict.words().to_owned()
        } else {
            finding.reason.clone()
        };
    };
    let value = value(finding, scale);
    // A measure's name says what the number is; a formula would be too long here.
    let value = if finding.measure.contains(' ') {
        format!("{value} computed")
    } else {
        format!("{} is {value}", finding.measure)
    };
    let beside = beside(&margin, limit.side, scale);
    let sure = match limit.guard {
        // Of bounds round a limit, no uncertainty that is taken off decides.
        Some(guard)
            if finding.verdict == Verdict::Inconclusive
                && guard > 0.0
                && margin.bounds.value().is_some() =>
        {
            format!(", sure only beyond {}", glued(&scale.size(guard)))
        }
        _ => String::new(),
    };
    format!("{value}, {beside}{sure}")
}

/// What was computed, with its uncertainty.
pub(crate) fn computed(finding: &Finding, scale: &Scale) -> Option<String> {
    let reading = finding.reading.as_ref()?;
    Some(match reading.bounds.value() {
        Some(_) => glued(&scale.with_u(value(finding, scale), coarser(reading))),
        None => glued(&scale.reading(reading)),
    })
}

/// What was computed, beside the limit that decides.
fn value(finding: &Finding, scale: &Scale) -> String {
    let Some(reading) = finding.reading else { return "not known".to_owned() };
    let u = coarser(&reading);
    let limit = deciding::deciding(finding).and_then(|l| l.value?.bounds.value());
    glued(&match (reading.bounds.value(), limit) {
        (Some(value), Some(limit)) => scale.against(value, limit, u),
        _ => scale.bounds(reading.bounds, u),
    })
}

/// `18.5 mm short`, `385 MPa over`, `2.0 mm to spare`.
fn beside(margin: &Reading, side: LimitSide, scale: &Scale) -> String {
    let u = coarser(margin);
    let print = |value: f64| glued(&scale.difference(value.abs(), u));
    let outside = match side {
        LimitSide::AtLeast => "short",
        LimitSide::AtMost => "over",
    };
    match (margin.bounds.value(), margin.bounds.low, margin.bounds.high) {
        (Some(value), ..) if value < 0.0 => glued(&format!("{} {outside}", print(value))),
        (Some(value), ..) => glued(&format!("{} to spare", print(value))),
        (None, _, high) if high < 0.0 => format!("at least {} {outside}", print(high)),
        (None, low, _) if low >= 0.0 => format!("at least {} to spare", print(low)),
        _ => "with the limit between the bounds".to_owned(),
    }
}

/// A margin in full: what is left, or what is lacking, with its uncertainty.
pub(crate) fn margin(margin: &Reading, side: LimitSide, scale: &Scale) -> String {
    let u = coarser(margin);
    let said = beside(margin, side, scale);
    if u > 0.0 { format!("{said} {}", glued(&format!("(u {})", scale.size(u)))) } else { said }
}

/// `at least 10 mm`; a formula with the value it came to.
pub(crate) fn limit(finding: &Finding, limit: &LimitReading, scale: &Scale) -> String {
    let side = match limit.side {
        LimitSide::AtLeast => "at least",
        LimitSide::AtMost => "at most",
    };
    if is_plain(limit) {
        return format!("{side} {}", glued(&limit.text));
    }
    let Some(value) = &limit.value else { return format!("{side} {}", limit.text) };
    let printed = match (value.bounds.value(), finding.reading.and_then(|r| r.bounds.value())) {
        (Some(limit), Some(reading)) => {
            let u = coarser(value);
            scale.with_u(scale.against(limit, reading, u), u)
        }
        _ => scale.reading(value),
    };
    format!("{side} {} = {}", limit.text, glued(&printed))
}

/// What an input does to a value: `± 2.2 mm`.
pub(crate) fn effect(of: &Contribution, scale: &Scale) -> String {
    let moved = bare_effect(of, scale);
    if of.of_last_digit {
        format!("{moved} for one of its last digit, taken as exact")
    } else {
        moved
    }
}

/// As [`effect`], where what is said over it tells a last digit from an uncertainty.
pub(crate) fn bare_effect(of: &Contribution, scale: &Scale) -> String {
    let printed = glued(&scale.size(of.effect));
    if of.of_last_digit {
        return printed;
    }
    let moved = glued(&format!("± {printed}"));
    if of.assumed { format!("{moved}, only assumed") } else { moved }
}

/// The state that decides, for a swept one where in it, with the oil's temperature.
pub(crate) fn worst(worst: &Worst) -> String {
    let point = Dimension { temperature: 1, point: true, ..Dimension::default() };
    let at = print_amount(worst.oil_temperature, 0.0, point);
    let point = worst.point.as_ref().map(|point| format!(" at {}", glued(point)));
    format!("{}{}, oil at {}", worst.state, point.unwrap_or_default(), glued(&at))
}

/// A state and what came out there, with the digits that an uncertainty deserves.
pub(crate) fn state(state: &StateValue, u: f64, scale: &Scale) -> String {
    let value = match &state.bounds {
        Ok(bounds) => glued(&scale.bounds(*bounds, u)),
        Err(unknown) => format!("not known: {}", unknown.reason),
    };
    format!("{}: {value}", worst(&state.at))
}

/// How the margin to a limit was decided: what was taken off, and where the rule is met.
pub(crate) fn decided(finding: &Finding, limit: &LimitReading, scale: &Scale) -> String {
    let decision = decision(finding.decision);
    match (limit.guard, limit.value.and_then(|value| value.bounds.value())) {
        (Some(guard), Some(value)) if guard > 0.0 => {
            let (accepted, side) = match limit.side {
                LimitSide::AtLeast => (value + guard, "or more"),
                LimitSide::AtMost => (value - guard, "or less"),
            };
            let taken = glued(&scale.size(guard));
            let accepted = glued(&scale.value(accepted, guard));
            format!("{decision}: {taken} taken off, so it conforms at {accepted} {side}")
        }
        _ => format!("{decision}: nothing taken off"),
    }
}

/// A decision rule in words.
pub(crate) fn decision(decision: Decision) -> String {
    match decision {
        Decision::Guarded => "guarded, one-sided 95 %".to_owned(),
        Decision::Simple => "simple acceptance".to_owned(),
        Decision::Probability(p) => format!("probability of conformity at least {}", percent(p)),
    }
}

fn percent(share: f64) -> String {
    let text = format!("{:.2}", share * 100.0);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{text} %")
}

/// Counts by verdict, those that are zero left out: `2 do not conform, 1 inconclusive`.
pub(crate) fn counts(counts: &[(Verdict, usize)]) -> String {
    let parts: Vec<_> = counts
        .iter()
        .filter(|(_, count)| *count > 0)
        .map(|(verdict, count)| glued(&format!("{count} {}", plural(*verdict, *count))))
        .collect();
    if parts.is_empty() { "no verdict".to_owned() } else { parts.join(", ") }
}

fn plural(verdict: Verdict, count: usize) -> &'static str {
    match (verdict, count) {
        (Verdict::DoesNotConform, 2..) => "do not conform",
        (Verdict::Conforms, 2..) => "conform",
        _ => verdict.words(),
    }
}

/// `1 rule`, `2 rules`.
pub(crate) fn number_of(count: usize, thing: &str) -> String {
    if count == 1 { format!("1 {thing}") } else { format!("{count} {thing}s") }
}

/// A quantity as one word, so that number and unit stay on one line.
pub(crate) fn glued(text: &str) -> String {
    text.replace(' ', &GLUE.to_string())
}

/// A phrase with ordinary blanks, for formats that do not wrap.
pub(crate) fn unglued(text: &str) -> String {
    text.replace(GLUE, " ")
}

/// What a clause is called: its number in the customer's text, or its name.
pub(crate) fn clause_name(clause: &ClauseHeld) -> &str {
    clause.number.as_deref().unwrap_or(&clause.name)
}

/// What answers a clause, in words.
pub(crate) fn answered_by(clause: &ClauseHeld) -> String {
    let mut parts: Vec<String> = Vec::new();
    for answer in &clause.rules {
        let object = answer.object.as_ref().map_or_else(String::new, |of| format!(" on {of}"));
        parts.push(format!("{}{object}: {}", answer.rule, answer.verdict.words()));
    }
    parts.extend(clause.evidence.as_ref().map(|found| {
        format!("{} (SHA-256 {}, checked; not read): {}", found.path, found.sha256, found.shows)
    }));
    parts.extend(
        clause.statement.as_ref().map(|said| {
            format!("{}, {}, on {}: “{}”", said.by, said.function, said.on, said.words)
        }),
    );
    if parts.is_empty() { "nothing answers it".to_owned() } else { parts.join("; ") }
}

/// What a list comes to on a pan, in a sentence.
pub(crate) fn checklist_outcome(pan: &PanHeld) -> String {
    let binding = pan.clauses.iter().filter(|clause| clause.binding).count();
    let open: Vec<&str> =
        pan.clauses.iter().filter(|clause| clause.is_against()).map(clause_name).collect();
    let whole = number_of(binding, "binding clause");
    if binding == 0 {
        "no clause is binding.".to_owned()
    } else if open.is_empty() {
        format!("nothing is open of {whole}.")
    } else {
        format!("of {whole}, {} not shown to be met: {}.", open.len(), open.join(", "))
    }
}

/// What a list comes to on all pans, in a sentence.
pub(crate) fn checklist_summary(list: &ChecklistHeld) -> String {
    let is_open = |pan: &&PanHeld| pan.clauses.iter().any(ClauseHeld::is_against);
    let open = list.pans.iter().filter(is_open).count();
    let pans = number_of(list.pans.len(), "pan");
    match open {
        0 => format!("{}: nothing that is binding is open on {pans}.", list.title),
        _ => format!("{}: {open} of {pans} not shown to meet what is binding.", list.title),
    }
}
